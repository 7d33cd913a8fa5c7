#include "week/optimise_cycle.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

namespace firstdraw::week {
namespace {

constexpr double same_frac = 1e-12;  // of a cost: what the order of sums may change

/// What a pass begins or ends with, of all passes: the least and the highest of every part of the key.
KeyBox span_of(const std::vector<PassResult>& passes) {
  KeyBox span{passes.front().begin, passes.front().begin};
  for (const PassResult& pass : passes)
    for (const MidnightKey& key : {pass.begin, pass.end})
      for (std::size_t i = 0; i < key.size(); ++i) {
        span.low[i] = std::min(span.low[i], key[i]);
        span.high[i] = std::max(span.high[i], key[i]);
      }
  return span;
}

/// The part of the key in which begins and ends differ; none: the passes close.
std::optional<std::size_t> open_part(const KeyBox& span) {
  for (std::size_t i = 0; i < span.low.size(); ++i)
    if (span.low[i] != span.high[i]) return i;
  return std::nullopt;
}

/// Branch and bound over boxes of keys.
class Boxes {
 public:
  Boxes(std::vector<Pass>& passes, const std::vector<StepTerms>& parts, const std::vector<double>& worth,
        double cutoff, double gap_frac, const Watch& watch)
      : passes_(passes), parts_(parts), worth_(worth), watch_(watch), below_(cutoff), gap_frac_(gap_frac) {}

  std::optional<PassesFound> cheapest(const KeyBox& everything) {
    look(everything);
    while (!open_.empty()) {
      std::ranges::pop_heap(open_, later);
      const PassesFound found = std::move(open_.back());
      open_.pop_back();
      if (!(found.bound < good_enough()) || !watch_.go_on()) {
        proven_ = found.bound;
        break;
      }
      const MidnightKey end = found.passes.back().end;
      if (tried_.insert(end).second) look({end, end});  // where ways lead, they often come back to
      halve(found);
    }
    return best_;
  }

  /// Nothing below the cutoff costs less.
  double proven() const { return best_ ? std::min(best_->bound, proven_) : proven_; }

 private:
  double good_enough() const {
    return std::isfinite(below_) ? below_ - gap_frac_ * std::abs(below_) : below_;
  }

  static bool later(const PassesFound& a, const PassesFound& b) { return a.bound > b.bound; }

  void look(const KeyBox& box) {
    PassesFound found{0, box, {}};
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      found.passes.push_back(passes_[i].cheapest(parts_[i], box, worth_));
      found.bound += found.passes.back().cost;
      if (found.bound == no_cost) return;
    }
    if (!(found.bound < below_)) return;
    if (!open_part(span_of(found.passes))) {
      below_ = found.bound - same_frac * std::abs(found.bound);
      best_ = std::move(found);
      return;
    }
    open_.push_back(std::move(found));
    std::ranges::push_heap(open_, later);
  }

  void halve(const PassesFound& found) {
    const KeyBox span = span_of(found.passes);
    const std::size_t part = open_part(span).value();
    KeyBox lower = found.box, upper = found.box;
    lower.high[part] = (span.low[part] + span.high[part]) / 2;
    upper.low[part] = lower.high[part] + 1;
    if (found.bound < below_) look(upper);
    if (found.bound < below_) look(lower);
  }

  std::vector<Pass>& passes_;
  const std::vector<StepTerms>& parts_;
  const std::vector<double>& worth_;
  const Watch& watch_;
  double below_;  // only what costs less is wanted
  double gap_frac_;
  double proven_ = no_cost;
  std::vector<PassesFound> open_;
  std::set<MidnightKey> tried_;
  std::optional<PassesFound> best_;
};

void fold_step(const StepTerms& terms, std::size_t from, StepTerms& day, std::size_t to) {
  day.price_per_j[to] += terms.price_per_j[from];
  day.most_energy_j[to] = std::min(day.most_energy_j[to], terms.most_energy_j[from]);
  day.least[to] = std::max(day.least[to], terms.least[from]);
}

}  // namespace

