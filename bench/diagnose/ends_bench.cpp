// Where a dead cable ends: the interval of the diagnosis against the truth, at the same readings in every
// visit. Whether the cause stands first does not matter here, only whether nine in ten ends lie between the
// 5 % and the 95 % that are stated. Table on standard output, a line for each visit on standard error.
//   diagnose_ends_bench OPTIONS: options.hpp
// --check: exit 1 when fewer ends are inside than a rate of nine in ten falls to once in 1 000 times, or when
// the intervals say little more than that the cable ends somewhere.
#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iostream>

#include "forecast/ensemble.hpp"
#include "options.hpp"
#include "plan/decide.hpp"
#include "technician.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::Cause;
using prove::What;

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

Visit visit_of(int number, const VisitOptions& options) {
  const std::uint64_t seed = seed_of(number, options);
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

double median(std::vector<double> values) {
  std::ranges::sort(values);
  return values[values.size() / 2];
}

/// Of the stated intervals, as shares of the cable.
double median_width(const std::vector<Visit>& visits, std::size_t step) {
  std::vector<double> width;
  for (const Visit& visit : visits)
    width.push_back((visit.each[step].high - visit.each[step].low) / visit.whole_m);
  return median(std::move(width));
}

double median_error_m(const std::vector<Visit>& visits, std::size_t step) {
  std::vector<double> error;
  for (const Visit& visit : visits) error.push_back(std::abs(visit.each[step].usual - visit.end_m));
  return median(std::move(error));
}

void print(const std::vector<Visit>& visits) {
  fmt::print(
      std::cout,
      "| read | nearer the feed | inside | farther | median width, share of the cable | median error, m "
      "|\n| --- | --- | --- | --- | --- | --- |\n");
  for (std::size_t step = 0; step < steps.size(); ++step) {
    const auto count = sides(visits, step);
    const double all = static_cast<double>(visits.size());
    fmt::print(std::cout, "| {} | {:.0f} % | {:.0f} % | {:.0f} % | {:.2f} | {:.1f} |\n", steps[step],
               100 * count[0] / all, 100 * count[1] / all, 100 * count[2] / all, median_width(visits, step),
               median_error_m(visits, step));
  }
}

constexpr double stated_frac = 0.9;
/// Who knew nothing but the cable's length would state 0.9 of it.
constexpr double widest_frac = stated_frac / 3;

/// The fewest of `all` to be inside: fewer come once in a thousand times at most if nine in ten are
/// (binomial).
int fewest_inside(int all) {
  double these = std::pow(1 - stated_frac, all), at_most = these;
  int inside = 0;
  for (; at_most < 0.001 && inside < all; ++inside) {
    these *= stated_frac / (1 - stated_frac) * (all - inside) / (inside + 1);
    at_most += these;
  }
  return inside;
}

bool holds(const std::vector<Visit>& visits) {
  const int fewest = fewest_inside(static_cast<int>(visits.size()));
  bool good = true;
  for (std::size_t step = 0; step < steps.size(); ++step) {
    const int inside = sides(visits, step)[1];
    const double width = median_width(visits, step);
    if (inside >= fewest && width <= widest_frac) continue;
    good = false;
    fmt::print(std::cerr, "{}: {} of {} inside, at least {} expected; median width {:.2f}, at most {:.2f}\n",
               steps[step], inside, visits.size(), fewest, width, widest_frac);
  }
  return good;
}

int run(const VisitOptions& options) {
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
  using namespace firstdraw::bench;
  VisitOptions options{.jobs = 100, .samples = 2000, .seed = 11};
  CLI::App app("Where a dead cable ends: the interval of the diagnosis against the truth.");
  add_visit_options(app, options);
  CLI11_PARSE(app, count, words);
  return run(options);
}
