// Where a dead cable ends: the interval of the diagnosis against the truth, at the same readings in every
// visit. Whether the cause stands first does not matter here, only whether nine in ten ends lie between the
// 5 % and the 95 % that are stated. Table on standard output, a line for each visit on standard error.
//   diagnose_ends_bench [--from I] [--jobs N] [--seed S] [--samples K] [--threads T] [--check]
// --check: exit 1 when fewer ends are inside than a rate of nine in ten falls to once in 1 000 times.
#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <string_view>

#include "forecast/ensemble.hpp"
#include "plan/decide.hpp"
#include "technician.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::Cause;
using prove::What;

struct Options {
  int from = 0, jobs = 100, samples = 2000, threads = 1;
  std::uint64_t seed = 11;
  bool check = false;
};

constexpr std::array steps{"current", "and voltage", "and pipe at the feed", "and pipe at the far end",
                           "and capacitance"};

struct Stated {
  double low = 0, usual = 0, high = 0, probability = 0;
};

struct Visit {
  double end_m = 0, whole_m = 0;
  std::array<Stated, steps.size()> each{};
};

/// What is read before each step's diagnosis.
void read_on(Technician& technician, const Building& building, const Planted& planted, std::size_t step,
             std::vector<prove::Reading>& readings) {
  const power::Circuit& circuit = building.plan.circuits[at(planted.circuit)];
  const auto far = std::ranges::find_if(circuit.runs, [&](int run) {
    return building.plan.network.to_node[at(run)] == circuit.far_node ||
           building.plan.network.from_node[at(run)] == circuit.far_node;
  });
  const int far_run = far == circuit.runs.end() ? circuit.runs.back() : *far;
  prove::Proposal asked;
  const std::array what{What::current, What::supply_voltage, What::pipe_temperature, What::pipe_temperature,
                        What::capacitance};
  const std::array place{circuit.id, circuit.id, building.job.runs[at(circuit.runs.front())].id,
                         building.job.runs[at(far_run)].id, circuit.id};
  asked.what = what[step];
  asked.place = place[step];
  for (prove::Reading& reading : technician.measure(asked)) readings.push_back(std::move(reading));
}

Stated stated_of(const prove::Diagnosis& diagnosis) {
  const auto found = std::ranges::find(diagnosis.suspects, Cause::dead_length, &prove::Suspect::cause);
  return {found->value->low, found->value->usual, found->value->high, found->probability};
}

Visit visit_of(int number, const Options& options) {
  const std::uint64_t seed = options.seed * 100003 + static_cast<std::uint64_t>(number);
  const Building building = building_of(number, seed);
  Dice dice(seed);
  const Planted planted = *plant_this(building, Cause::dead_length, dice);
  const Truth truth(building, {planted}, seed);
  Technician technician(building, truth, seed + 17);
  prove::DiagnosisOptions how;
  how.samples = options.samples;
  how.proposals = 0;
  Visit visit;
  visit.end_m = planted.value;
  visit.whole_m = building.plan.circuits[at(planted.circuit)].cable_length_m;
  std::vector<prove::Reading> readings;
  for (std::size_t step = 0; step < steps.size(); ++step) {
    read_on(technician, building, planted, step, readings);
    visit.each[step] = stated_of(prove::diagnose(building.job, building.plan, readings, how));
  }
  return visit;
}

std::string line_of(int number, const Visit& visit) {
  std::string line = fmt::format("{} {:.2f} of {:.2f} m:", number, visit.end_m, visit.whole_m);
  for (const Stated& one : visit.each)
    line += fmt::format(" {:.2f} [{:.2f} {:.2f} {:.2f}]", one.probability, one.low, one.usual, one.high);
  return line + "\n";
}

/// Visits whose end is before the interval, in it, behind it.
std::array<int, 3> sides(const std::vector<Visit>& visits, std::size_t step) {
  std::array<int, 3> count{};
  for (const Visit& visit : visits)
    ++count[visit.end_m < visit.each[step].low ? 0 : visit.end_m > visit.each[step].high ? 2 : 1];
  return count;
}

void print(const std::vector<Visit>& visits) {
  fmt::print(
      std::cout,
      "| read | nearer the feed | inside | farther | median width, share of the cable | median error, m "
      "|\n| --- | --- | --- | --- | --- | --- |\n");
  for (std::size_t step = 0; step < steps.size(); ++step) {
    std::vector<double> width, error;
    for (const Visit& visit : visits) {
      width.push_back((visit.each[step].high - visit.each[step].low) / visit.whole_m);
      error.push_back(std::abs(visit.each[step].usual - visit.end_m));
    }
    std::ranges::sort(width);
    std::ranges::sort(error);
    const auto count = sides(visits, step);
    const double all = static_cast<double>(visits.size());
    fmt::print(std::cout, "| {} | {:.0f} % | {:.0f} % | {:.0f} % | {:.2f} | {:.1f} |\n", steps[step],
               100 * count[0] / all, 100 * count[1] / all, 100 * count[2] / all, width[width.size() / 2],
               error[error.size() / 2]);
  }
}

bool holds(const std::vector<Visit>& visits) {
  const double all = static_cast<double>(visits.size());
  const double least = 0.9 * all - 3.1 * std::sqrt(0.09 * all);
  for (std::size_t step = 0; step < steps.size(); ++step)
    if (sides(visits, step)[1] < least) return false;
  return true;
}

Options options_of(int count, char** words) {
  Options options;
  for (int i = 1; i < count; ++i) {
    const std::string_view word = words[i];
    const auto number = [&] { return ++i < count ? std::atoi(words[i]) : 0; };
    if (word == "--from") options.from = number();
    if (word == "--jobs") options.jobs = number();
    if (word == "--threads") options.threads = number();
    if (word == "--samples") options.samples = number();
    if (word == "--seed") options.seed = static_cast<std::uint64_t>(number());
    if (word == "--check") options.check = true;
  }
  return options;
}

int run(const Options& options) {
  std::vector<Visit> visits;
  forecast::in_order(
      options.threads, static_cast<std::size_t>(options.jobs),
      [&](std::size_t i) { return visit_of(options.from + static_cast<int>(i), options); },
      [&](std::size_t i, Visit& visit) {
        std::cerr << line_of(options.from + static_cast<int>(i), visit);
        visits.push_back(visit);
      });
  print(visits);
  return options.check && !holds(visits) ? 1 : 0;
}

}  // namespace
}  // namespace firstdraw::bench

int main(int count, char** words) {
  return firstdraw::bench::run(firstdraw::bench::options_of(count, words));
}
