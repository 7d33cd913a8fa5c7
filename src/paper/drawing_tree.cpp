#include "paper/drawing_tree.hpp"

#include <algorithm>
#include <numeric>

namespace firstdraw::paper {
namespace {

constexpr double fan_mm = 2.2;           // between jogs of one vertex
constexpr double vertical_gap_mm = 2.0;  // between verticals
constexpr double box_gap_mm = 6;         // right of what hangs from an earlier vertex
constexpr double riser_gap_mm = 13;      // right of everything on the levels a riser passes
constexpr double start_mm = 16;

std::vector<int> levels_by_height(const job::Job& job) {
  std::vector<int> order(job.levels.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return job.levels[static_cast<std::size_t>(a)].elevation_m <
           job.levels[static_cast<std::size_t>(b)].elevation_m;
  });
  return order;
}

class Grower {
 public:
  Grower(const job::Job& job, const piping::Network& network) : job_(job), network_(network) {
    for (int level : levels_by_height(job))
      tree_.level_ids.push_back(job.levels[static_cast<std::size_t>(level)].id);
    if (tree_.level_ids.empty()) tree_.level_ids.emplace_back();
    const std::size_t ends = job.runs.size() + 1;
    tree_.children.resize(ends);
    tree_.parent.assign(ends, -1);
    tree_.ends.resize(ends);
    tree_.shapes.resize(job.runs.size());
    weight_.assign(ends, 1);
    has_riser_.assign(ends, false);
    from_below_.assign(ends, false);
    from_above_.assign(ends, false);
    frontier_mm_.assign(tree_.level_ids.size(), 0);
    verticals_mm_.resize(tree_.level_ids.size());
  }

  DrawnTree grow() {
    if (network_.supply_node != piping::none) {
      link();
      set_levels();
      weigh();
      measure_outlets();
      grow_main(0, start_mm, add_main(end(0).level, -1, start_mm));
    }
    return std::move(tree_);
  }

 private:
  struct Split {
    int along = -1;
    std::vector<int> up, down;  // straight risers, at most one each
    std::vector<int> hanging;   // branches and far risers, leftmost jog first
  };

  DrawnEnd& end(int vertex) { return tree_.ends[static_cast<std::size_t>(vertex)]; }
  RunShape& shape(int vertex) { return tree_.shapes[static_cast<std::size_t>(vertex - 1)]; }
  const job::Run& run(int vertex) const { return job_.runs[static_cast<std::size_t>(vertex - 1)]; }
  const std::vector<int>& children(int vertex) const {
    return tree_.children[static_cast<std::size_t>(vertex)];
  }
  double& frontier(int level) { return frontier_mm_[static_cast<std::size_t>(level)]; }
  std::set<double>& verticals(int level) { return verticals_mm_[static_cast<std::size_t>(level)]; }

  void link() {
    for (int index : network_.order) {
      const int above = network_.upstream_run[static_cast<std::size_t>(index)];
      const int parent = above == piping::none ? 0 : above + 1;
      tree_.parent[static_cast<std::size_t>(index) + 1] = parent;
      tree_.children[static_cast<std::size_t>(parent)].push_back(index + 1);
    }
    for (auto& each : tree_.children) std::sort(each.begin(), each.end());
  }

  int level_index(const std::string& id, int otherwise) const {
    const auto found = std::find(tree_.level_ids.begin(), tree_.level_ids.end(), id);
    return found == tree_.level_ids.end() ? otherwise : static_cast<int>(found - tree_.level_ids.begin());
  }

  // A riser's row may name the level it leaves or the one it reaches: what hangs on its far end decides.
  int level_reached(int vertex, int from) const {
    const int own = level_index(run(vertex).level, from);
    if (run(vertex).orientation == physics::Orientation::horizontal) return own;
    for (int child : children(vertex))
      if (run(child).orientation == physics::Orientation::horizontal)
        return level_index(run(child).level, own);
    if (own != from) return own;
    for (int child : children(vertex))
      if (const int next = level_index(run(child).level, from); next != from) return next;
    return from;
  }

  void set_levels() {
    const int lowest = network_.order.empty() ? 0 : level_index(run(network_.order.front() + 1).level, 0);
    end(0).level = level_index(job_.supply.level, lowest);
    for (int index : network_.order) {
      const int vertex = index + 1;
      end(vertex).level = level_reached(vertex, end(tree_.parent[static_cast<std::size_t>(vertex)]).level);
    }
  }

  void weigh() {
    for (auto each = network_.order.rbegin(); each != network_.order.rend(); ++each) {
      const auto vertex = static_cast<std::size_t>(*each) + 1;
      const auto parent = static_cast<std::size_t>(tree_.parent[vertex]);
      weight_[parent] += weight_[vertex];
      if (has_riser_[vertex] || tree_.ends[vertex].level != tree_.ends[parent].level)
        has_riser_[parent] = true;
    }
  }

