#include "week/optimise_peak.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::week {
namespace {

constexpr double joules_a_kwh = 3.6e6;
constexpr double just_below = 1 - 1e-10;

/// Peaks at least `low_w` and below `high_w` in every window; energy there costs at least `energy`.
struct CapBox {
  std::vector<double> low_w, high_w;
  double energy = 0, bound = 0;
};

class CapSearch {
 public:
  CapSearch(const CycleSearch& search, const Automaton& automaton, const PeakTask& task, const Effort& effort)
      : search_(search), automaton_(automaton), task_(task), effort_(effort) {
    for (const double price : task.prices.per_kwh) terms_.price_per_j.push_back(price / joules_a_kwh);
    terms_.least = search.least();
    for (const DemandPrice& demand : task.prices.demand) others_w_.push_back(highest(demand, nullptr));
  }

  PeakFound run(double cutoff) {
    best_.cost = cutoff;
    push({others_w_, std::vector<double>(others_w_.size(), no_cost), 0, 0});
    int searches = 0;
    while (!open_.empty()) {
      std::ranges::pop_heap(open_, later);
      const CapBox box = std::move(open_.back());
      open_.pop_back();
      if (box.bound >= good_enough() || searches++ >= effort_.most_searches || stopped()) {
        set_aside_ = std::min(set_aside_, box.bound);
        break;
      }
      look(box);
    }
    best_.bound = std::min(best_.cost, set_aside_);
    if (best_.run.set_point.empty()) best_.cost = no_cost;
    return std::move(best_);
  }

 private:
  static bool later(const CapBox& a, const CapBox& b) { return a.bound > b.bound; }

  bool stopped() const { return effort_.progress && !effort_.progress(0); }

  double good_enough() const {
    return std::isfinite(best_.cost) ? best_.cost - effort_.gap_frac * std::abs(best_.cost) : no_cost;
  }

  double highest(const DemandPrice& demand, const Trajectory* run) const {
    double peak_w = 0;
    for (std::size_t k = 0; k < demand.in_window.size(); ++k)
      if (demand.in_window[k] != 0)
        peak_w = std::max(peak_w, task_.other_load_w[k] + (run == nullptr ? 0 : run->power_w[k]));
    return peak_w;
  }

  /// What the group adds.
  double charge(const std::vector<double>& peaks_w) const {
    double sum = 0;
    for (std::size_t j = 0; j < peaks_w.size(); ++j)
      sum += task_.prices.demand[j].per_kw * (peaks_w[j] - others_w_[j]) / 1000;
    return sum;
  }

  void push(CapBox box) {
    box.bound = box.energy + charge(box.low_w);
    open_.push_back(std::move(box));
    std::ranges::push_heap(open_, later);
  }

  void cap(const std::vector<double>& high_w) {
    terms_.most_energy_j.assign(terms_.price_per_j.size(), no_cost);
    for (std::size_t j = 0; j < high_w.size(); ++j)
      for (std::size_t k = 0; k < terms_.price_per_j.size(); ++k)
        if (task_.prices.demand[j].in_window[k] != 0)
          terms_.most_energy_j[k] = std::min(terms_.most_energy_j[k],
                                             (high_w[j] * just_below - task_.other_load_w[k]) * task_.step_s);
  }

  void look(const CapBox& box) {
    cap(box.high_w);
    Cycle cycle = search_.cheapest(terms_, best_.cost - charge(box.low_w), effort_.gap_frac / 2);
    if (cycle.cost == no_cost) {
      set_aside_ = std::min(set_aside_, cycle.bound + charge(box.low_w));
      return;
    }
    const double energy = cycle.cost, least_energy = cycle.bound;
    Trajectory run = settle(automaton_, cycle.set_points, cycle.from_temperature).value();
    std::vector<double> peaks_w;
    for (const DemandPrice& demand : task_.prices.demand) peaks_w.push_back(highest(demand, &run));
    if (const double cost = energy + charge(peaks_w); cost < best_.cost) {
      best_.cost = cost;
      best_.cycle = std::move(cycle);
      best_.run = std::move(run);
    }
    set_aside_ = std::min(set_aside_, least_energy + charge(peaks_w));
    divide(box, least_energy, peaks_w);
  }

  /// Whatever is cheaper has one peak below the one found: in box i that of window i, and none before it.
  void divide(const CapBox& box, double energy, const std::vector<double>& peaks_w) {
    CapBox rest = box;
    rest.energy = energy;
    for (std::size_t i = 0; i < peaks_w.size(); ++i) {
      if (task_.prices.demand[i].per_kw > 0 && peaks_w[i] > rest.low_w[i]) halves(rest, i, peaks_w[i]);
      rest.low_w[i] = std::max(rest.low_w[i], peaks_w[i]);
    }
  }

  void halves(const CapBox& rest, std::size_t i, double peak_w) {
    CapBox lower = rest, upper = rest;
    lower.high_w[i] = upper.low_w[i] = (rest.low_w[i] + peak_w) / 2;
    upper.high_w[i] = peak_w;
    push(std::move(upper));
    push(std::move(lower));
  }

  const CycleSearch& search_;
  const Automaton& automaton_;
  const PeakTask& task_;
  const Effort& effort_;
  StepTerms terms_;
  std::vector<double> others_w_;
  std::vector<CapBox> open_;
  PeakFound best_;
  double set_aside_ = no_cost;  // what is not looked for any more costs at least this
};

}  // namespace

PeakFound with_demand(const CycleSearch& search, const Automaton& automaton, const PeakTask& task,
                      const Effort& effort, double cutoff) {
  return CapSearch(search, automaton, task, effort).run(cutoff);
}

}  // namespace firstdraw::week
