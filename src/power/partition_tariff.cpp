#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "power/partition_site.hpp"

namespace firstdraw::power::partition {

namespace {

constexpr double per_metre = 1e9, per_unit = 1e6;
// A length that exceeds a limit by rounding alone still fits, as in power/protection.hpp.
constexpr double slack = 1 + 1e-9;

}  // namespace

Grain nanometres(double length_m) { return std::llround(length_m * per_metre); }

Grain millionths(double cost) {
  if (std::isnan(cost) || cost < 0) throw std::logic_error("a cost that is negative or no number");
  return cost * per_unit < static_cast<double>(never) ? std::llround(cost * per_unit) : never;
}

Tariff::Tariff(const Kind& kind, const Costs& costs)
    : spare_cost_per_nm_(kind.spare_cost_per_m * per_unit / per_metre) {
  for (std::size_t i = 0; i < kind.ratings.size(); ++i) {
    const RatingLimit& limit = kind.ratings[i];
    if (!(limit.longest_m > 0)) continue;
    const double longest_nm = std::min(limit.longest_m * slack * per_metre, static_cast<double>(never));
    steps_.push_back({static_cast<int>(i), static_cast<Grain>(longest_nm),
                      static_cast<Grain>(longest_nm * (1 - kind.spare_frac)), millionths(limit.cost)});
  }
  std::stable_sort(steps_.begin(), steps_.end(),
                   [](const Step& a, const Step& b) { return a.longest_nm < b.longest_nm; });
  for (const double cost : kind.feed_cost) least_feed_ = std::min(least_feed_, millionths(cost));
  least_feed_ = std::min(never, least_feed_ + millionths(costs.connection));
  if (!steps_.empty()) longest_nm_ = steps_.back().longest_nm;
}

double Tariff::least_per_nm(Grain feed) const {
  double least = steps_.empty() ? 0 : std::numeric_limits<double>::infinity();
  for (const Step& step : steps_)
    least = std::min(least, static_cast<double>(feed + step.cost) / static_cast<double>(step.longest_nm));
  return least;
}

Grain Tariff::cost_of(const Step& step, Grain load_nm) const {
  const Grain over_nm = std::max(Grain{0}, load_nm - step.keep_nm);
  return step.cost + std::llround(static_cast<double>(over_nm) * spare_cost_per_nm_);
}

const Tariff::Step& Tariff::best(Grain load_nm) const {
  const Grain wanted_nm = std::min(load_nm, longest_nm_);
  const Step* found = nullptr;
  for (const Step& step : steps_)
    if (step.longest_nm >= wanted_nm && (!found || cost_of(step, load_nm) < cost_of(*found, load_nm)))
      found = &step;
  return *found;
}

Grain Tariff::price(Grain load_nm) const { return steps_.empty() ? 0 : cost_of(best(load_nm), load_nm); }
int Tariff::rating(Grain load_nm) const { return steps_.empty() ? none : best(load_nm).rating; }
Grain Tariff::spare(Grain load_nm) const {
  return steps_.empty() ? 0 : cost_of(best(load_nm), load_nm) - best(load_nm).cost;
}

}  // namespace firstdraw::power::partition