  void measure_outlets() {
    for (int node = 0; node + 1 < static_cast<int>(network_.outlets_first.size()); ++node) {
      const auto first = network_.outlets_first[static_cast<std::size_t>(node)];
      const auto last = network_.outlets_first[static_cast<std::size_t>(node) + 1];
      outlets_mm_.push_back((last - first) * outlet_pitch_mm);
    }
    end(0).outlets_mm = outlets_at(network_.supply_node);
    for (int index : network_.order)
      end(index + 1).outlets_mm = outlets_at(network_.to_node[static_cast<std::size_t>(index)]);
  }
  double outlets_at(int node) const {
    return node >= 0 && node < static_cast<int>(outlets_mm_.size())
               ? outlets_mm_[static_cast<std::size_t>(node)]
               : 0;
  }

  bool has_sensor(int vertex) const {
    return std::ranges::any_of(job_.groups, [&](const job::ControlGroup& group) {
      return group.kind == job::ControlKind::pipe_sensor && group.sensor_run == run(vertex).id;
    });
  }

  // Room for the labels, or the schematic length if that is longer.
  double drawn_length_mm(int vertex) const {
    const auto letters =
        static_cast<double>(std::max({run(vertex).id.size(), run(vertex).pipe.size.size(), std::size_t{3}}));
    const double label_mm = std::clamp(1.45 * letters + 3.4, 13.0, 32.0);
    const double scaled_mm = std::clamp(run(vertex).length_m * 0.9, 0.0, 34.0);
    const bool ends_here = children(vertex).empty();
    const double outlets_mm = ends_here ? 0 : tree_.ends[static_cast<std::size_t>(vertex)].outlets_mm;
    return std::max(label_mm, scaled_mm) + outlets_mm + (has_sensor(vertex) ? sensor_room_mm : 0);
  }

  int add_main(int level, int parent, double x_mm) {
    tree_.mains.push_back({level, parent, x_mm, x_mm, 0});
    return static_cast<int>(tree_.mains.size()) - 1;
  }

  Split split(int vertex) {
    Split parts;
    std::vector<int> same;
    for (int child : children(vertex)) {
      const int rise = end(child).level - end(vertex).level;
      const bool straight_up = rise > 0 && parts.up.empty() && !from_above_[static_cast<std::size_t>(vertex)];
      const bool straight_down =
          rise < 0 && parts.down.empty() && !from_below_[static_cast<std::size_t>(vertex)];
      if (rise == 0)
        same.push_back(child);
      else if (straight_up)
        parts.up.push_back(child);
      else if (straight_down)
        parts.down.push_back(child);
      else
        parts.hanging.push_back(child);
    }
    std::stable_sort(same.begin(), same.end(), [&](int a, int b) { return importance(a) > importance(b); });
    if (!same.empty()) parts.along = same.front();
    if (same.size() > 1) parts.hanging.insert(parts.hanging.begin(), same.begin() + 1, same.end());
    return parts;
  }
  std::pair<bool, int> importance(int vertex) const {
    return {has_riser_[static_cast<std::size_t>(vertex)], weight_[static_cast<std::size_t>(vertex)]};
  }

  bool down_slot_taken(int vertex, const Split& parts) const {
    return !parts.down.empty() || from_below_[static_cast<std::size_t>(vertex)];
  }

  // Levels a straight riser that starts at `vertex` passes, its continuations included.
  std::pair<int, int> riser_reach(int vertex) {
    int low = end(vertex).level, high = low;
    for (int direction : {1, -1}) {
      for (int at = vertex;;) {
        const auto& below = children(at);
        const auto next = std::find_if(below.begin(), below.end(), [&](int child) {
          return (end(child).level - end(at).level) * direction > 0;
        });
        if (next == below.end()) break;
        at = *next;
        low = std::min(low, end(at).level);
        high = std::max(high, end(at).level);
      }
    }
    return {low, high};
  }

  // The nearest x not left of `least_mm` where `vertex` can stand.
  double choose_x_mm(int vertex, double least_mm, double hung_mm) {
    const Split parts = split(vertex);
    const auto [low, high] = riser_reach(vertex);
    double x_mm = least_mm;
    if (!parts.hanging.empty() || low != high) x_mm = std::max(x_mm, hung_mm + box_gap_mm);
    if (low != high)
      for (int level = low; level <= high; ++level) x_mm = std::max(x_mm, frontier(level) + riser_gap_mm);
    const double fan_width_mm = fan_mm * static_cast<double>(parts.hanging.size());
    for (int level = low; level <= high;) {
      const auto taken = verticals(level).lower_bound(x_mm - vertical_gap_mm);
      const bool clash = taken != verticals(level).end() && *taken <= x_mm + fan_width_mm + vertical_gap_mm;
      if (clash) x_mm = *taken + vertical_gap_mm * 1.01;
      level = clash ? low : level + 1;
    }
    return x_mm;
  }

  void mark_vertical(int low, int high, double x_mm) {
    for (int level = std::min(low, high); level <= std::max(low, high); ++level) {
      verticals(level).insert(x_mm);
      frontier(level) = std::max(frontier(level), x_mm);
    }
  }

