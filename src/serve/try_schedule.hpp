// A schedule that is being dragged: what the quick model of the week says of it, without drawing any water.
#pragma once

#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "serve/bodies.hpp"
#include "serve/jobs.hpp"
#include "settings/group_model.hpp"
#include "settings/needs.hpp"

namespace firstdraw::serve {

/// What trying needs of a job at one revision: dear to make, cheap to use.
struct QuickWeek {
  static constexpr double step_s = 900;
  std::vector<settings::GroupModel> models;
  std::vector<settings::GroupNeeds> needs;  // like models
  // By step: what a kWh costs in the mean of its occurrences in the priced year, and what one a week costs
  // in the mean of the year's weeks, in which a step may come more or less than once.
  std::vector<double> price_per_kwh, cost_per_weekly_kwh;
};
/// Without a time zone or with a tariff that does not read the price is that of the job's economics.
QuickWeek quick_week(const job::Job& job, const plan::Plan& plan);

/// Schema TriedSchedule. Refused: no such group, or one without cable.
Maybe<nlohmann::json> try_schedule(const job::Job& job, const QuickWeek& week, const TrySchedule& asked);

}  // namespace firstdraw::serve
