#include "power/circuit_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "power/id_index.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

std::string on_fixed(const job::Job& job, const CircuitKind& kind, int run) {
  return fmt::format("{} is on the fixed circuit {}", job.runs[at(run)].id,
                     job.known_circuits[at(kind.fixed)].id);
}

class Sorter {
 public:
  Sorter(const job::Job& job, const piping::Network& network,
         const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs)
      : job_(job),
        network_(network),
        cables_(cables),
        runs_(runs),
        overrides_(job::overrides_of(job)),
        groups_(job.groups),
        run_index_(job.runs) {
    const IdIndex panels(job.panels);
    for (const auto& group : job.groups) panel_of_group_.push_back(panels.find(group.panel));
  }

  CircuitKinds kinds() {
    for (std::size_t r = 0; r < runs_.size(); ++r) made_.of_run.push_back(kind_of(static_cast<int>(r)));
    for (std::size_t known = 0; known < job_.known_circuits.size(); ++known)
      if (job_.known_circuits[known].fixed) keep(static_cast<int>(known));
    return std::move(made_);
  }

 private:
  int kind_of(int run) {
    const int group = groups_.find(job_.runs[at(run)].group), cable = runs_[at(run)].cable;
    if (!network_.reached[at(run)] || cable == piping::none || group == piping::none) return piping::none;
    if (panel_of_group_[at(group)] == piping::none) return piping::none;
    const std::string_view part = part_of(job_.groups[at(group)], job_.runs[at(run)]);
    const auto [place, fresh] =
        known_.try_emplace(std::tuple(group, cable, part), static_cast<int>(made_.all.size()));
    if (fresh) add(group, cable, std::string(part));
    return place->second;
  }

  static std::string_view part_of(const job::ControlGroup& group, const job::Run& run) {
    switch (group.circuits) {
      case job::CircuitScope::group:
        return {};
      case job::CircuitScope::level:
        return run.level;
      case job::CircuitScope::space:
        return run.space;
    }
    return {};
  }

  void add(int group, int cable, std::string part) {
    const int panel = panel_of_group_[at(group)];
    made_.all.push_back(
        {group, panel, cable, std::move(part), piping::none,
         circuit_limits(cables_[at(cable)], job_.panels[at(panel)], job_.requirements, overrides_)});
  }

  void keep(int index) {
    const job::KnownCircuit& known = job_.known_circuits[at(index)];
    std::vector<int> members;
    if (const auto trouble = gather(known, members)) {
      made_.conflicts.push_back(
          fmt::format("Circuit {} is fixed but cannot stay as it is: {}. It is laid out like any other.",
                      known.id, *trouble));
      return;
    }
    CircuitKind kind = made_.all[at(made_.of_run[at(members.front())])];
    kind.fixed = index;
    kind.part.clear();
    if (known.breaker_a)
      kind.limits = limits_on(*known.breaker_a, std::move(kind.limits), cables_[at(kind.cable)],
                              job_.panels[at(kind.panel)], job_.requirements);
    for (const int run : members) made_.of_run[at(run)] = static_cast<int>(made_.all.size());
    made_.all.push_back(std::move(kind));
  }

  std::optional<std::string> gather(const job::KnownCircuit& known, std::vector<int>& members) const {
    if (known.runs.empty()) return "no runs are named";
    for (const std::string& id : known.runs) {
      const int run = run_index_.find(id);
      if (run == piping::none) return fmt::format("there is no run {}", id);
      if (made_.of_run[at(run)] == piping::none) return why_no_circuit(job_, network_, runs_, run);
      if (std::ranges::find(members, run) == members.end()) members.push_back(run);
    }
    if (auto mixed = mixed_runs(members)) return mixed;
    return broken_cable(known, members);
  }

  std::optional<std::string> mixed_runs(const std::vector<int>& members) const {
    const auto kind = [this](int run) -> const CircuitKind& { return made_.all[at(made_.of_run[at(run)])]; };
    const CircuitKind& first = kind(members.front());
    for (const int run : members) {
      const CircuitKind& other = kind(run);
      if (other.fixed != piping::none) return on_fixed(job_, other, run);
      if (other.group != first.group || other.cable != first.cable)
        return why_unlike(job_, made_, members.front(), run);
    }
    return std::nullopt;
  }

  /// Of a tree's edges n meet in one piece exactly when they touch n + 1 nodes.
  std::optional<std::string> broken_cable(const job::KnownCircuit& known,
                                          const std::vector<int>& members) const {
    std::set<int> nodes;
    for (const int run : members) nodes.insert({network_.from_node[at(run)], network_.to_node[at(run)]});
    if (nodes.size() != members.size() + 1) return "its runs do not all meet";
    if (!nodes.contains(network_.node(known.feed_node)))
      return fmt::format("its feed {} is not on it", known.feed_node);
    return std::nullopt;
  }

  const job::Job& job_;
  const piping::Network& network_;
  const std::vector<physics::HeatingCable>& cables_;
  const std::vector<RunCable>& runs_;
  std::vector<rules::Override> overrides_;
  IdIndex groups_, run_index_;
  std::vector<int> panel_of_group_;
  std::map<std::tuple<int, int, std::string_view>, int> known_;
  CircuitKinds made_;
};

}  // namespace

CircuitKinds circuit_kinds(const job::Job& job, const piping::Network& network,
                           const std::vector<physics::HeatingCable>& cables,
                           const std::vector<RunCable>& runs) {
  return Sorter(job, network, cables, runs).kinds();
}

std::string why_no_circuit(const job::Job& job, const piping::Network& network,
                           const std::vector<RunCable>& runs, int run) {
  const job::Run& named = job.runs[at(run)];
  if (!network.reached[at(run)]) return fmt::format("{} does not hang on the supply", named.id);
  if (runs[at(run)].cable == piping::none) return fmt::format("{} carries no heating cable", named.id);
  return fmt::format("{} is in no control group with a panel", named.id);
}

std::string why_unlike(const job::Job& job, const CircuitKinds& kinds, int first, int second) {
  const CircuitKind& one = kinds.all[at(kinds.of_run[at(first)])];
  const CircuitKind& other = kinds.all[at(kinds.of_run[at(second)])];
  const std::string& id = job.runs[at(second)].id;
  if (one.fixed != other.fixed)
    return other.fixed != piping::none ? on_fixed(job, other, second) : on_fixed(job, one, first);
  if (one.group != other.group)
    return fmt::format("{} is in control group {}, {} in {}", id, job.groups[at(other.group)].id,
                       job.runs[at(first)].id, job.groups[at(one.group)].id);
  if (one.cable != other.cable)
    return fmt::format("{} has another cable than {}", id, job.runs[at(first)].id);
  const bool levels = job.groups[at(one.group)].circuits == job::CircuitScope::level;
  return fmt::format("{} is in another {} than {}, and circuits of group {} keep to one", id,
                     levels ? "level" : "space", job.runs[at(first)].id, job.groups[at(one.group)].id);
}

}  // namespace firstdraw::power
