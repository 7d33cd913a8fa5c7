#include "week/optimise_pass.hpp"

#include <cmath>

namespace firstdraw::week {

Pass::Pass(const Nodes& nodes, const Automaton& automaton, const ControllerLimits& limits, int day_steps,
           bool hot_hold)
    : nodes_(nodes),
      begin_every_(limits.begin_every_steps),
      day_steps_(day_steps),
      uses_(std::min(limits.most_changes_a_day, day_steps) + 1),
      any_change_(!(limits.least_change_k > 0)),
      hot_hold_(hot_hold),
      width_(static_cast<std::size_t>(nodes.count()) + 1) {
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
  const double price = terms.price_per_j[step], most_j = terms.most_energy_j[step];
  const int least = terms.least[step];
  const std::size_t count = width_ - 1, from = static_cast<std::size_t>(set_point) * count;
  const bool day_ends = (k + 1) % day_steps_ == 0;
  const std::vector<int>& to = leading(k);
  for (int used = 0; used < uses_; ++used) {
    double* moved = &moved_[row(set_point, used)];
    if (day_ends && used > 0) {
      std::copy_n(&moved_[row(set_point, 0)], count, moved);
      continue;
    }
    const double* value = &value_[row(set_point, used)];
    for (std::size_t x = 0; x < count; ++x) {
      const double energy_j = nodes_.energy_j[from + x];
      const double cost = price * energy_j + value[to[from + x]];
      moved[x] = nodes_.coldest[from + x] >= least && energy_j <= most_j ? cost : no_cost;
    }
  }
}

/// The best of changing to another set-point, for those in force before: one more change is used. To change
/// to the same one is never better than to keep it.
void Pass::best_with(int to, int used) {
  const std::size_t count = width_ - 1;
  const double* moved = &moved_[row(to, used + 1)];
  for (std::size_t x = 0; x < count; ++x) {
    const bool better = moved[x] < changed_[x];
    changed_[x] = better ? moved[x] : changed_[x];
    changed_to_[x] = better ? static_cast<unsigned char>(to) : changed_to_[x];
  }
}

void Pass::keep(int k, int set_point, int used) {
  const std::size_t count = width_ - 1;
  std::copy_n(&moved_[row(set_point, used)], count, &value_[row(set_point, used)]);
  std::fill_n(&choice_[static_cast<std::size_t>(k) * value_.size() + row(set_point, used)], count,
              static_cast<unsigned char>(set_point));
}

/// Where a change is cheaper than to stay.
void Pass::take_changed(int k, int set_point, int used) {
  const std::size_t count = width_ - 1;
  double* best = &value_[row(set_point, used)];
  unsigned char* choice = &choice_[static_cast<std::size_t>(k) * value_.size() + row(set_point, used)];
  for (std::size_t x = 0; x < count; ++x) {
    const bool better = changed_[x] < best[x];
    best[x] = better ? changed_[x] : best[x];
    choice[x] = better ? changed_to_[x] : choice[x];
  }
}

/// Set-points rise, so those far enough below one are far enough below the next too: one sweep upwards and
/// one downwards gather the best of them.
void Pass::change_far(int k, int used) {
  const std::size_t count = width_ - 1;
  const int last = nodes_.set_points - 1;
  for (const bool up : {true, false}) {
    changed_.assign(count, no_cost);
    changed_to_.assign(count, 0);
    int next = up ? 0 : last;
    for (int n = 0; n <= last; ++n) {
      const int from = up ? n : last - n;
      for (; (up ? next < from : next > from) && may_change(from, next); next += up ? 1 : -1)
        best_with(next, used);
      take_changed(k, from, used);
    }
  }
}

void Pass::change(int k) {
  for (int used = 0; used < uses_; ++used) {
    for (int s = 0; s < nodes_.set_points; ++s) keep(k, s, used);
    if (k % day_steps_ % begin_every_ != 0 || used + 1 >= uses_) continue;
    if (!any_change_) {
      change_far(k, used);
      continue;
    }
    changed_.assign(width_ - 1, no_cost);
    changed_to_.assign(width_ - 1, 0);
    for (int to = 0; to < nodes_.set_points; ++to) best_with(to, used);
    for (int s = 0; s < nodes_.set_points; ++s) take_changed(k, s, used);
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
