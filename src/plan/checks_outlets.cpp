// Delivery and scalding at the outlets, as far as the survey tells.
#include <fmt/format.h>

#include <array>

#include "plan/check_context.hpp"
#include "plan/outlet_water.hpp"

namespace firstdraw::plan {

namespace {

void check_place(const Survey& survey, const job::Outlet& outlet, const OutletWater& water, Findings& found) {
  const rules::Citation tree{"Firstdraw", "", "piping is a tree below the water heater", "computed"};
  if (water.node == piping::none)
    found.add("outlet-nowhere", about(outlet),
              fmt::format("Outlet {} is on node \"{}\", which no run touches.", outlet.id, outlet.node),
              "Give it the node at the end of a run.", tree);
  else if (!water.reached)
    found.add("outlet-not-reached", about(outlet),
              fmt::format("No water reaches node \"{}\" of outlet {} from the supply \"{}\".", outlet.node,
                          outlet.id, survey.job.supply.node),
              "Connect the run that feeds it.", tree);
}

/// "12 ft" or "0.3 gal" against the limit, when it is exceeded.
std::string excess(const Show& show, const OutletWater& water, const rules::RunoutLimit& limit) {
  if (water.untraced_m > limit.length_m + 1e-6)
    return fmt::format("{} of untraced pipe, where {} are allowed", show.length(water.untraced_m),
                       show.length(limit.length_m));
  if (water.untraced_m3 > limit.volume_m3 * (1 + 1e-6))
    return fmt::format("{} of water in untraced pipe, where {} are allowed", show.volume(water.untraced_m3),
                       show.volume(limit.volume_m3));
  return {};
}

void check_runout(const Survey& survey, const job::Outlet& outlet, const OutletWater& water,
                  Findings& found) {
  const auto limit =
      rules::runout_limit(survey.job.requirements.runout_rule, outlet.runout_pipe.size,
                          outlet.runout_pipe.outer_diameter_m, outlet.fixture == "public-lavatory");
  if (!limit || water.node == piping::none) return;
  const std::string too_much = excess(survey.show, water, *limit);
  if (too_much.empty()) return;
  found.add("runout-long", about(outlet),
            fmt::format("Outlet {} ({}, {} runout) has {}.", outlet.id, outlet.fixture,
                        outlet.runout_pipe.size, too_much),
            "Trace closer to it, shorten the pipe or use a smaller size.", limit->citation);
}

void check_scald(const Survey& survey, const job::Outlet& outlet, const OutletWater& water, Findings& found) {
  if (outlet.safe_outlet_valve || !water.reached) return;
  const auto& requirements = survey.job.requirements;
  const auto limit = rules::outlet_limit(requirements.rules, outlet.fixture, requirements.building_kind);
  if (!(water.hottest_c > limit.water_c + 0.15)) return;
  const std::string burns = burn_caution(water.hottest_c);
  found.add(
      "outlet-scald", about(outlet),
      fmt::format(
          "Outlet {} ({}) can give water of {}, above its limit of {}, and has no safe-outlet valve{}{}.",
          outlet.id, outlet.fixture, survey.show.temperature(water.hottest_c),
          survey.show.temperature(limit.water_c), burns.empty() ? "" : ": ", burns),
      "Fit a thermostatic safe-outlet valve at the outlet and note it in outlets.csv.", limit.citation);
}

void check_outlets(const Survey& survey, Findings& found) {
  const auto waters = water_at_outlets(survey);
  for (std::size_t o = 0; o < waters.size(); ++o)
    for (const auto check : {check_place, check_runout, check_scald})
      check(survey, survey.job.outlets[o], waters[o], found);
}

constexpr SurveyCheck checks[] = {check_outlets};

}  // namespace

std::span<const SurveyCheck> outlet_checks() { return checks; }

}  // namespace firstdraw::plan
