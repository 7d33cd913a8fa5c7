#include "week/optimise_pass.hpp"

#include <cmath>

// Loops without branches, compiled for wider registers, too: chosen at the start, the bits are the same.
#ifdef __x86_64__
#define FIRSTDRAW_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define FIRSTDRAW_WIDE
#endif

namespace firstdraw::week {
namespace {

struct Step {
  double price_per_j, most_energy_j;
  int least;
};

FIRSTDRAW_WIDE void price_moves(const Step& step, const double* __restrict energy_j,
                                const int* __restrict coldest, double* __restrict price, std::size_t count) {
  const double per_j = step.price_per_j, most_j = step.most_energy_j;
  const int least = step.least;
  for (std::size_t x = 0; x < count; ++x) {
    const double cost = per_j * energy_j[x];
    price[x] = coldest[x] >= least && energy_j[x] <= most_j ? cost : no_cost;
  }
}

FIRSTDRAW_WIDE void add_worth(const double* __restrict price, const double* __restrict value,
                              const int* __restrict to, double* __restrict moved, std::size_t count) {
  for (std::size_t x = 0; x < count; ++x) moved[x] = price[x] + value[to[x]];
}

FIRSTDRAW_WIDE void take_better(const double* __restrict moved, double to, double* __restrict best,
                                double* __restrict best_to, std::size_t count) {
  for (std::size_t x = 0; x < count; ++x) {
    const bool better = moved[x] < best[x];
    best[x] = better ? moved[x] : best[x];
    best_to[x] = better ? to : best_to[x];
  }
}

/// Where a change is cheaper than to stay.
FIRSTDRAW_WIDE void take_changed(const double* __restrict changed, const double* __restrict changed_to,
                                 double* __restrict best, double* __restrict best_to, std::size_t count) {
  for (std::size_t x = 0; x < count; ++x) {
    const bool better = changed[x] < best[x];
    best[x] = better ? changed[x] : best[x];
    best_to[x] = better ? changed_to[x] : best_to[x];
  }
}

FIRSTDRAW_WIDE void write_choices(const double* __restrict best_to, unsigned char* __restrict choice,
                                  std::size_t count) {
  for (std::size_t x = 0; x < count; ++x)
    choice[x] = static_cast<unsigned char>(static_cast<int>(best_to[x]));
}

}  // namespace

Pass::Pass(const Nodes& nodes, const Automaton& automaton, const ControllerLimits& limits, int day_steps,
           bool hot_hold)
    : nodes_(nodes),
      begin_every_(limits.begin_every_steps),
      day_steps_(day_steps),
      uses_(std::min(limits.most_changes_a_day, day_steps) + 1),
      any_change_(!(limits.least_change_k > 0)),
      hot_hold_(hot_hold),
      width_(static_cast<std::size_t>(nodes.count()) + 1) {
  price_.resize(width_);
  best_.resize(static_cast<std::size_t>(nodes.set_points) * block);
  best_to_ = best_;
  for (const double from_c : automaton.set_points_c)
    for (const double to_c : automaton.set_points_c)
      allowed_.push_back(from_c != to_c && !(std::abs(from_c - to_c) < limits.least_change_k - 1e-9) ? 1 : 0);
}

MidnightKey Pass::key(int set_point, int node) const {
  const Nodes::Node& at = nodes_.nodes[static_cast<std::size_t>(node)];
  return {set_point, at.temperature, at.in_band};
}

void Pass::end_values(const KeyBox& box, const std::vector<double>& worth) {
  value_.assign(row(nodes_.set_points, 0), no_cost);
  moved_ = value_;
  for (int s = 0; s < nodes_.set_points; ++s)
    for (int x = 0; x < nodes_.count(); ++x) {
      const bool kept = !hot_hold_ || nodes_.nodes[static_cast<std::size_t>(x)].hot == nodes_.hot_done;
      if (!kept || !box.has(key(s, x))) continue;
      const int at = nodes_.key[static_cast<std::size_t>(x)];
      const int ending = s * nodes_.count() + at;
      const double end = at < 0 ? 0 : worth[static_cast<std::size_t>(ending)];
      for (int used = 0; used < uses_; ++used) value_[row(s, used) + static_cast<std::size_t>(x)] = end;
    }
}

/// Cost from the step on with a set-point in force during it.
void Pass::gather(const StepTerms& terms, int k, int set_point) {
  const auto step = static_cast<std::size_t>(k);
  const std::size_t count = width_ - 1, from = static_cast<std::size_t>(set_point) * count;
  const Step asked{terms.price_per_j[step], terms.most_energy_j[step], terms.least[step]};
  price_moves(asked, &nodes_.energy_j[from], &nodes_.coldest[from], price_.data(), count);
  const bool day_ends = (k + 1) % day_steps_ == 0;
  const int* to = &leading(k)[from];
  for (int used = 0; used < uses_; ++used) {
    double* moved = &moved_[row(set_point, used)];
    if (day_ends && used > 0)
      std::copy_n(&moved_[row(set_point, 0)], count, moved);
    else
      add_worth(price_.data(), &value_[row(set_point, used)], to, moved, count);
  }
}

/// A block of nodes at a time, so that what is compared again and again stays near the processor. To change
/// costs one more change; to change to the same set-point is never better than to keep it.
void Pass::change(int k) {
  const std::size_t count = width_ - 1;
  for (std::size_t first = 0; first < count; first += block) {
    const std::size_t nodes = std::min(block, count - first);
    for (int used = 0; used < uses_; ++used) {
      keep(first, nodes, used);
      if (k % day_steps_ % begin_every_ == 0 && used + 1 < uses_) change_block(first, nodes, used);
      put(k, first, nodes, used);
    }
  }
}

void Pass::keep(std::size_t first, std::size_t nodes, int used) {
  for (int s = 0; s < nodes_.set_points; ++s) {
    std::copy_n(&moved_[row(s, used) + first], nodes, best(s));
    std::fill_n(best_to(s), nodes, s);
  }
}

void Pass::change_block(std::size_t first, std::size_t nodes, int used) {
  if (!any_change_) return change_far(first, nodes, used);
  forget();
  for (int to = 0; to < nodes_.set_points; ++to)
    take_better(&moved_[row(to, used + 1) + first], to, changed_, changed_to_, nodes);
  for (int s = 0; s < nodes_.set_points; ++s) take_changed(changed_, changed_to_, best(s), best_to(s), nodes);
}

/// Set-points rise, so those far enough below one are far enough below the next too: one sweep upwards and
/// one downwards gather the best of them.
void Pass::change_far(std::size_t first, std::size_t nodes, int used) {
  const int last = nodes_.set_points - 1;
  for (const bool up : {true, false}) {
    forget();
    int next = up ? 0 : last;
    for (int n = 0; n <= last; ++n) {
      const int from = up ? n : last - n;
      for (; (up ? next < from : next > from) && may_change(from, next); next += up ? 1 : -1)
        take_better(&moved_[row(next, used + 1) + first], next, changed_, changed_to_, nodes);
      take_changed(changed_, changed_to_, best(from), best_to(from), nodes);
    }
  }
}

void Pass::forget() {
  std::fill_n(changed_, block, no_cost);
  std::fill_n(changed_to_, block, 0.0);
}

void Pass::put(int k, std::size_t first, std::size_t nodes, int used) {
  for (int s = 0; s < nodes_.set_points; ++s) {
    std::copy_n(best(s), nodes, &value_[row(s, used) + first]);
    unsigned char* choice = &choice_[static_cast<std::size_t>(k) * value_.size() + row(s, used) + first];
    write_choices(best_to(s), choice, nodes);
  }
}

void Pass::step_back(const StepTerms& terms, int k) {
  for (int s = 0; s < nodes_.set_points; ++s) gather(terms, k, s);
  change(k);
}

std::vector<double> Pass::worth() const {
  std::vector<double> worth;
  for (int s = 0; s < nodes_.set_points; ++s) {
    const auto begin = value_.begin() + static_cast<std::ptrdiff_t>(row(s, 0));
    worth.insert(worth.end(), begin, begin + nodes_.count());
  }
  return worth;
}

PassResult Pass::follow(const KeyBox& box, int steps, const std::vector<double>& worth) const {
  PassResult best;
  int set_point = 0, node = 0, used = 0;
  for (int s = 0; s < nodes_.set_points; ++s)
    for (int x = 0; x < nodes_.count(); ++x) {
      const int beginning = s * nodes_.count() + x;
      const double begin = worth[static_cast<std::size_t>(beginning)];
      const double cost = value_[row(s, 0) + static_cast<std::size_t>(x)] - begin;
      if (begin == no_cost || !(cost < best.cost) || nodes_.nodes[static_cast<std::size_t>(x)].hot != 0 ||
          !box.has(key(s, x)))
        continue;
      best.cost = cost;
      set_point = s;
      node = x;
    }
  if (best.cost == no_cost) return best;
  best.begin = key(set_point, node);
  for (int k = 0; k < steps; ++k) {
    if (k % day_steps_ == 0) used = 0;
    const std::size_t place = row(set_point, used) + static_cast<std::size_t>(node);
    const int next = choice_[static_cast<std::size_t>(k) * value_.size() + place];
    used += next != set_point ? 1 : 0;
    set_point = next;
    best.set_points.push_back(set_point);
    const int reached = set_point * nodes_.count() + node;
    node = leading(k)[static_cast<std::size_t>(reached)];
  }
  best.end = key(set_point, node);
  return best;
}

PassResult Pass::cheapest(const StepTerms& terms, const KeyBox& box, const std::vector<double>& worth) {
  const int steps = static_cast<int>(terms.price_per_j.size());
  end_values(box, worth);
  choice_.resize(static_cast<std::size_t>(steps) * value_.size());
  for (int k = steps - 1; k >= 0; --k) step_back(terms, k);
  return follow(box, steps, worth);
}

}  // namespace firstdraw::week
