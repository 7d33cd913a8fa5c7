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
    demand.most_below_s = std::max(passing_s, colder_h * draw::hour_s);
  }
  if (job.week.band_h) demand.most_in_band_s = *job.week.band_h * draw::hour_s;
  return demand;
}

bool kept(const StandingDemand& demand, const draw::RunResult& run) {
  return run.longest_below_s <= demand.most_below_s && run.longest_in_band_s <= demand.most_in_band_s;
}

}  // namespace firstdraw::settings
