// What may be wrong in a scope: every cause, the places it can be at, and how its unknown is spread before
// anything is read. docs/diagnosis.md, section 3.
#pragma once

#include <string>
#include <vector>

#include "prove/forward.hpp"

namespace firstdraw::prove {

struct Candidate {
  Fault fault;        // without value
  double weight = 0;  // of the cause's places; sums to 1
  std::string id;     // of the place
};

struct Hypothesis {
  Cause cause{};
  double prior = 0;  // of all hypotheses; sums to 1 with none_of_these
  std::vector<Candidate> places;
  bool has_value = false;
  /// The unknown at a share of its prior, 0...1.
  double value(const Scope& scope, const Candidate& at, double share) const;
};

/// Causes that can be in this scope. Those that cannot leave their share to the others.
std::vector<Hypothesis> hypotheses(const Scope& scope, double none_prior);

std::string_view id_of(Cause cause);

}  // namespace firstdraw::prove
