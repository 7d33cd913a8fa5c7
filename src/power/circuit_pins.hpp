// Pins of a job as pins of the division, and what is done when they cannot be kept: a pin that contradicts
// the piping, a breaker or another pin is left out, with one sentence that says why.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "power/circuit_kinds.hpp"
#include "power/id_index.hpp"
#include "power/pipe_tree.hpp"

namespace firstdraw::power {

class CircuitPins {
 public:
  /// Fixed circuits are pinned together by themselves. Keeps references to all its arguments.
  CircuitPins(const job::Job& job, const piping::Network& network, const std::vector<RunCable>& runs,
              const CircuitKinds& kinds, const PipeTree& tree);

  partition::Pins pins() const;
  /// Leaves out what these conflicts are about: of pins `together` that are too long one that is so by
  /// itself, or else the one that stands last in the job, and a pair pinned apart where it contradicts a pin
  /// `together`. Throws std::logic_error when nothing is left to leave out.
  void leave_out(const std::vector<partition::Conflict>& conflicts);
  const std::vector<std::string>& sentences() const { return sentences_; }

 private:
  using Reason = partition::Conflict::Reason;
  struct Together {
    std::vector<int> edges;
    bool fixed = false;  // a fixed circuit: it fits by itself and is never left out
  };

  void keep_fixed();
  void read(const job::Pin& pin, const IdIndex& index);
  void read_together(const job::Pin& pin, const std::vector<int>& named);
  void read_apart(const std::vector<int>& named);
  void drop_unlike(const std::vector<partition::Conflict>& conflicts);
  void drop_too_long(const partition::Conflict& conflict);
  void drop_apart(const partition::Conflict& conflict);
  void drop_all_apart();
  std::string why_unlike_edges(const std::vector<int>& edges) const;
  double cable_m(const std::vector<int>& edges) const;
  double span_m(const Together& pin) const;
  std::string run_ids(const std::vector<int>& edges) const;
  void refuse_together(const std::string& ids, const std::string& because);

  const job::Job& job_;
  const piping::Network& network_;
  const std::vector<RunCable>& runs_;
  const CircuitKinds& kinds_;
  const PipeTree& tree_;
  std::vector<Together> together_;
  std::vector<std::pair<int, int>> apart_;
  std::vector<std::string> sentences_;
};

}  // namespace firstdraw::power
