#include "power/partition_junction.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace firstdraw::power::partition {

Junction::Junction(const Bench& bench, int node, int upstream, std::vector<Unit> units, bool linear)
    : bench_(bench), node_(node), upstream_(upstream), units_(std::move(units)), linear_(linear) {
  open_groups();
  const Units all = (Units{1} << units_.size()) - 1;
  std::vector<Choice> alone(all + 1);
  for (Units group = 1; group <= all; ++group) alone[group] = closed_alone(group);
  closed_.assign(all + 1, {});
  for (Units set = 1; set <= all; ++set) {
    const Units first = set & (~set + 1), others = set ^ first;
    Choice best{never, start};
    Units chosen = 0;
    for (Units more = others;; more = (more - 1) & others) {
      const Grain cost = alone[first | more].cost + closed_[others ^ more].cost;
      if (cost < best.cost) best.cost = cost, chosen = first | more;
      if (more == 0) break;
    }
    if (best.cost < never) best.step = bench_.trail.both(alone[chosen].step, closed_[set ^ chosen].step);
    closed_[set] = best;
  }
}

/// What edges that meet cost one another when a unit joins a group.
Grain Junction::meeting(Units group, std::size_t unit) const {
  if (linear_) return 0;
  Grain cost = 0;
  for (std::size_t i = 0; i < units_.size(); ++i) {
    if ((group >> i & 1u) == 0) continue;
    for (const int a : units_[i].edges)
      for (const int b : units_[unit].edges)
        cost += bench_.site.joining_cost(a, b) - bench_.site.parting_cost(a, b);
  }
  return cost;
}

Grain Junction::meeting_upstream(Units group) const {
  if (linear_) return 0;
  Grain cost = 0;
  for (std::size_t i = 0; i < units_.size(); ++i)
    if ((group >> i & 1u) != 0)
      for (const int edge : units_[i].edges)
        cost += bench_.site.joining_cost(upstream_, edge) - bench_.site.parting_cost(upstream_, edge);
  return cost;
}

void Junction::open_groups() {
  group_.resize(std::size_t{1} << units_.size());
  for (std::size_t i = 0; i < units_.size(); ++i) {
    const auto& edges = units_[i].edges;
    const Grain longest_nm = bench_.site.tariff(edges.front()).longest_nm();
    const Units self = Units{1} << i;
    group_[self] = bench_.open[at(edges.front())];
    for (std::size_t j = 1; j < edges.size(); ++j) {
      Grain meeting = 0;
      for (std::size_t k = 0; k < j && !linear_; ++k)
        meeting +=
            bench_.site.joining_cost(edges[k], edges[j]) - bench_.site.parting_cost(edges[k], edges[j]);
      bench_.sieve.begin(longest_nm);
      bench_.sieve.add_pairs(group_[self], bench_.open[at(edges[j])], meeting);
      group_[self] = bench_.sieve.finish();
    }
    for (Units group = 1; group < self; ++group) {
      bench_.sieve.begin(longest_nm);
      bench_.sieve.add_pairs(group_[group], group_[self], meeting(group, i));
      group_[group | self] = bench_.sieve.finish();
    }
  }
}

int Junction::cables(Units group) const {
  std::size_t count = 0;
  for (std::size_t i = 0; i < units_.size(); ++i)
    if ((group >> i & 1u) != 0) count += units_[i].edges.size();
  return static_cast<int>(count);
}

bool Junction::upstream_wants(Units group) const {
  for (std::size_t i = 0; i < units_.size(); ++i)
    if ((group >> i & 1u) != 0 && units_[i].with_upstream) return true;
  return false;
}

Grain Junction::closing_cost(const State& state, int cables) const {
  const int kind = bench_.site.kind(units_.front().edges.front());
  const Grain feed = state.tag.fed ? 0 : bench_.site.feed(kind, node_);
  if (feed >= never) return never;
  return state.cost + feed + bench_.site.kits(node_, cables, !state.tag.fed) +
         bench_.site.tariffs[at(kind)].price(state.load_nm);
}

/// A group costs at least this for each of its units. One that is fed at this node pays the feed, a tee for
/// every cable but one, and a breaker: no less than a tee for each cable and, by length, the rest of the feed
/// at the breaker that makes it cheapest. In a group fed already one unit has paid the feed, and a tee less
/// is needed.
Grain Junction::linear_cost(const State& state, int cables) const {
  const int kind = bench_.site.kind(units_.front().edges.front());
  const Tariff& tariff = bench_.site.tariffs[at(kind)];
  const Grain at_node = bench_.site.feed(kind, node_);
  const Grain feed = at_node < never ? at_node : 0;
  const Grain tee = std::min(feed, bench_.site.tee());
  const auto length_nm = static_cast<double>(std::min(state.load_nm, tariff.longest_nm()));
  const auto by_length = static_cast<Grain>(std::floor(length_nm * tariff.least_per_nm(feed - tee)));
  return state.cost + by_length + cables * tee - (state.tag.fed ? feed + tee : 0);
}

Choice Junction::closed_alone(Units group) const {
  if (upstream_ != none && upstream_wants(group)) return {never, start};
  Choice best{never, start};
  const int leaving = cables(group);
  for (const State& state : group_[group]) {
    const Grain cost = linear_ ? linear_cost(state, leaving) : closing_cost(state, leaving);
    if (cost < best.cost) best = {cost, state.step};
  }
  if (best.cost < never) best.step = bench_.trail.closed(best.step);
  return best;
}

Frontier Junction::joined() const {
  const Units all = static_cast<Units>(closed_.size() - 1);
  bench_.sieve.begin(bench_.site.tariff(upstream_).longest_nm());
  if (!upstream_wants(all)) bench_.sieve.add(0, closed_[all].cost, {}, closed_[all].step, start);
  for (Units group = 1; group <= all; ++group) {
    const Choice& rest = closed_[all ^ group];
    if (upstream_wants(all ^ group) || rest.cost >= never) continue;
    const int leaving = cables(group), counted = std::min(leaving, 2);
    const Grain meeting = meeting_upstream(group) + (leaving - counted) * bench_.site.tee();
    for (const State& state : group_[group]) {
      Tag tag = state.tag;
      tag.joined = static_cast<std::uint8_t>(counted);
      bench_.sieve.add(state.load_nm, state.cost + rest.cost + meeting, tag, state.step, rest.step);
    }
  }
  return bench_.sieve.finish();
}

}  // namespace firstdraw::power::partition
