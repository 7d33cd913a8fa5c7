// The bare tree of a generated building: who hangs on whom, where, and how much hangs below.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace firstdraw::bench {

/// Small, fast and the same everywhere, unlike the distributions of the standard library (splitmix64).
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  /// low..high in steps of a half.
  double halves(double low, double high);

 private:
  std::uint64_t state_;
};

enum class Place { plant, ground_main, riser, floor_main, wall, drop };

struct Branch {
  std::string id, from, to;
  Place place{};
  int parent = -1;  // index of the branch upstream
  int level = 0;    // index
  int riser = -1;   // index; -1: ground mains
  double length_ft = 0;
  int taps_below = 0;  // sizes follow from it
};

struct Tree {
  std::vector<Branch> branches;  // parents before children
  int risers = 0;
};

Tree grow_tree(int levels, int runs, Dice& dice);

}  // namespace firstdraw::bench
