// 500 visits to buildings in which something is wrong: the diagnosis against the truth, and its choice of
// measurements against a fixed checklist. Tables on standard output.
//   diagnose_bench OPTIONS: options.hpp and below
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <optional>
#include <string_view>

#include "forecast/ensemble.hpp"
#include "options.hpp"
#include "plan/run_classes.hpp"
#include "score.hpp"
#include "technician.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::Cause;

struct Options : VisitOptions {
  int minutes = 100000;
  bool two = false, only_guided = false, only_checklist = false;
  std::string only;  // visits with this cause planted, and no others
};

std::string_view id_of(Cause cause) {
  return std::ranges::find(prove::cause_help(), cause, &prove::CauseHelp::cause)->id;
}

/// Even odds or better for what is really wrong, of two for either.
bool is_right(const prove::Diagnosis& diagnosis, const Visit& visit) {
  return visit.is_planted(diagnosis.suspects.front().cause) && diagnosis.suspects.front().probability >= 0.5;
}

bool is_along_the_pipe(Cause cause) {
  return cause == Cause::dead_length || cause == Cause::wet_insulation || cause == Cause::missing_insulation;
}

void judge(const Building& building, Visit& visit) {
  const prove::Suspect& top = visit.last.suspects.front();
  const Planted& planted = visit.planted;
  visit.location_error_m = visit.size_error = std::nan("");
  if (top.cause != planted.cause) return;
  const auto& job = building.job;
  const std::string run = job.runs[at(planted.run)].id,
                    circuit = building.plan.circuits[at(planted.circuit)].id,
                    group = job.groups[at(planted.group)].id;
  const std::string space = planted.space == -1 ? "" : job.spaces[at(planted.space)].id;
  visit.place_right = is_along_the_pipe(top.cause) ? top.place == run
                                                   : top.place == circuit || top.place == group ||
                                                         top.place == space || top.place.empty();
  if (!top.value) return;
  visit.inside = planted.value >= top.value->low && planted.value <= top.value->high;
  if (top.cause == Cause::dead_length)
    visit.location_error_m = std::abs(top.value->usual - planted.value);
  else
    visit.size_error = std::abs(top.value->usual - planted.value) / std::max(1e-9, std::abs(planted.value));
}

/// Measures what stands first in `next`, until it is settled or enough was measured.
void guided(const Building& building, Technician technician, prove::DiagnosisOptions how, Visit& visit) {
  std::vector<prove::Reading> readings = technician.complaint();
  for (std::size_t step = 0;; ++step) {
    const auto begin = std::chrono::steady_clock::now();
    visit.each.push_back(prove::diagnose(building.job, building.plan, readings, how));
    visit.seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    const prove::Diagnosis& now = visit.each.back();
    if (is_right(now, visit)) visit.until_right = std::min(visit.until_right, step);
    const bool where = is_along_the_pipe(now.suspects.front().cause);
    if (step == most_measurements || now.next.empty() || (now.settled && !where)) break;
    visit.minutes += now.next.front().minutes;
    for (prove::Reading& reading : technician.measure(now.next.front())) {
      visit.measured += fmt::format(" {} {}={:g}{}", prove::name_of(reading.what), now.next.front().place,
                                    reading.value, reading.text);
      readings.push_back(std::move(reading));
    }
  }
  visit.last = visit.each.back();
}

void by_checklist(const Building& building, Technician technician, prove::DiagnosisOptions how,
                  Visit& visit) {
  how.proposals = 0;
  std::vector<prove::Reading> readings = technician.complaint();
  for (std::size_t step = 0;; ++step) {
    const auto now = prove::diagnose(building.job, building.plan, readings, how);
    visit.checklist_top = now.suspects.front().cause;
    if (is_right(now, visit)) visit.until_right_by_checklist = std::min(visit.until_right_by_checklist, step);
    const auto next = technician.by_checklist(step);
    if (step == most_measurements || !next || now.settled) break;
    readings.push_back(*next);
  }
}

