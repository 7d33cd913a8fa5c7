#include "paper/drawing.hpp"

#include <algorithm>

#include "paper/drawing_tree.hpp"

namespace firstdraw::paper {
namespace {

constexpr double lane_pitch_mm = 11.5, above_lanes_mm = 11, below_lanes_mm = 8, right_margin_mm = 14;
constexpr double fan_drop_mm = 1.6;
constexpr double stray_pitch_mm = 34, stray_length_mm = 24;
constexpr double least_width_mm = 120;

class Drafter {
 public:
  Drafter(const job::Job& job, const piping::Network& network)
      : job_(job), network_(network), tree_(grow_tree(job, network)), lanes_(assign_lanes(tree_)) {}

  RiserDrawing draw() {
    drawing_.nodes.resize(network_.node_ids.size());
    bands();
    for (int index : network_.order) run(index);
    if (network_.supply_node != piping::none)
      drawing_.nodes[static_cast<std::size_t>(network_.supply_node)] = at(tree_.ends.front());
    strays();
    outlets();
    return std::move(drawing_);
  }

 private:
  double lane_mm(int level, int lane) const {
    return top_mm_[static_cast<std::size_t>(level)] + above_lanes_mm + lane * lane_pitch_mm;
  }
  double lane_mm(int main) const {
    const DrawnMain& lane = tree_.mains[static_cast<std::size_t>(main)];
    return lane_mm(lane.level, lane.lane);
  }
  Point at(const DrawnEnd& end) const { return {end.x_mm, lane_mm(end.main)}; }

  std::string level_name(const std::string& id) const {
    const auto found = std::ranges::find(job_.levels, id, &job::Level::id);
    return found == job_.levels.end() || found->name.empty() ? id : found->name;
  }

  void bands() {
    top_mm_.resize(tree_.level_ids.size());
    double y_mm = 0, right_mm = least_width_mm;
    for (std::size_t level = tree_.level_ids.size(); level-- > 0;) {
      top_mm_[level] = y_mm;
      const double bottom_mm =
          y_mm + above_lanes_mm + std::max(0, lanes_[level] - 1) * lane_pitch_mm + below_lanes_mm;
      drawing_.levels.push_back(
          {tree_.level_ids[level], level_name(tree_.level_ids[level]), y_mm, bottom_mm});
      y_mm = bottom_mm;
    }
    for (const DrawnMain& main : tree_.mains) right_mm = std::max(right_mm, main.x1_mm + right_margin_mm);
    drawing_.width_mm = right_mm;
    drawing_.height_mm = y_mm;
  }

  void run(int index) {
    const auto vertex = static_cast<std::size_t>(index) + 1;
    const Point from = at(tree_.ends[static_cast<std::size_t>(tree_.parent[vertex])]),
                to = at(tree_.ends[vertex]);
    const RunShape& shape = tree_.shapes[static_cast<std::size_t>(index)];
    DrawnRun drawn{index, {from}};
    if (shape.kind == RunShape::Kind::branch || shape.kind == RunShape::Kind::far_riser) {
      const double lane = lane_mm(shape.lane_main);
      if (shape.fanned) drawn.line.push_back({shape.jog_mm, from.y_mm + fan_drop_mm});
      drawn.line.push_back({shape.jog_mm, lane});
      if (shape.kind == RunShape::Kind::far_riser) drawn.line.push_back({to.x_mm, lane});
    }
    drawn.line.push_back(to);
    drawing_.runs.push_back(std::move(drawn));
    set_node(network_.to_node[static_cast<std::size_t>(index)], to);
  }

  void set_node(int node, Point point) {
    Point& known = drawing_.nodes[static_cast<std::size_t>(node)];
    if (known.x_mm == 0 && known.y_mm == 0) known = point;
  }

  // Runs that do not hang on the supply: drawn apart, so that a survey slip is seen and not lost.
  void strays() {
    std::vector<int> strays;
    for (int index = 0; index < std::ssize(job_.runs); ++index)
      if (tree_.parent[static_cast<std::size_t>(index) + 1] < 0) strays.push_back(index);
    if (strays.empty()) return;
    const auto columns = std::max(1, static_cast<int>(drawing_.width_mm / stray_pitch_mm));
    const double top = drawing_.height_mm;
    for (int place = 0; place < std::ssize(strays); ++place) {
      const int row = place / columns, column = place % columns;
      const Point from{6 + column * stray_pitch_mm, top + above_lanes_mm + row * lane_pitch_mm};
      const Point to{from.x_mm + stray_length_mm, from.y_mm};
      const int index = strays[static_cast<std::size_t>(place)];
      drawing_.runs.push_back({index, {from, to}});
      set_node(network_.from_node[static_cast<std::size_t>(index)], from);
      set_node(network_.to_node[static_cast<std::size_t>(index)], to);
    }
    const auto rows = (std::ssize(strays) + columns - 1) / columns;
    drawing_.height_mm += above_lanes_mm + static_cast<double>(rows - 1) * lane_pitch_mm + below_lanes_mm;
    drawing_.levels.push_back({"", "Not connected to the supply", top, drawing_.height_mm});
  }

  // Beyond the end of a last run, else below the run that arrives.
  void outlets() {
    for (int node = 0; node + 1 < std::ssize(network_.outlets_first); ++node) {
      const bool last = network_.downstream_of(node).empty();
      const Point point = drawing_.nodes[static_cast<std::size_t>(node)];
      const int first = network_.outlets_first[static_cast<std::size_t>(node)];
      for (int each = first; each < network_.outlets_first[static_cast<std::size_t>(node) + 1]; ++each) {
        const double shift_mm = 2 + (each - first) * outlet_pitch_mm;
        const Point place =
            last ? Point{point.x_mm + shift_mm, point.y_mm} : Point{point.x_mm - shift_mm, point.y_mm + 3.4};
        drawing_.outlets.push_back({network_.outlets[static_cast<std::size_t>(each)], place});
      }
    }
  }

  const job::Job& job_;
  const piping::Network& network_;
  DrawnTree tree_;
  std::vector<int> lanes_;
  std::vector<double> top_mm_;
  RiserDrawing drawing_;
};

}  // namespace

RiserDrawing draw_riser(const job::Job& job, const piping::Network& network) {
  return Drafter(job, network).draw();
}

}  // namespace firstdraw::paper