  void stand(int vertex, double x_mm, int main) {
    DrawnEnd& here = end(vertex);
    here.x_mm = x_mm;
    here.main = main;
    const double right_mm = x_mm + (children(vertex).empty() ? here.outlets_mm + 1 : 0);
    DrawnMain& lane = tree_.mains[static_cast<std::size_t>(main)];
    lane.x0_mm = std::min(lane.x0_mm, x_mm);
    lane.x1_mm = std::max(lane.x1_mm, right_mm);
    frontier(here.level) = std::max(frontier(here.level), right_mm);
  }

  void rise(int parent, int vertex, double x_mm, RunShape drawn) {
    shape(vertex) = drawn;
    const int from = end(parent).level, to = end(vertex).level;
    from_below_[static_cast<std::size_t>(vertex)] = to > from;
    from_above_[static_cast<std::size_t>(vertex)] = to < from;
    mark_vertical(from, to, x_mm);
    grow_main(vertex, x_mm, add_main(to, -1, x_mm));
  }

  // A branch, or a riser that finds the straight way taken. Returns how far right it reaches on this level.
  double hang(int parent, int vertex, double jog_mm, bool fanned) {
    const int level = end(parent).level;
    const int main = add_main(level, end(parent).main, jog_mm);
    if (end(vertex).level == level) {
      shape(vertex) = {RunShape::Kind::branch, jog_mm, fanned, main};
      return grow_main(vertex, choose_x_mm(vertex, jog_mm + drawn_length_mm(vertex), jog_mm), main);
    }
    const int low = std::min(level, end(vertex).level), high = std::max(level, end(vertex).level);
    double x_mm = choose_x_mm(vertex, jog_mm + drawn_length_mm(vertex), jog_mm);
    for (int each = low; each <= high; ++each) x_mm = std::max(x_mm, frontier(each) + riser_gap_mm);
    tree_.mains[static_cast<std::size_t>(main)].x1_mm = x_mm;
    rise(parent, vertex, x_mm, {RunShape::Kind::far_riser, jog_mm, fanned, main});
    return x_mm;
  }

  // Places `vertex` and all that hangs on it; returns how far right that reaches on its own level.
  double grow_main(int vertex, double x_mm, int main) {
    double right_mm = x_mm, hung_mm = x_mm;
    for (;;) {
      stand(vertex, x_mm, main);
      const Split parts = split(vertex);
      const int first_slot = down_slot_taken(vertex, parts) ? 1 : 0;
      const auto slot_mm = [&](std::size_t index) {
        return x_mm + fan_mm * (first_slot + static_cast<double>(index));
      };
      for (std::size_t each = 0; each < parts.hanging.size(); ++each)
        mark_vertical(end(vertex).level, end(vertex).level, slot_mm(each));
      for (int child : parts.up) rise(vertex, child, x_mm, {RunShape::Kind::riser});
      for (int child : parts.down) rise(vertex, child, x_mm, {RunShape::Kind::riser});
      for (std::size_t each = parts.hanging.size(); each-- > 0;)
        hung_mm = std::max(hung_mm, hang(vertex, parts.hanging[each], slot_mm(each), slot_mm(each) > x_mm));
      right_mm = std::max({right_mm, hung_mm, tree_.mains[static_cast<std::size_t>(main)].x1_mm});
      if (parts.along < 0) return right_mm;
      shape(parts.along).kind = RunShape::Kind::along;
      x_mm = choose_x_mm(parts.along, x_mm + drawn_length_mm(parts.along), hung_mm);
      vertex = parts.along;
    }
  }

  const job::Job& job_;
  const piping::Network& network_;
  DrawnTree tree_;
  std::vector<int> weight_;
  std::vector<bool> has_riser_, from_below_, from_above_;
  std::vector<double> frontier_mm_, outlets_mm_;
  std::vector<std::set<double>> verticals_mm_;
};

bool clash(const DrawnMain& a, const DrawnMain& b) {
  constexpr double clear_mm = 4;
  return a.x0_mm < b.x1_mm + clear_mm && b.x0_mm < a.x1_mm + clear_mm;
}

}  // namespace

DrawnTree grow_tree(const job::Job& job, const piping::Network& network) {
  return Grower(job, network).grow();
}

std::vector<int> assign_lanes(DrawnTree& tree) {
  std::vector<std::vector<std::vector<int>>> lanes(tree.level_ids.size());  // mains by level and lane
  for (std::size_t index = 0; index < tree.mains.size(); ++index) {
    DrawnMain& main = tree.mains[index];
    auto& level = lanes[static_cast<std::size_t>(main.level)];
    main.lane = main.parent < 0 ? 0 : tree.mains[static_cast<std::size_t>(main.parent)].lane + 1;
    const auto taken = [&](int other) { return clash(main, tree.mains[static_cast<std::size_t>(other)]); };
    while (main.lane < std::ssize(level) &&
           std::ranges::any_of(level[static_cast<std::size_t>(main.lane)], taken))
      ++main.lane;
    if (main.lane >= std::ssize(level)) level.resize(static_cast<std::size_t>(main.lane) + 1);
    level[static_cast<std::size_t>(main.lane)].push_back(static_cast<int>(index));
  }
  std::vector<int> counts;
  for (const auto& level : lanes) counts.push_back(static_cast<int>(level.size()));
  return counts;
}

}  // namespace firstdraw::paper
