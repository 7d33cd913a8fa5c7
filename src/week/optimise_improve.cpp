#include "week/optimise_improve.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::week {
namespace {

class Improver {
 public:
  Improver(const GroupTask& task, const Days& days, const Prices& prices, const std::vector<double>& other_w,
           Trajectory run)
      : task_(task),
        days_(days),
        prices_(prices),
        other_w_(other_w),
        best_(std::move(run)),
        cost_(cost(best_)) {}

  Trajectory run() {
    for (int sweep = 0; sweep < most_sweeps; ++sweep)
      if (!one_sweep()) break;
    return std::move(best_);
  }

 private:
  static constexpr int most_sweeps = 8;

  bool one_sweep() {
    const double before = cost_;
    for (int program = 0; program < days_.programs(); ++program)
      for (int from = 0; from < days_.steps_a_day; from += task_.limits.begin_every_steps)
        for (int to = from + task_.limits.begin_every_steps; to <= days_.steps_a_day;
             to += task_.limits.begin_every_steps)
          for (int s = 0; s < static_cast<int>(task_.automaton.set_points_c.size()); ++s)
            attempt(program, from, to, s);
    return cost_ < before - 1e-9 * std::abs(before);
  }

  void attempt(int program, int from, int to, int set_point) {
    if (!worth_trying(program, from, to, set_point)) return;
    std::vector<int> changed = best_.set_point;
    for (int day = 0; day < days_.days(); ++day)
      if (days_.program_of_day[static_cast<std::size_t>(day)] == program)
        for (int k = from; k < to; ++k) {
          const int step = day * days_.steps_a_day + k;
          changed[static_cast<std::size_t>(step)] = set_point;
        }
    auto run = settle(task_.automaton, changed, best_.temperature.front());
    if (!run) return;
    const double now = cost(*run);
    if (now >= cost_ || first_breach(task_, days_, *run).what != Breach::What::none) return;
    cost_ = now;
    best_ = std::move(*run);
  }

  /// It changes something, and not too often within the day; first_breach judges midnight too.
  bool worth_trying(int program, int from, int to, int set_point) const {
    const auto day = std::ranges::find(days_.program_of_day, program) - days_.program_of_day.begin();
    const auto begin = best_.set_point.begin() + day * days_.steps_a_day;
    if (std::all_of(begin + from, begin + to, [&](int s) { return s == set_point; })) return false;
    const auto at = [&](int k) { return k >= from && k < to ? set_point : begin[k]; };
    int changes = 0;
    for (int k = 1; k < days_.steps_a_day; ++k) changes += at(k) != at(k - 1) ? 1 : 0;
    return changes <= task_.limits.most_changes_a_day;
  }

  double cost(const Trajectory& run) const {
    return cost_of(prices_, run.power_w, task_.automaton.step_s, other_w_).total();
  }

  const GroupTask& task_;
  const Days& days_;
  const Prices& prices_;
  const std::vector<double>& other_w_;
  Trajectory best_;
  double cost_;
};

}  // namespace

Trajectory improved(const GroupTask& task, const Days& days, const Prices& prices,
                    const std::vector<double>& other_load_w, Trajectory run) {
  return Improver(task, days, prices, other_load_w, std::move(run)).run();
}

}  // namespace firstdraw::week
