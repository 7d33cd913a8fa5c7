// Slips of the survey that show in the piping itself.
#include <fmt/format.h>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

/// What must be settled before anything can be computed; not a rule of any code.
rules::Citation survey_rule() {
  return {"Firstdraw", "", "piping is a tree below the water heater", "computed"};
}

void check_network(const Survey& survey, Findings& found) {
  using Kind = piping::Problem::Kind;
  const auto& job = survey.job;
  for (const auto& problem : survey.network.problems) {
    if (problem.kind == Kind::unknown_supply || problem.run == piping::none) {
      found.add("unknown-supply", about_site(),
                fmt::format("No run starts at the supply node \"{}\".", job.supply.node),
                "Give supply.node in job.toml the node where the first run leaves the water heater.",
                survey_rule());
      continue;
    }
    const auto& run = survey.run(problem.run);
    if (problem.kind == Kind::loop)
      found.add("loop", about(run),
                fmt::format("Run {} from \"{}\" to \"{}\" leads back to a node upstream of it.", run.id,
                            run.from, run.to),
                "Correct its from or to; leave return lines out of the job.", survey_rule());
    else if (problem.kind == Kind::two_feeds)
      found.add("two-feeds", about(run),
                fmt::format("Node \"{}\" is already fed when run {} reaches it.", problem.node, run.id),
                "Correct the to of one of the runs that end there.", survey_rule());
    else
      found.add(
          "disconnected", about(run),
          fmt::format("Run {} from \"{}\" does not hang on the supply \"{}\".", run.id, run.from,
                      job.supply.node),
          "Correct a node name or add the missing run; runs further down this stretch are left out too.",
          survey_rule());
  }
}

void check_lengths(const Survey& survey, Findings& found) {
  constexpr double rare_m = 60;
  for (const auto& run : survey.job.runs) {
    if (!(run.length_m > 0))
      found.add("length-zero", about(run),
                fmt::format("Run {} has a length of {}.", run.id, survey.show.length(run.length_m)),
                "Measure it and enter the length, or delete the row.", survey_rule());
    else if (run.length_m > rare_m)
      found.add("run-very-long", about(run),
                fmt::format("Run {} is {} long; indoors a run beyond {} is rare.", run.id,
                            survey.show.length(run.length_m), survey.show.length(rare_m)),
                "Check the length and its unit, or divide the run where something changes.");
  }
}

void check_sizes(const Survey& survey, Findings& found) {
  constexpr double same_size = 1.05;  // two materials of one nominal size differ a little in bore
  for (const int index : survey.network.order) {
    const int upstream = survey.network.upstream_run[at(index)];
    if (upstream == piping::none) continue;
    const auto &run = survey.run(index), &before = survey.run(upstream);
    if (run.pipe.inner_diameter_m() <= same_size * before.pipe.inner_diameter_m()) continue;
    found.add("size-grows", about(run),
              fmt::format("Run {} ({} {}, bore {}) is larger than run {} that feeds it ({} {}, bore {}).",
                          run.id, run.pipe.material, run.pipe.size,
                          survey.show.size(run.pipe.inner_diameter_m()), before.id, before.pipe.material,
                          before.pipe.size, survey.show.size(before.pipe.inner_diameter_m())),
              "Check both sizes; correct the wrong one.");
  }
}

void check_levels(const Survey& survey, Findings& found) {
  for (const int index : survey.network.order) {
    const int upstream = survey.network.upstream_run[at(index)];
    if (upstream == piping::none) continue;
    const auto &run = survey.run(index), &before = survey.run(upstream);
    if (run.level == before.level || run.orientation == physics::Orientation::vertical ||
        before.orientation == physics::Orientation::vertical)
      continue;
    found.add(
        "level-jump", about(run),
        fmt::format(
            "Run {} lies on level {}, but run {} that feeds it lies on level {} and neither is vertical.",
            run.id, run.level, before.id, before.level),
        "Add the riser between them, mark it vertical, or correct a level.", survey_rule());
  }
}

void check_dead_ends(const Survey& survey, Findings& found) {
  const auto& network = survey.network;
  for (const int index : network.order) {
    const int node = network.to_node[at(index)];
    const bool has_outlet = network.outlets_first[at(node)] < network.outlets_first[at(node) + 1];
    if (has_outlet || !network.downstream_of(node).empty()) continue;
    const auto& run = survey.run(index);
    found.add("dead-end", about(run),
              fmt::format("Run {} ends at \"{}\" without an outlet; its {} of water are never renewed.",
                          run.id, run.to, survey.show.volume(network.water_volume_m3[at(index)])),
              "Add the outlet to outlets.csv, or have the dead end removed.",
              {"OSHA Technical Manual", "", "section III chapter 7, dead legs", "read"});
  }
}

/// Whether some traced run lies below each run.
std::vector<bool> traced_below(const Survey& survey) {
  std::vector<bool> below(survey.job.runs.size(), false);
  const auto& order = survey.network.order;
  for (auto run = order.rbegin(); run != order.rend(); ++run) {
    const int upstream = survey.network.upstream_run[at(*run)];
    if (upstream != piping::none && (below[at(*run)] || survey.run(*run).traced)) below[at(upstream)] = true;
  }
  return below;
}

void check_gaps(const Survey& survey, Findings& found) {
  const auto below = traced_below(survey);
  std::vector<bool> above(survey.job.runs.size(), false);
  for (const int index : survey.network.order) {
    const int upstream = survey.network.upstream_run[at(index)];
    if (upstream == piping::none) continue;
    above[at(index)] = above[at(upstream)] || survey.run(upstream).traced;
    const auto& run = survey.run(index);
    if (run.traced || !above[at(index)] || !below[at(index)]) continue;
    found.add("untraced-gap", about(run),
              fmt::format(
                  "Run {} is not traced, but runs before and after it are; {} of pipe go cold between draws.",
                  run.id, survey.show.length(run.length_m)),
              "Trace it too, or accept the gap with a reason.");
  }
}

void check_anything_traced(const Survey& survey, Findings& found) {
  for (const auto& run : survey.job.runs)
    if (run.traced) return;
  found.add("nothing-traced", about_site(),
            fmt::format("None of the {} runs is traced.", survey.job.runs.size()),
            "Enter yes in the column traced of the runs that get heating cable.", survey_rule());
}

constexpr SurveyCheck checks[] = {check_network,   check_lengths, check_sizes,          check_levels,
                                  check_dead_ends, check_gaps,    check_anything_traced};

}  // namespace

std::span<const SurveyCheck> piping_checks() { return checks; }

}  // namespace firstdraw::plan
