// The cable of one circuit as a tree from its feed to its ends, lengths to scale.
#pragma once

#include <string>
#include <vector>

#include "paper/ink.hpp"
#include "plan/plan.hpp"

namespace firstdraw::paper {

struct CableTree {
  struct Stretch {
    int run = 0;                    // index into job.runs
    int parent = -1;                // stretch before it; -1: the feed
    int children = 0;               // none: an end seal
    int row = 0;                    // from the top
    double begin_m = 0, end_m = 0;  // of cable from the feed
    int near_node = 0, far_node = 0;
  };
  std::vector<Stretch> stretches;              // from the feed outwards
  int feed_node = 0, rows = 0, from_feed = 0;  // stretches that leave the feed
  double longest_m = 0;
};
/// Rows in the order of the branches; the longest way on from each node stays on its row.
CableTree cable_tree(const plan::Plan& plan, const power::Circuit& circuit);

struct CableTreeTexts {
  std::string feed;
  std::vector<std::string> stretches, far;  // like stretches: above it; at its far end
};
double cable_tree_height_mm(const CableTree& tree, double row_mm);
/// Texts that do not fit their stretch are left out: the run list has them.
void draw_cable_tree(Ink& ink, const Frame& frame, const CableTree& tree, const CableTreeTexts& texts);

}  // namespace firstdraw::paper
