#include "settings/simpler.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "settings/cheapest_raise.hpp"

namespace firstdraw::settings {
namespace {

constexpr double day_s = 86400;

class Simplifier {
 public:
  Simplifier(std::span<const GroupModel> models, std::span<const GroupNeeds> needs,
             const week::Prices& prices, const std::vector<double>& other_load_w, double step_s,
             const Timetable& timetable)
      : models_(models),
        needs_(needs),
        prices_(prices),
        other_load_w_(other_load_w),
        step_s_(step_s),
        timetable_(timetable) {
    for (std::size_t g = 0; g < models.size(); ++g) {
      const Lived lived = live(g, of(g));
      power_w_.push_back(lived.power_w);
      missed_k_.push_back(missed_k(g, lived));
    }
    limit_ = cost() * (1 + simpler_most_frac);
  }

  Timetable run() {
    for (std::size_t g = 0; g < models_.size(); ++g)
      while (of(g).entries.size() > 1 && take_one_out(g)) {
      }
    return timetable_;
  }

 private:
  GroupTimetable& of(std::size_t g) { return timetable_.groups[static_cast<std::size_t>(models_[g].group)]; }

  Lived live(std::size_t g, const GroupTimetable& group) const {
    std::vector<double> water_c = by_step(group, step_s_);
    for (double& c : water_c) c -= models_[g].sensor_offset_k;
    return live_lumped(models_[g], water_c, step_s_);
  }

  double missed_k(std::size_t g, const Lived& lived) const {
    return worst_miss(models_[g], needs_[g], lived, static_cast<int>(std::lround(day_s / step_s_))).by_k;
  }

  double cost() const {
    std::vector<double> all_w(power_w_.front().size(), 0);
    for (const auto& group_w : power_w_)
      std::transform(all_w.begin(), all_w.end(), group_w.begin(), all_w.begin(), std::plus<>());
    return week::cost_of(prices_, all_w, step_s_, other_load_w_).total();
  }

  /// The entry that is missed least, if any may go.
  bool take_one_out(std::size_t g) {
    const std::vector<double> before_w = power_w_[g];
    std::vector<double> best_w;
    GroupTimetable best;
    double best_cost = limit_;
    for (std::size_t e = 0; e < of(g).entries.size(); ++e) {
      GroupTimetable without = of(g);
      without.entries.erase(without.entries.begin() + static_cast<std::ptrdiff_t>(e));
      Lived lived = live(g, without);
      if (missed_k(g, lived) > missed_k_[g] + slack_k) continue;
      power_w_[g] = lived.power_w;
      if (const double now = cost(); now <= best_cost) {
        best_cost = now;
        best_w = std::move(lived.power_w);
        best = std::move(without);
      }
    }
    power_w_[g] = best_w.empty() ? before_w : best_w;
    if (best_w.empty()) return false;
    of(g) = std::move(best);
    return true;
  }

  static constexpr double slack_k = 1e-9;
  std::span<const GroupModel> models_;
  std::span<const GroupNeeds> needs_;
  const week::Prices& prices_;
  const std::vector<double>& other_load_w_;
  double step_s_;
  Timetable timetable_;
  std::vector<std::vector<double>> power_w_;  // like models
  std::vector<double> missed_k_;
  double limit_ = 0;
};

}  // namespace

Timetable simpler(std::span<const GroupModel> models, std::span<const GroupNeeds> needs,
                  const week::Prices& prices, const std::vector<double>& other_load_w, double step_s,
                  const Timetable& timetable) {
  if (models.empty()) return timetable;
  Timetable less = Simplifier(models, needs, prices, other_load_w, step_s, timetable).run();
  // A single entry holds for all days from midnight on, whenever it stood.
  for (GroupTimetable& group : less.groups)
    if (group.constant()) group.entries.front() = {0x7f, 0, group.entries.front().hold_c};
  return less;
}

}  // namespace firstdraw::settings
