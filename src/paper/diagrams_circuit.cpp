#include "paper/diagrams_circuit.hpp"

#include <algorithm>
#include <functional>

#include "power/circuit_cable.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr TextStyle stretch_style{5.6, 400, false, colours::quiet, Anchor::middle};
constexpr TextStyle node_style{6, 600};
constexpr double feed_mm = 4, top_mm = 3.4;  // above the first row: the feed's name
const Pen cable_pen{colours::text, 0.55, {}};
const Pen thin_pen{colours::text, 0.25, {}};

using Children = std::vector<std::vector<int>>;  // by stretch, last: those that leave the feed

Children children_of(const CableTree& tree) {
  Children children(tree.stretches.size() + 1);
  for (int each = 0; each < std::ssize(tree.stretches); ++each) {
    const int parent = tree.stretches[at(each)].parent;
    children[parent < 0 ? tree.stretches.size() : at(parent)].push_back(each);
  }
  return children;
}

// Metres from the feed to the farthest end behind each stretch.
std::vector<double> reach_of(const CableTree& tree) {
  std::vector<double> reach(tree.stretches.size());
  for (std::size_t each = tree.stretches.size(); each-- > 0;) {
    const CableTree::Stretch& stretch = tree.stretches[each];
    reach[each] = std::max(reach[each], stretch.end_m);
    if (stretch.parent >= 0) reach[at(stretch.parent)] = std::max(reach[at(stretch.parent)], reach[each]);
  }
  return reach;
}

void give_rows(CableTree& tree) {
  Children children = children_of(tree);
  const std::vector<double> reach = reach_of(tree);
  for (auto& siblings : children)
    std::ranges::stable_sort(siblings, std::greater<>(), [&](int each) { return reach[at(each)]; });
  std::vector<int> waiting(children.back().rbegin(), children.back().rend());
  bool on_from_before = false;
  while (!waiting.empty()) {
    const int each = waiting.back();
    waiting.pop_back();
    if (!on_from_before) ++tree.rows;
    tree.stretches[at(each)].row = tree.rows - 1;
    const auto& next = children[at(each)];
    tree.stretches[at(each)].children = static_cast<int>(next.size());
    waiting.insert(waiting.end(), next.rbegin(), next.rend());
    on_from_before = !next.empty();
  }
}

class Picture {
 public:
  Picture(Ink& ink, const Frame& frame, const CableTree& tree, const CableTreeTexts& texts)
      : ink_(ink), frame_(frame), tree_(tree), texts_(texts) {
    double names_mm = 0;
    for (const std::string& far : texts.far)
      names_mm = std::max(names_mm, ink.label_width_mm(far, node_style));
    left_mm_ = frame.left_mm + feed_mm;
    right_mm_ = frame.right_mm - std::min(names_mm, 0.4 * frame.width_mm()) - 3;
    row_mm_ = (frame.height_mm() - top_mm) / std::max(tree.rows, 1);
  }

  void draw() {
    forks();
    for (std::size_t each = 0; each < tree_.stretches.size(); ++each) stretch(each);
    for (std::size_t each = 0; each < tree_.stretches.size(); ++each) far_end(each);
    feed();
  }

 private:
  double x_mm(double from_feed_m) const {
    return left_mm_ + from_feed_m / std::max(tree_.longest_m, 1e-9) * (right_mm_ - left_mm_);
  }
  double y_mm(int row) const { return frame_.top_mm + top_mm + (row + 0.5) * row_mm_; }

  // From each node down to the lowest row that leaves it.
  void forks() {
    for (const CableTree::Stretch& stretch : tree_.stretches) {
      const int row = stretch.parent < 0 ? 0 : tree_.stretches[at(stretch.parent)].row;
      if (stretch.row != row)
        ink_.line({x_mm(stretch.begin_m), y_mm(row)}, {x_mm(stretch.begin_m), y_mm(stretch.row)}, cable_pen);
    }
  }

