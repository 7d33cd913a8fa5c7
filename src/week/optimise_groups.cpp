#include "week/optimise_groups.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "week/optimise_improve.hpp"
#include "week/optimise_peak.hpp"
#include "week/over_threads.hpp"

namespace firstdraw::week {
namespace {

constexpr double joules_a_kwh = 3.6e6;

double sum_of(const std::vector<double>& numbers) {
  double sum = 0;
  for (const double number : numbers) sum += number;
  return sum;
}

/// For each demand price, weights over the steps of its window that sum to one: the mean load under any such
/// weights is at most the peak, and it falls apart into the groups.
class PeakWeights {
 public:
  PeakWeights(const Prices& prices, const std::vector<double>& other_w)
      : prices_(&prices), other_w_(&other_w) {
    for (const DemandPrice& demand : prices.demand) {
      std::vector<double> even(demand.in_window.begin(), demand.in_window.end());
      const double count = sum_of(even);
      for (double& weight : even) weight = weight > 0 ? 1 / count : 0;
      weights_.push_back(std::move(even));
    }
  }

  /// Prices of energy with the weighted demand price in them.
  std::vector<double> per_j(double step_s) const {
    std::vector<double> per_j;
    for (std::size_t k = 0; k < prices_->per_kwh.size(); ++k) {
      double price = prices_->per_kwh[k] / joules_a_kwh;
      for (std::size_t j = 0; j < weights_.size(); ++j)
        price += prices_->demand[j].per_kw * weights_[j][k] / (1000 * step_s);
      per_j.push_back(price);
    }
    return per_j;
  }

  /// What the other load alone brings to the weighted demand, above what it pays anyway.
  double constant() const {
    double sum = 0;
    for (std::size_t j = 0; j < weights_.size(); ++j) {
      double mean_w = 0;
      for (std::size_t k = 0; k < other_w_->size(); ++k) mean_w += weights_[j][k] * (*other_w_)[k];
      sum += prices_->demand[j].per_kw * (mean_w - peak(j, *other_w_)) / 1000;
    }
    return sum;
  }

  /// Towards the steps with a high load; `gap`: how far the bound lies below the best cost.
  void move(const std::vector<double>& load_w, double gap) {
    double dearest = 0;
    for (std::size_t j = 0; j < weights_.size(); ++j)
      dearest += prices_->demand[j].per_kw * peak(j, load_w) / 1000;
    if (!(dearest > 0)) return;
    for (std::size_t j = 0; j < weights_.size(); ++j) {
      const double rate = prices_->demand[j].per_kw / 1000 * gap / (dearest * dearest);
      for (std::size_t k = 0; k < load_w.size(); ++k)
        weights_[j][k] *= std::exp(rate * (load_w[k] - peak(j, load_w)));
      const double sum = sum_of(weights_[j]);
      for (double& weight : weights_[j]) weight /= sum > 0 ? sum : 1;
    }
  }

 private:
  double peak(std::size_t j, const std::vector<double>& load_w) const {
    double peak_w = 0;
    for (std::size_t k = 0; k < load_w.size(); ++k)
      if (prices_->demand[j].in_window[k] != 0) peak_w = std::max(peak_w, load_w[k]);
    return peak_w;
  }

  const Prices* prices_;
  const std::vector<double>* other_w_;
  std::vector<std::vector<double>> weights_;
};

class CommonPeak {
 public:
  CommonPeak(const WeekTask& task, const std::vector<GroupSearch>& searches,
             const std::vector<double>& other_w, const Effort& effort, Watch& watch)
      : task_(task),
        searches_(searches),
        other_w_(other_w),
        effort_(effort),
        watch_(watch),
        weights_(task.prices, other_w) {}

  Together run() {
    best_.bound = -no_cost;
    for (int round = 0; round < effort_.rounds; ++round) {
      done(round);
      const double cost = best_.cost, dual = dual_;
      if (!one_round()) return {};
      if (idle(cost - best_.cost + dual_ - dual)) break;
      if (best_.cost - dual_ <= effort_.gap_frac * std::abs(best_.cost)) break;
    }
    if (relaxed())
      bound_by_free_days();
    else
      best_.bound = dual_;
    for (int round = 0; round < 3 && !close_enough() && watch_.go_on(); ++round)
      if (!make_way()) break;
    best_.bound = std::min(best_.bound, best_.cost);
    return std::move(best_);
  }

 private:
  enum class By { schedule, relaxed };

  double step_s() const { return task_.groups.front().automaton.step_s; }
  bool relaxed() const { return searches_.front().relaxed != nullptr; }
  bool close_enough() const { return best_.cost - best_.bound <= effort_.gap_frac * std::abs(best_.cost); }

  /// Whether the last rounds together brought so little that more of them are not worth their time. `gain`:
  /// of this round, in cost and bound.
  bool idle(double gain) {
    idle_ = gain < idle_gap_frac * effort_.gap_frac * std::abs(best_.cost) ? idle_ + 1 : 0;
    return idle_ >= most_idle;
  }

  void done(int rounds) {
    watch_.done_frac = static_cast<double>(rounds) / static_cast<double>(effort_.rounds + free_rounds + 1);
  }