CycleSearch::CycleSearch(const GroupTask& task, const Days& days, Form form, const Watch& watch)
    : nodes_(nodes_of(task)), task_(task), days_(days), form_(form), watch_(watch) {
  for (const double c : task.needs.least_c) least_.push_back(task.automaton.grid.at_or_above(c));
}

/// One day of terms for each program: prices of its days together, the tightest of their rules.
std::vector<StepTerms> CycleSearch::folded(const StepTerms& terms) const {
  if (form_ == Form::chain) return {terms};
  const auto steps = static_cast<std::size_t>(days_.steps_a_day);
  const StepTerms empty{std::vector<double>(steps, 0.0), std::vector<double>(steps, no_cost),
                        std::vector<int>(steps, 0)};
  std::vector<StepTerms> programs(static_cast<std::size_t>(days_.programs()), empty);
  for (std::size_t k = 0; k < terms.price_per_j.size(); ++k) {
    const auto program = static_cast<std::size_t>(days_.program_of_day[k / steps]);
    fold_step(terms, k, programs[program], k % steps);
  }
  return programs;
}

KeyBox CycleSearch::everything() const {
  KeyBox box{{0, 0, 0}, {nodes_.set_points - 1, task_.automaton.grid.count - 1, 0}};
  for (const Nodes::Node& node : nodes_.nodes) box.high[2] = std::max(box.high[2], node.in_band);
  return box;
}

Cycle CycleSearch::unfolded(const PassesFound& found) const {
  Cycle cycle{found.bound, {}, found.passes.front().begin[1], found.bound};
  if (form_ == Form::chain) {
    cycle.set_points = found.passes.front().set_points;
    return cycle;
  }
  for (const int program : days_.program_of_day) {
    const auto& day = found.passes[static_cast<std::size_t>(program)].set_points;
    cycle.set_points.insert(cycle.set_points.end(), day.begin(), day.end());
  }
  return cycle;
}

/// What every midnight is worth to the days that follow: the passes twice over, each ending in what the next
/// is worth. After a few days little of the end is left in it, and the bounds below become close.
std::vector<double> CycleSearch::worth_of(std::vector<Pass>& passes,
                                          const std::vector<StepTerms>& parts) const {
  std::vector<double> worth(static_cast<std::size_t>(nodes_.set_points * nodes_.count()), 0.0);
  const int rounds = form_ == Form::chain ? 1 : 2;
  for (int round = 0; round < rounds; ++round)
    for (std::size_t i = 0; i < passes.size(); ++i) {
      passes[i].cheapest(parts[i], everything(), worth);
      worth = passes[i].worth();
    }
  return worth;
}

Cycle CycleSearch::with_hot_hold_in(int program, const StepTerms& terms, double cutoff,
                                    double gap_frac) const {
  const std::vector<StepTerms> parts = folded(terms);
  std::vector<Pass> passes;
  for (std::size_t i = 0; i < parts.size(); ++i)
    passes.emplace_back(nodes_, task_.automaton, task_.limits, days_.steps_a_day,
                        nodes_.hot_done > 0 && static_cast<int>(i) == program);
  const std::vector<double> worth = worth_of(passes, parts);
  Boxes boxes(passes, parts, worth, cutoff, gap_frac, watch_);
  const auto found = boxes.cheapest(everything());
  Cycle cycle = found ? unfolded(*found) : Cycle{};
  cycle.bound = boxes.proven();
  return cycle;
}

Cycle CycleSearch::cheapest(const StepTerms& terms, double cutoff, double gap_frac) const {
  Cycle best;
  double bound = no_cost;
  const int carriers = form_ == Form::hub && nodes_.hot_done > 0 ? days_.programs() : 1;
  for (int program = 0; program < carriers; ++program) {
    Cycle cycle = with_hot_hold_in(program, terms, std::min(cutoff, best.cost), gap_frac);
    bound = std::min(bound, cycle.bound);
    if (cycle.cost < best.cost) best = std::move(cycle);
  }
  best.bound = bound;
  return best;
}

}  // namespace firstdraw::week
