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

Nodes::Node at_midnight(Nodes::Node node, int hot_done) {
  if (node.hot < hot_done) node.hot = 0;
  return node;
}

/// A step that ends within the band was in it. A cycle must leave the band, so that every node of it is
/// reached from outside.
bool may_be_fresh(const GroupTask& task, int temperature) {
  const auto& band = task.needs.band;
  const double c = task.automaton.grid.at_c(temperature);
  return !band || !(c < band->high_c - 1e-9 && c > band->low_c + 1e-9);
}

std::set<Nodes::Node> reached(const GroupTask& task, const Memory& memory, int set_points) {
  std::set<Nodes::Node> seen;
  std::vector<Nodes::Node> waiting;
  const auto reach = [&](const Nodes::Node& node) {
    if (seen.insert(node).second) waiting.push_back(node);
  };
  for (int t = 0; t < task.automaton.grid.count; ++t)
    if (may_be_fresh(task, t)) reach({t, 0, 0});
  while (!waiting.empty()) {
    const Nodes::Node from = waiting.back();
    waiting.pop_back();
    reach({from.temperature, from.in_band, 0});  // after midnight
    for (int s = 0; s < set_points; ++s)
      if (const auto next = memory.move(from, s)) reach(*next);
  }
  return seen;
}

/// Without the nodes from which every way ends in what is forbidden: no cycle comes there.
void drop_dead_ends(std::set<Nodes::Node>& nodes, const Memory& memory, int set_points, int hot_done) {
  const auto leads_on = [&](const Nodes::Node& node) {
    for (int s = 0; s < set_points; ++s)
      if (const auto next = memory.move(node, s);
          next && (nodes.contains(*next) || nodes.contains(at_midnight(*next, hot_done))))
        return true;
    return false;
  };
  while (std::erase_if(nodes, [&](const Nodes::Node& node) { return !leads_on(node); }) > 0) {
  }
}

std::map<Nodes::Node, int> numbered(const std::set<Nodes::Node>& nodes) {
  std::map<Nodes::Node, int> index;
  for (const Nodes::Node& node : nodes) index.emplace_hint(index.end(), node, static_cast<int>(index.size()));
  return index;
}

}  // namespace

Nodes nodes_of(const GroupTask& task) {
  const Automaton& automaton = task.automaton;
  const Memory memory(task);
  Nodes made;
  made.set_points = static_cast<int>(automaton.set_points_c.size());
  made.hot_done = task.needs.hot_hold ? task.needs.hot_hold->steps : 0;
  std::set<Nodes::Node> all = reached(task, memory, made.set_points);
  if (task.needs.band) drop_dead_ends(all, memory, made.set_points, made.hot_done);
  const auto index = numbered(all);
  for (const auto& [node, i] : index) made.nodes.push_back(node);
  for (const Nodes::Node& node : made.nodes) {
    const auto cold = index.find({node.temperature, node.in_band, 0});
    made.key.push_back(cold == index.end() ? -1 : cold->second);
  }
  const auto place = [&](const std::optional<Nodes::Node>& node) {
    const auto found = node ? index.find(*node) : index.end();
    return found == index.end() ? made.count() : found->second;
  };
  const auto midnight = [&](std::optional<Nodes::Node> node) {
    return place(node ? std::optional(at_midnight(*node, made.hot_done)) : node);
  };
  for (int s = 0; s < made.set_points; ++s)
    for (const Nodes::Node& node : made.nodes) {
      const auto next = memory.move(node, s);
      made.to.push_back(place(next));
      made.to_midnight.push_back(midnight(next));
      made.coldest.push_back(next ? std::min(node.temperature, next->temperature) : 0);
      made.energy_j.push_back(
          automaton.energy_j[static_cast<std::size_t>(automaton.place(s, node.temperature))]);
    }
  return made;
}

}  // namespace firstdraw::week