std::optional<Visit> visit_of(int number, const Options& options) {
  const std::uint64_t seed = seed_of(number, options);
  const Building building = building_of(number, seed);
  Dice dice(seed);
  std::vector<Planted> planted{plant(building, dice)};
  if (!options.only.empty() && id_of(planted.front().cause) != options.only) return std::nullopt;
  if (options.two) {
    const auto second = planted.front().cause == Cause::nothing
                            ? std::nullopt
                            : plant_beside(building, planted.front(), dice);
    if (!second) return std::nullopt;
    planted.push_back(*second);
  }
  const Truth truth(building, planted, seed);
  const Technician technician(building, truth, seed + 17);
  Visit visit;
  visit.planted = planted.front();
  if (options.two) visit.second = planted.back().cause;
  prove::DiagnosisOptions how;
  how.samples = options.samples;
  how.proposals = 1;
  if (!options.only_guided) by_checklist(building, technician, how, visit);
  if (options.only_checklist) how.proposals = 0;
  guided(building, technician, how, visit);
  judge(building, visit);
  return visit;
}

void add_options(CLI::App& app, Options& options) {
  app.add_option("--only", options.only, "visits with this cause planted, and no others");
  app.add_option("--minutes", options.minutes, "no visit begins later; the tables are of those before");
  app.add_flag("--two", options.two, "two things are wrong on the same circuit or what switches it");
  auto* guided = app.add_flag("--guided", options.only_guided,
                              "no checklist beside it: the guided columns alone mean anything");
  app.add_flag("--checklist", options.only_checklist, "only the checklist's columns mean anything")
      ->excludes(guided);
}

/// What ten visits must at least come to; a tossed coin among sixteen causes comes to 6 %.
bool holds(const Score& score) {
  return score.top1 >= 0.5 && score.top3 >= 0.7 && score.brier <= 0.75 && score.measurements <= 5;
}

/// One line of the log: what was planted, what stood first after each step, what was measured.
std::string line_of(const Visit& visit, int number) {
  std::string way;
  for (const auto& step : visit.each)
    way += fmt::format(" {}:{:.2f}", id_of(step.suspects.front().cause), step.suspects.front().probability);
  const prove::Suspect& top = visit.last.suspects.front();
  if (top.value)
    way += fmt::format(" [{:.2f} {:.2f} {:.2f}]", top.value->low, top.value->usual, top.value->high);
  if (visit.second) way += fmt::format(" and {}", id_of(*visit.second));
  way += fmt::format(" checklist {}", id_of(visit.checklist_top));
  return fmt::format("{} {} value {:.2f}:{} |{}\n", number, id_of(visit.planted.cause), visit.planted.value,
                     way, visit.measured);
}

int run(const Options& options) {
  std::vector<Visit> visits;
  const auto end = std::chrono::steady_clock::now() + std::chrono::minutes(options.minutes);
  forecast::in_order(
      options.threads, static_cast<std::size_t>(options.jobs),
      [&](std::size_t i) {
        return std::chrono::steady_clock::now() < end ? visit_of(options.from + static_cast<int>(i), options)
                                                      : std::nullopt;
      },
      [&](std::size_t i, std::optional<Visit>& visit) {
        if (!visit) return;
        std::cerr << line_of(*visit, options.from + static_cast<int>(i));
        visits.push_back(std::move(*visit));
      });
  if (options.two) {
    print_two(visits, std::cout);
    return 0;
  }
  const Score score = print(visits, std::cout);
  return options.check && !holds(score) ? 1 : 0;
}

}  // namespace
}  // namespace firstdraw::bench

int main(int count, char** words) {
  using namespace firstdraw::bench;
  Options options;
  options.jobs = 500;
  options.samples = 600;
  CLI::App app("Visits to buildings in which something is wrong: the diagnosis against the truth.");
  add_visit_options(app, options);
  add_options(app, options);
  CLI11_PARSE(app, count, words);
  return run(options);
}
