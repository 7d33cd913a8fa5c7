#include "week/optimise_nodes.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

namespace firstdraw::week {
namespace {

class Memory {
 public:
  explicit Memory(const GroupTask& task) : task_(task) {}

  /// None where the band is held too long.
  std::optional<Nodes::Node> after(const Nodes::Node& before, int to) const {
    const TemperatureGrid& grid = task_.automaton.grid;
    const double cold_c = grid.at_c(std::min(before.temperature, to));
    const double warm_c = grid.at_c(std::max(before.temperature, to));
    Nodes::Node next{to, 0, 0};
    if (const auto& band = task_.needs.band;
        band && cold_c < band->high_c - 1e-9 && warm_c > band->low_c + 1e-9) {
      next.in_band = before.in_band + 1;
      if (next.in_band > band->most_steps) return std::nullopt;
    }
    if (const auto& hold = task_.needs.hot_hold) {
      const bool done = before.hot >= hold->steps;
      next.hot = done ? hold->steps : cold_c >= hold->at_least_c - 1e-9 ? before.hot + 1 : 0;
    }
    return next;
  }

  std::optional<Nodes::Node> move(const Nodes::Node& from, int set_point) const {
    const Automaton& automaton = task_.automaton;
    if (automaton.set_points_c[static_cast<std::size_t>(set_point)] > task_.needs.most_c + 1e-9)
      return std::nullopt;
    const int to = automaton.to[static_cast<std::size_t>(automaton.place(set_point, from.temperature))];
    return to < 0 ? std::nullopt : after(from, to);
  }

 private:
  const GroupTask& task_;
};

std::map<Nodes::Node, int> reached(const GroupTask& task, const Memory& memory, int set_points) {
  std::set<Nodes::Node> seen;
  std::vector<Nodes::Node> waiting;
  for (int t = 0; t < task.automaton.grid.count; ++t) waiting.push_back({t, 0, 0});
  seen.insert(waiting.begin(), waiting.end());
  while (!waiting.empty()) {
    const Nodes::Node from = waiting.back();
    waiting.pop_back();
    for (int s = 0; s < set_points; ++s)
      if (const auto next = memory.move(from, s); next && seen.insert(*next).second) waiting.push_back(*next);
  }
  std::map<Nodes::Node, int> index;
  for (const Nodes::Node& node : seen) index.emplace(node, static_cast<int>(index.size()));
  return index;
}

Nodes::Node at_midnight(Nodes::Node node, int hot_done) {
  if (node.hot < hot_done) node.hot = 0;
  return node;
}

}  // namespace

Nodes nodes_of(const GroupTask& task) {
  const Automaton& automaton = task.automaton;
  const Memory memory(task);
  Nodes made;
  made.set_points = static_cast<int>(automaton.set_points_c.size());
  made.hot_done = task.needs.hot_hold ? task.needs.hot_hold->steps : 0;
  const auto index = reached(task, memory, made.set_points);
  for (const auto& [node, i] : index) made.nodes.push_back(node);
  for (const Nodes::Node& node : made.nodes) {
    const auto cold = index.find({node.temperature, node.in_band, 0});
    made.key.push_back(cold == index.end() ? -1 : cold->second);
  }
  for (int s = 0; s < made.set_points; ++s)
    for (const Nodes::Node& node : made.nodes) {
      const auto next = memory.move(node, s);
      made.to.push_back(next ? index.at(*next) : made.count());
      made.to_midnight.push_back(next ? index.at(at_midnight(*next, made.hot_done)) : made.count());
      made.coldest.push_back(next ? std::min(node.temperature, next->temperature) : 0);
      made.energy_j.push_back(
          automaton.energy_j[static_cast<std::size_t>(automaton.place(s, node.temperature))]);
    }
  return made;
}

}  // namespace firstdraw::week
