#include "power/partition.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "power/partition_appraise.hpp"
#include "power/partition_junction.hpp"

namespace firstdraw::power::partition {

namespace {

enum class Mode { possible, bound };

/// One pass over the tree from its ends upwards. Where the effort is not enough, `possible` leaves layouts
/// out and `bound` lets some be cheaper than they are; where it is, both are exact.
class Pass {
 public:
  Pass(const Site& site, Mode mode)
      : site_(site), mode_(mode), sieve_(trail_, site), open_(site.order.size()), below_(site.order.size()) {}

  Choice run() {
    for (auto edge = site_.order.rbegin(); edge != site_.order.rend(); ++edge) settle(*edge);
    return gather(0, none).rest;
  }
  bool exact() const { return exact_; }
  std::size_t states() const { return states_; }
  std::vector<int> circuits(Step last) const { return trail_.circuits(last, site_.order.size()); }

 private:
  /// What is known at a node: circuits that hold branches and may take the edge upstream, and the cost of all
  /// that is closed for certain.
  struct Gathered {
    Frontier joined{State{}};
    Choice rest;
  };

  void settle(int edge) {
    Gathered gathered = gather(far_end(edge), edge);
    if (site_.kind(edge) == none) {
      below_[at(edge)] = gathered.rest;
      return;
    }
    open_[at(edge)] = limited(with(edge, gathered));
    states_ += open_[at(edge)].size();
  }

  Gathered gather(int node, int edge) {
    const int kind = edge == none ? none : site_.kind(edge);
    Gathered gathered;
    std::map<int, std::vector<int>> branches;
    for (const int branch : site_.leaving(node)) {
      if (site_.kind(branch) == none)
        take(gathered.rest, below_[at(branch)]);
      else
        branches[site_.kind(branch)].push_back(branch);
    }
    for (const auto& [of_kind, edges] : branches) join(gathered, node, of_kind == kind ? edge : none, edges);
    for (const int branch : site_.leaving(node)) Frontier().swap(open_[at(branch)]);
    return gathered;
  }

  void take(Choice& rest, const Choice& more) {
    rest = {std::min(never, rest.cost + more.cost), trail_.both(rest.step, more.step)};
  }

  void join(Gathered& gathered, int node, int upstream, const std::vector<int>& branches) {
    const std::vector<Unit> units = units_of(branches, upstream);
    const std::size_t most = static_cast<std::size_t>(std::max(1, site_.problem.effort.most_branches));
    const bool whole = units.size() <= most, linear = !whole && mode_ == Mode::bound;
    exact_ = exact_ && whole;
    if (!linear) take(gathered.rest, {former_pairs(branches, upstream), start});
    const std::size_t block = linear ? 1 : most;
    for (std::size_t i = 0; i < units.size(); i += block) {
      const auto first = units.begin() + static_cast<std::ptrdiff_t>(i);
      const auto last = units.begin() + static_cast<std::ptrdiff_t>(std::min(i + block, units.size()));
      const Junction junction({site_, trail_, sieve_, open_}, node, upstream, {first, last}, linear);
      if (upstream == none)
        take(gathered.rest, junction.all_closed());
      else
        gathered.joined = together(gathered.joined, junction.joined(), upstream);
    }
  }

  Frontier together(const Frontier& a, Frontier b, int upstream) {
    if (a.size() == 1 && a.front().tag == Tag{} && a.front().step == start) return b;
    sieve_.begin(site_.tariff(upstream).longest_nm());
    sieve_.add_pairs(a, b, 0);
    return limited(sieve_.finish());
  }

  std::vector<Unit> units_of(const std::vector<int>& branches, int upstream) const {
    std::vector<Unit> units;
    std::map<int, std::size_t> unit_of_bond;
    for (const int branch : branches) {
      const int bond = site_.bond_near(branch);
      const auto [found, fresh] = unit_of_bond.emplace(bond, units.size());
      if (fresh) units.push_back({{}, upstream != none && bond == site_.bond_far(upstream)});
      units[found->second].edges.push_back(branch);
    }
    return units;
  }

  /// The cost of parting all that met on one circuit before; joining gives it back.
  Grain former_pairs(const std::vector<int>& branches, int upstream) const {
    Grain cost = 0;
    for (std::size_t i = 0; i < branches.size(); ++i) {
      if (upstream != none) cost += site_.parting_cost(upstream, branches[i]);
      for (std::size_t j = 0; j < i; ++j) cost += site_.parting_cost(branches[j], branches[i]);
    }
    return cost;
  }

  /// The edge put on each circuit gathered at its far end, fed there or not.
  Frontier with(int edge, const Gathered& gathered) {
    const int node = far_end(edge), kind = site_.kind(edge);
    const Grain longest_nm = site_.tariff(edge).longest_nm(), feed = site_.feed(kind, node);
    sieve_.begin(std::max(longest_nm, site_.length_nm[at(edge)]));
    for (const State& state : gathered.joined) {
      const Grain load_nm = state.load_nm + site_.length_nm[at(edge)];
      const bool fits = state.tag.joined == 0 || load_nm <= longest_nm;
      if (!fits || (state.tag.marks & site_.marks[at(edge)]) != 0) continue;
      Tag tag{(state.tag.marks | site_.marks[at(edge)]) & site_.alive[at(edge)], 0, state.tag.fed};
      const Grain cost = state.cost + gathered.rest.cost;
      const int cables = state.tag.joined + 1;
      sieve_.add(load_nm, cost + site_.kits(node, cables, false), tag, state.step, gathered.rest.step);
      if (tag.fed || feed >= never) continue;
      tag.fed = true;
      sieve_.add(load_nm, cost + feed + site_.kits(node, cables, true), tag, state.step, gathered.rest.step);
    }
    return sieve_.finish(edge);
  }

  Frontier limited(Frontier frontier) {
    const std::size_t most = std::max<std::size_t>(4, site_.problem.effort.most_states);
    if (frontier.size() <= most) return frontier;
    exact_ = false;
    return mode_ == Mode::possible ? thinned(frontier, most) : rounded_down(frontier, most);
  }

  const Site& site_;
  Mode mode_;
  Trail trail_;
  Sieve sieve_;
  std::vector<Frontier> open_;  // by edge: circuits that hold it
  std::vector<Choice> below_;   // by edge not traced: all that hangs on it
  bool exact_ = true;
  std::size_t states_ = 0;
};

Grain bound(Site site) {
  site.parted.clear();
  return Pass(site, Mode::bound).run().cost;
}

}  // namespace

Partition divide(const Problem& problem) {
  const Site site(problem);
  Partition result;
  result.conflicts = site.conflicts;
  if (!site.conflicts.empty()) return result;
  Pass pass(site, Mode::possible);
  const Choice best = pass.run();
  result.states = pass.states();
  result.exact = pass.exact() && site.parted.empty();
  result.possible = best.cost < never;
  if (!result.possible) return result;
  result.circuit_of_edge = in_order(site, pass.circuits(best.step));
  result.circuits = appraise(site, result.circuit_of_edge);
  for (const Circuit& circuit : result.circuits) result.cost += circuit.cost;
  result.change_cost = change_cost(site, result);
  result.lower_bound = in_units(result.exact ? best.cost : bound(site));
  const double rounding = 1e-6 * static_cast<double>(8 * problem.edges.size() + 8);
  if (result.exact && std::abs(result.objective() - result.lower_bound) > rounding)
    throw std::logic_error("a division that does not cost what the search says");
  return result;
}

}  // namespace firstdraw::power::partition