  void stretch(std::size_t index) {
    const CableTree::Stretch& each = tree_.stretches[index];
    const double begin = x_mm(each.begin_m), end = x_mm(each.end_m), y = y_mm(each.row);
    ink_.line({begin, y}, {end, y}, cable_pen);
    const std::string& text = texts_.stretches[index];
    if (ink_.label_width_mm(text, stretch_style) < end - begin - 1.2)
      ink_.label({(begin + end) / 2, y - 0.8}, text, stretch_style);
  }

  void far_end(std::size_t index) {
    const CableTree::Stretch& each = tree_.stretches[index];
    const double x = x_mm(each.end_m), y = y_mm(each.row);
    if (each.children == 0) {
      ink_.line({x, y - 1.2}, {x, y + 1.2}, {colours::text, 0.9, {}});
      const double room_mm = frame_.right_mm - x - 1.6;
      ink_.label({x + 1.6, y + 0.75}, fitted(ink_, texts_.far[index], node_style, room_mm), node_style);
    } else if (each.children > 1) {
      tee({x, y}, texts_.far[index]);
    }
  }

  // Its name below, to the left of the branch that leaves downwards, where there is room for it.
  void tee(Point point, const std::string& name) {
    ink_.circle(point, 0.9, colours::text, std::nullopt);
    TextStyle style = node_style;
    style.anchor = Anchor::end;
    if (row_mm_ >= 4 && ink_.label_width_mm(name, style) < point.x_mm - left_mm_ - 2)
      ink_.label({point.x_mm - 0.9, point.y_mm + 2.5}, name, style);
  }

  void feed() {
    const Point corner{frame_.left_mm, y_mm(0) - 1.6};
    ink_.rectangle(corner, feed_mm, 3.2, colours::white, thin_pen);
    ink_.label({frame_.left_mm, frame_.top_mm + 2.2},
               fitted(ink_, texts_.feed, node_style, frame_.width_mm()), node_style);
  }

  Ink& ink_;
  Frame frame_;
  const CableTree& tree_;
  const CableTreeTexts& texts_;
  double left_mm_ = 0, right_mm_ = 0, row_mm_ = 0;
};

}  // namespace

CableTree cable_tree(const plan::Plan& plan, const power::Circuit& circuit) {
  std::vector<double> length_m;
  for (const int run : circuit.runs) length_m.push_back(plan.runs[at(run)].cable_length_m);
  const power::CircuitCable cable =
      power::circuit_cable(plan.network, circuit.runs, length_m, circuit.feed_node);
  CableTree tree;
  tree.feed_node = circuit.feed_node;
  for (std::size_t each = 0; each < cable.stretches.size(); ++each) {
    const power::CableStretch& from = cable.stretches[each];
    CableTree::Stretch stretch;
    stretch.run = circuit.runs[at(cable.run_position[each])];
    stretch.parent = from.parent;
    stretch.far_node = cable.far_node[each];
    stretch.near_node = from.parent < 0 ? circuit.feed_node : cable.far_node[at(from.parent)];
    stretch.begin_m = from.parent < 0 ? 0 : tree.stretches[at(from.parent)].end_m;
    stretch.end_m = stretch.begin_m + from.length_m;
    tree.longest_m = std::max(tree.longest_m, stretch.end_m);
    tree.from_feed += from.parent < 0 ? 1 : 0;
    tree.stretches.push_back(stretch);
  }
  give_rows(tree);
  return tree;
}

double cable_tree_height_mm(const CableTree& tree, double row_mm) { return top_mm + tree.rows * row_mm; }

void draw_cable_tree(Ink& ink, const Frame& frame, const CableTree& tree, const CableTreeTexts& texts) {
  ink.begin("cable", "Cable of the circuit");
  Picture(ink, frame, tree, texts).draw();
  ink.end();
}

}  // namespace firstdraw::paper
