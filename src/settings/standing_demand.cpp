#include "settings/standing_demand.hpp"

#include <algorithm>
#include <cmath>

#include "rules/holding.hpp"
#include "rules/rules.hpp"

namespace firstdraw::settings {

StandingDemand standing_demand_of(const job::Job& job) {
  StandingDemand demand;
  const auto guideline = rules::find_guideline(job.requirements.guideline);
  if (guideline && std::isfinite(guideline->distributed_c)) {
    demand.below_c = guideline->distributed_c;
    const double colder_h = rules::holding(guideline->id).colder_h_per_day;
    if (colder_h > 0)
      demand.most_below_s = colder_h * draw::hour_s;
    else
      demand.most_below_frac = seldom_frac;
  }
  if (job.week.band_h) demand.most_in_band_s = *job.week.band_h * draw::hour_s;
  return demand;
}

double share_below(const draw::RunResult& run, double water_c) {
  const double all_s = run.time_at.total();
  return all_s > 0 ? run.time_at.between(std::numeric_limits<double>::lowest(), water_c) / all_s : 0;
}

bool kept(const StandingDemand& demand, const draw::RunResult& run, double swing_k) {
  return run.longest_below_s <= demand.most_below_s && run.longest_in_band_s <= demand.most_in_band_s &&
         share_below(run, demand.below_c - swing_k) <= demand.most_below_frac;
}

}  // namespace firstdraw::settings
