// Starting the circuits of a panel one after another, so that their inrush currents do not meet.
// docs/circuits-start.md.
//
// Time is cut into pieces of equal length; a circuit is known by the largest current it draws in each, so the
// panel's current in a piece is never above what is computed. Starts lie on whole steps of several pieces.
#pragma once

#include <limits>
#include <span>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::power {

struct StartingCircuit {
  std::string id;
  std::size_t slot = 0;           // of phase_slots(panel)
  std::vector<double> current_a;  // largest in each piece after its own start; the last holds from there on
};

struct SequenceOptions {
  double piece_s = 5;
  int pieces_per_step = 12;
  int most_steps = 10;                                       // the last start, at the latest
  double limit_a = std::numeric_limits<double>::infinity();  // of any line; infinite: as little as possible
  std::size_t most_trials = 30000;  // of one exhaustive search, before its best so far is taken
};

struct StartSequence {
  std::vector<double> start_s;  // like the circuits given
  std::vector<double> line_a;   // of the fullest line, in each piece; the last holds from there on
  double together_peak_a = 0;   // all started at once
  double peak_a = 0;
  double bound_a = 0;         // no sequence, however long, has a lower peak
  bool within_limit = false;  // always true without a limit
  /// Every sequence was tried or ruled out: with a limit that can be kept, none keeps it with an earlier last
  /// start; else none up to the last step has a lower peak, nor the same with an earlier last start. When
  /// false the result is the best found, and `bound_a` says how much better any other could be.
  bool proven = false;
};

/// Least last start that keeps the limit; the least peak when the limit cannot be kept. Exact while the
/// search ends within `most_trials`, else heaviest first, each as early as it fits. The order in which
/// circuits are given does not matter. The peak is never above that of starting all at once. Throws
/// std::logic_error for circuits without current, currents negative or not finite, slots the panel does not
/// have, and options out of range.
StartSequence sequence_starts(const job::Panel& panel, std::span<const StartingCircuit> circuits,
                              const SequenceOptions& options);

}  // namespace firstdraw::power
