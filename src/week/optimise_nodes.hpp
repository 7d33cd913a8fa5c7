// The automaton with what the rules have to remember: steps in the band so far, steps hot so far. Part of
// optimise.cpp.
#pragma once

#include <vector>

#include "week/schedule.hpp"

namespace firstdraw::week {

/// Everything that a cycle can pass through, and maybe more. Nodes rise in temperature.
struct Nodes {
  struct Node {
    int temperature = 0, in_band = 0, hot = 0;  // hot: steps on end, hot_done once the hold was kept
    auto operator<=>(const Node&) const = default;
  };
  std::vector<Node> nodes;
  int set_points = 0, hot_done = 0;
  // By [set_point * count() + node]. `to` is count() where the move is forbidden.
  std::vector<int> to, coldest;
  std::vector<int> to_midnight;  // `to` where a day ends: a hold that is not yet kept begins anew
  std::vector<double> energy_j;
  std::vector<int> key;  // of a node: the one like it with nothing hot so far; -1: none

  int count() const { return static_cast<int>(nodes.size()); }
};

Nodes nodes_of(const GroupTask& task);

}  // namespace firstdraw::week
