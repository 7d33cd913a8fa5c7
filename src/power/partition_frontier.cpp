#include "power/partition_frontier.hpp"

#include <algorithm>
#include <tuple>

namespace firstdraw::power::partition {

Step Trail::add(const Made& made) {
  steps_.push_back(made);
  return static_cast<Step>(steps_.size() - 1);
}

Step Trail::both(Step a, Step b) {
  if (a == start) return b;
  if (b == start) return a;
  return add({none, false, a, b});
}
Step Trail::with_edge(Step a, Step b, int edge) { return add({edge, false, a, b}); }
Step Trail::closed(Step a) { return add({none, true, a, start}); }

std::vector<int> Trail::circuits(Step last, std::size_t edges) const {
  std::vector<int> circuit(edges, none);
  int count = 0;
  std::vector<std::pair<Step, int>> waiting{{last, none}};
  while (!waiting.empty()) {
    auto [step, open] = waiting.back();
    waiting.pop_back();
    if (step == start) continue;
    const Made& made = steps_[step];
    if (made.closes) open = count++;
    if (made.edge != none) circuit[at(made.edge)] = open;
    waiting.emplace_back(made.left, open);
    waiting.emplace_back(made.right, open);
  }
  return circuit;
}

void Sieve::begin(Grain longest_nm) {
  longest_nm_ = longest_nm;
  width_nm_ = longest_nm / static_cast<Grain>(columns) + 1;
  candidates_.clear();
  for (auto& row : least_before_) row.fill(never);
}

std::size_t Sieve::column(Grain load_nm) const {
  return std::min(static_cast<std::size_t>(load_nm / width_nm_), columns - 1);
}

bool Sieve::beats(const Tag& a, const Tag& b) const {
  return a.joined == b.joined && (a.marks & ~b.marks) == 0 && (a.fed == b.fed || (fed_is_better_ && a.fed));
}

bool Sieve::beaten(std::size_t column, Grain cost, const Tag& tag) const {
  const std::size_t row = std::size_t{2} * tag.joined;
  return ((tag.fed || fed_is_better_) && least_before_[row + 1][column] <= cost) ||
         (!tag.fed && least_before_[row][column] <= cost);
}

void Sieve::add(Grain load_nm, Grain cost, Tag tag, Step left, Step right) {
  if (cost >= never) return;
  const std::size_t here = column(load_nm);
  if (beaten(here, cost, tag)) return;
  candidates_.push_back({load_nm, cost, tag, left, right});
  if (tag.marks != 0) return;
  auto& row = least_before_[std::size_t{2} * tag.joined + (tag.fed ? 1 : 0)];
  for (std::size_t i = here + 1; i <= columns && row[i] > cost; ++i) row[i] = cost;
}

void Sieve::add_pairs(const Frontier& a, const Frontier& b, Grain extra) {
  for (const State& one : a) {
    for (const State& other : b) {
      const Grain load_nm = one.load_nm + other.load_nm;
      if (load_nm > longest_nm_) break;
      if ((one.tag.fed && other.tag.fed) || (one.tag.marks & other.tag.marks) != 0) continue;
      const int joined = one.tag.joined + other.tag.joined, counted = std::min(joined, 2);
      const Tag tag{one.tag.marks | other.tag.marks, static_cast<std::uint8_t>(counted),
                    one.tag.fed || other.tag.fed};
      add(load_nm, one.cost + other.cost + extra + (joined - counted) * tee_, tag, one.step, other.step);
    }
  }
}

/// Candidates come by length, then cost.
bool Sieve::passes(const Candidate& candidate) {
  Grain* same = nullptr;
  for (auto& [tag, cost] : least_) {
    if (cost <= candidate.cost && beats(tag, candidate.tag)) return false;
    if (tag == candidate.tag) same = &cost;
  }
  if (same)
    *same = candidate.cost;
  else
    least_.emplace_back(candidate.tag, candidate.cost);
  return true;
}

Frontier Sieve::finish(int edge) {
  const auto rank = [](const Candidate& c) {
    return std::tuple(c.load_nm, c.cost, !c.tag.fed, c.tag.marks, c.tag.joined);
  };
  std::erase_if(candidates_, [this](const Candidate& c) { return beaten(column(c.load_nm), c.cost, c.tag); });
  std::stable_sort(candidates_.begin(), candidates_.end(),
                   [&](const Candidate& a, const Candidate& b) { return rank(a) < rank(b); });
  least_.clear();
  Frontier frontier;
  for (const Candidate& c : candidates_) {
    if (!passes(c)) continue;
    const Step step = edge == none ? trail_.both(c.left, c.right) : trail_.with_edge(c.left, c.right, edge);
    frontier.push_back({c.load_nm, c.cost, c.tag, step});
  }
  return frontier;
}

Frontier thinned(const Frontier& frontier, std::size_t most) {
  if (frontier.size() <= most) return frontier;
  Frontier kept;
  for (std::size_t i = 0; i < most; ++i) kept.push_back(frontier[i * frontier.size() / most]);
  return kept;
}

Frontier rounded_down(const Frontier& frontier, std::size_t most) {
  if (frontier.size() <= most) return frontier;
  Frontier kept;
  for (const bool fed : {false, true}) {
    const std::size_t group = (frontier.size() + most - 1) / most;
    std::size_t in_group = 0;
    for (const State& state : frontier) {
      if (state.tag.fed != fed) continue;
      if (in_group++ % group == 0) {
        kept.push_back(state);
        continue;
      }
      kept.back().cost = std::min(kept.back().cost, state.cost);
      kept.back().tag.marks &= state.tag.marks;
    }
  }
  std::stable_sort(kept.begin(), kept.end(),
                   [](const State& a, const State& b) { return a.load_nm < b.load_nm; });
  return kept;
}

}  // namespace firstdraw::power::partition
