// What the computed temperatures say to sensor and outlets.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <limits>

#include "plan/check_context.hpp"
#include "plan/outlet_water.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

void check_governing_run(const Review& review, Findings& found) {
  for (std::size_t g = 0; g < review.plan.groups.size(); ++g) {
    const auto& group = review.job.groups[g];
    const auto& planned = review.plan.groups[g];
    if (group.kind != job::ControlKind::pipe_sensor || group.sensor_run.empty() ||
        planned.best_sensor_run.empty() || planned.best_sensor_run == group.sensor_run)
      continue;
    const std::string coldest =
        planned.coldest_run == piping::none
            ? std::string()
            : fmt::format("; with the sensor on {} the coldest run, {}, settles at {}", group.sensor_run,
                          review.survey.run(planned.coldest_run).id,
                          review.show.temperature(review.plan.runs[at(planned.coldest_run)].at_maintain_c));
    found.add("sensor-not-governing", about(group),
              fmt::format("Run {} would govern group {} better than {}{}.", planned.best_sensor_run, group.id,
                          group.sensor_run, coldest),
              fmt::format("Move the sensor to run {}, or accept the temperatures of the schedule.",
                          planned.best_sensor_run),
              {"Firstdraw", "", "one duty shared by the runs of a group", "computed"});
  }
}

void report_scald(const Review& review, const job::Outlet& outlet, const rules::OutletLimit& limit,
                  double water_c, bool stuck, Findings& found) {
  const std::string burns = burn_caution(water_c);
  found.add(
      stuck ? "scald-stuck-on" : "outlet-scald", about(outlet),
      fmt::format(
          "{}, outlet {} ({}) can give water of {}, above its limit of {}, and has no safe-outlet valve{}{}.",
          stuck ? "With the control stuck on" : "After standing in a run that its group keeps hotter",
          outlet.id, outlet.fixture, review.show.temperature(water_c), review.show.temperature(limit.water_c),
          burns.empty() ? "" : ": ", burns),
      stuck ? "Fit a safe-outlet valve, or a cut-out at or below the limit, independent of the controller."
            : "Fit a thermostatic safe-outlet valve at the outlet and note it in outlets.csv.",
      limit.citation);
}

/// Outlets whose supply is cool enough, but not what stands in the traced run before them.
void check_scald_from_run(const Review& review, Findings& found) {
  constexpr double rounding_k = 0.15;
  const auto waters = water_at_outlets(review.survey);
  const auto& requirements = review.job.requirements;
  for (std::size_t o = 0; o < waters.size(); ++o) {
    const auto& outlet = review.job.outlets[o];
    if (outlet.safe_outlet_valve || waters[o].traced_run == piping::none) continue;
    const auto limit = rules::outlet_limit(requirements.rules, outlet.fixture, requirements.building_kind);
    const auto& run = review.plan.runs[at(waters[o].traced_run)];
    if (waters[o].hottest_c > limit.water_c + rounding_k) continue;
    if (run.worst_hot_c > limit.water_c + rounding_k)
      report_scald(review, outlet, limit, run.worst_hot_c, false, found);
    else if (run.stuck_on_c > limit.water_c + rounding_k)
      report_scald(review, outlet, limit, run.stuck_on_c, true, found);
  }
}

double hottest_stuck_c(const Review& review, const job::ControlGroup& group) {
  double hottest_c = std::numeric_limits<double>::quiet_NaN();
  for (const auto& traced : review.traced)
    if (&traced.group == &group) hottest_c = std::fmax(hottest_c, traced.planned.stuck_on_c);
  return hottest_c;
}

/// A cut-out with a sensor of its own is what is left then.
void check_sensor_lost(const Review& review, Findings& found) {
  for (const auto& group : review.job.groups) {
    if (group.kind != job::ControlKind::pipe_sensor || group.when_lost != job::SensorLost::on) continue;
    const double hottest_c = hottest_stuck_c(review, group);
    found.add("sensor-lost-on", about(group),
              fmt::format("Group {} stays on when its sensor is lost{}.", group.id,
                          std::isnan(hottest_c) ? std::string()
                                                : fmt::format(": its hottest run can settle at {}",
                                                              review.show.temperature(hottest_c))),
              "Give the cut-out a sensor of its own, and have the alarm answered within hours.");
  }
}

constexpr PlanCheck checks[] = {check_governing_run, check_scald_from_run, check_sensor_lost};

}  // namespace

std::span<const PlanCheck> control_result_checks() { return checks; }

}  // namespace firstdraw::plan