  /// Every group alone, at the prices of the weights.
  std::vector<Cycle> answers(By by) const {
    std::vector<Cycle> all(searches_.size());
    const std::vector<double> per_j = weights_.per_j(step_s());
    over_threads(effort_.threads, all.size(), [&](std::size_t g) {
      if (!watch_.go_on()) return;
      const CycleSearch& search = by == By::schedule ? *searches_[g].schedule : *searches_[g].relaxed;
      const StepTerms terms{per_j, std::vector<double>(per_j.size(), no_cost), search.least()};
      all[g] = search.cheapest(terms, no_cost, effort_.gap_frac / 5);
    });
    return all;
  }

  double dual_of(const std::vector<Cycle>& all) const {
    double dual = weights_.constant();
    for (const Cycle& cycle : all) dual += cycle.bound;
    return dual;
  }

  std::vector<Trajectory> settled(const std::vector<Cycle>& all) const {
    std::vector<Trajectory> runs;
    for (std::size_t g = 0; g < all.size(); ++g)
      runs.push_back(settle(task_.groups[g].automaton, all[g].set_points, all[g].from_temperature).value());
    return runs;
  }

  static bool all_possible(const std::vector<Cycle>& all) {
    return std::ranges::none_of(all, [](const Cycle& cycle) { return cycle.cost == no_cost; });
  }

  /// Schedules at the prices of the weights, then weights towards their load. False: a group has none.
  bool one_round() {
    const std::vector<Cycle> all = answers(By::schedule);
    if (!all_possible(all)) return false;
    const double dual = dual_of(all);
    if (dual > dual_) {
      dual_ = dual;
      best_weights_ = weights_;
    }
    std::vector<Trajectory> runs = settled(all);
    const std::vector<double> load_w = load(runs, runs.size());
    keep_better(std::move(runs));
    weights_.move(load_w, best_.cost - dual);
    return true;
  }

  /// Schedules with the same state at every midnight are no relaxation: their best weights are near the best
  /// of the free days too, and the bound is taken there.
  void bound_by_free_days() {
    if (!effort_.bound) return;
    weights_ = best_weights_.value_or(weights_);
    idle_ = 0;
    for (int round = 0; round < free_rounds && !close_enough(); ++round) {
      done(effort_.rounds + round);
      const std::vector<Cycle> all = answers(By::relaxed);
      if (!all_possible(all)) return;
      const double bound = dual_of(all), before = best_.bound;
      best_.bound = std::max(best_.bound, bound);
      if (idle(best_.bound - before)) break;
      const std::vector<Trajectory> runs = settled(all);
      weights_.move(load(runs, runs.size()), best_.cost - bound);
    }
  }

  std::vector<double> load(const std::vector<Trajectory>& runs, std::size_t without) const {
    std::vector<double> load_w = other_w_;
    for (std::size_t g = 0; g < runs.size(); ++g)
      for (std::size_t k = 0; k < load_w.size() && g != without; ++k) load_w[k] += runs[g].power_w[k];
    return load_w;
  }

  void keep_better(std::vector<Trajectory> runs) {
    std::vector<double> load_w = load(runs, runs.size());
    for (std::size_t k = 0; k < load_w.size(); ++k) load_w[k] -= other_w_[k];
    const double cost = cost_of(task_.prices, load_w, step_s(), other_w_).total();
    if (!(cost < best_.cost)) return;
    best_.cost = cost;
    best_.runs = std::move(runs);
  }

  /// The group's answer to the load of the others.
  Trajectory elsewhere(std::size_t g, const PeakTask& alone, const Effort& effort) const {
    const GroupTask& group = task_.groups[g];
    const Trajectory& now = best_.runs[g];
    if (searches_[g].relaxed) return improved(group, task_.days, task_.prices, alone.other_load_w, now);
    const double cost = cost_of(task_.prices, now.power_w, step_s(), alone.other_load_w).total();
    PeakFound found = with_demand(*searches_[g].schedule, group.automaton, alone, effort, cost);
    if (!(found.cost < no_cost)) return now;
    return std::move(found.run);
  }

  /// One group after the other against the load of the rest. False: none found anything better.
  bool make_way() {
    const double before = best_.cost;
    Effort effort = effort_;
    effort.gap_frac = std::max(effort_.gap_frac, 1e-4);
    effort.most_searches = std::min(effort_.most_searches, 20);
    for (std::size_t g = 0; g < searches_.size() && !close_enough(); ++g) {
      const PeakTask alone{task_.prices, step_s(), load(best_.runs, g)};
      std::vector<Trajectory> runs = best_.runs;
      runs[g] = elsewhere(g, alone, effort);
      keep_better(std::move(runs));
    }
    return best_.cost < before - 1e-5 * std::abs(before);
  }

  const WeekTask& task_;
  const std::vector<GroupSearch>& searches_;
  const std::vector<double>& other_w_;
  const Effort& effort_;
  Watch& watch_;
  PeakWeights weights_;
  std::optional<PeakWeights> best_weights_;
  double dual_ = -no_cost;  // highest yet, of the schedules' own form
  static constexpr int free_rounds = 4, most_idle = 2;
  static constexpr double idle_gap_frac = 0.05;  // of the gap that is asked
  int idle_ = 0;
  Together best_;
};

}  // namespace

Together with_common_peak(const WeekTask& task, const std::vector<GroupSearch>& searches,
                          const std::vector<double>& other_load_w, const Effort& effort, Watch& watch) {
  return CommonPeak(task, searches, other_load_w, effort, watch).run();
}

}  // namespace firstdraw::week
