#include "generate_tree.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace firstdraw::bench {

namespace {

constexpr int runs_per_floor = 12;  // of one riser
constexpr int taps_per_drop = 2;

class Grower {
 public:
  Grower(int levels, int runs, Dice& dice) : levels_(levels), runs_(runs), dice_(dice) {
    tree_.risers = std::max(1, runs / (levels * runs_per_floor));
  }

  Tree grow() {
    int last = add({"P-01", "HEATER", "HDR", Place::plant, -1, 0, -1, dice_.halves(6, 12)});
    for (int riser = 0; riser < tree_.risers && !full(); ++riser) last = grow_main(riser, last);
    for (int riser = 0; riser < tree_.risers && !full(); ++riser) grow_riser(riser);
    grow_floors();
    count_taps();
    return std::move(tree_);
  }

 private:
  bool full() const { return static_cast<int>(tree_.branches.size()) >= runs_; }
  int add(Branch branch) {
    tree_.branches.push_back(std::move(branch));
    return static_cast<int>(tree_.branches.size()) - 1;
  }
  const std::string& end_of(int branch) const { return tree_.branches[static_cast<std::size_t>(branch)].to; }

  int grow_main(int riser, int from) {
    const int main =
        add({fmt::format("1-MAIN-{:02d}", riser + 1), end_of(from), fmt::format("F{}", riser + 1),
             Place::ground_main, from, 0, -1, dice_.halves(20, 60)});
    feet_.push_back(main);
    return main;
  }

  void grow_riser(int riser) {
    if (riser >= static_cast<int>(feet_.size())) return;
    int from = feet_[static_cast<std::size_t>(riser)];
    floors_.push_back({from, 0, riser});
    for (int level = 1; level < levels_ && !full(); ++level) {
      from = add({fmt::format("R{}-{:02d}", riser + 1, level + 1), end_of(from),
                  fmt::format("R{}L{}", riser + 1, level + 1), Place::riser, from, level - 1, riser,
                  level == 1 ? 15.0 : 10.0});
      floors_.push_back({from, level, riser});
    }
  }

  void grow_floors() {
    const int left = runs_ - static_cast<int>(tree_.branches.size());
    if (left <= 0 || floors_.empty()) return;
    const int floors = static_cast<int>(floors_.size());
    for (int i = 0; i < floors; ++i)
      grow_floor(floors_[static_cast<std::size_t>(i)], left / floors + (i < left % floors));
  }

  struct Floor {
    int from, level, riser;
  };

  /// Bays of a floor main, a wall branch and two drops, until the floor has its share of runs.
  void grow_floor(const Floor& floor, int share) {
    const std::string name = fmt::format("{}R{}", floor.level + 1, floor.riser + 1);
    int main = floor.from, wall = -1;
    for (int i = 0; i < share; ++i) {
      const int bay = i / 4 + 1, part = i % 4;
      const auto piece = [&](const char* what, const std::string& suffix, int from, Place place,
                             double length_ft) {
        return add({fmt::format("{}-{}-{:02d}{}", name, what, bay, suffix), end_of(from),
                    fmt::format("{}{}{}{}", name, what[0], bay, suffix), place, from, floor.level,
                    floor.riser, length_ft});
      };
      if (part == 0) main = piece("MAIN", "", main, Place::floor_main, dice_.halves(20, 28));
      if (part == 1) wall = piece("WALL", "", main, Place::wall, dice_.halves(5, 8));
      if (part >= 2) piece("DROP", part == 2 ? "a" : "b", wall, Place::drop, dice_.halves(7, 9));
    }
  }

  void count_taps() {
    auto& branches = tree_.branches;
    for (std::size_t i = branches.size(); i-- > 0;) {
      // A drop has its taps, and whatever else ends in nothing has a sink.
      if (branches[i].place == Place::drop) branches[i].taps_below = taps_per_drop;
      branches[i].taps_below = std::max(branches[i].taps_below, 1);
      if (branches[i].parent >= 0) {
        branches[static_cast<std::size_t>(branches[i].parent)].taps_below += branches[i].taps_below;
      }
    }
  }

  int levels_, runs_;
  Dice& dice_;
  Tree tree_;
  std::vector<int> feet_;
  std::vector<Floor> floors_;
};

}  // namespace

std::uint64_t Dice::next() {
  std::uint64_t z = (state_ += 0x9e3779b97f4a7c15u);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

double Dice::halves(double low, double high) {
  const auto steps = static_cast<std::uint64_t>(2 * (high - low)) + 1;
  return low + 0.5 * static_cast<double>(next() % steps);
}

Tree grow_tree(int levels, int runs, Dice& dice) { return Grower(levels, runs, dice).grow(); }

}  // namespace firstdraw::bench
