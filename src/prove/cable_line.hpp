// What an ohmmeter sees at the feed of a circuit: bus wires with the core between them, branching, the far
// ends joined or open. Exact for uniform stretches (the transmission line at direct current); docs/field-
// tests.md. Private to the room.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace firstdraw::prove {

struct LineStretch {
  int parent = piping::none;  // parents before children; none: starts at the feed
  double length_m = 0;
};

/// Both bus wires and core, per metre of cable.
struct LineMetre {
  double loop_ohm_per_m = 0, core_s_per_m = 0;
};

enum class Ends { joined, open };

/// Throws std::logic_error without stretches.
double line_ohm(std::span<const LineStretch> tree, const LineMetre& metre, Ends ends);

/// The factor on every length at which the tree shows `short_ohm` with its ends joined, the core given.
/// nullopt: no factor from 0.01 to 10 does.
std::optional<double> scale_from_short(std::span<const LineStretch> tree, const LineMetre& metre,
                                       double short_ohm);
/// The same with the core unknown, from both readings; `metre.core_s_per_m` is not used.
std::optional<double> scale_from_both(std::span<const LineStretch> tree, double loop_ohm_per_m,
                                      double short_ohm, double open_ohm);

/// The cable of a circuit of the plan, and which run each stretch lies on.
struct CircuitLine {
  std::vector<LineStretch> stretches;
  std::vector<int> run;  // like stretches; index into job.runs
  bool branches = false;
  double length_m = 0;
};
CircuitLine circuit_line(const plan::Plan& plan, const power::Circuit& circuit);

/// The run on which a cable without branches ends when it is `length_m` long from its feed; none beyond its
/// end.
int run_at(const CircuitLine& line, double length_m);

/// Core between the bus wires of a metre of cable that carries no load: the model fitted to the data sheet.
/// NaN where nothing can be fitted.
double core_s_per_m(const physics::CableSheet& sheet, double cable_c);

}  // namespace firstdraw::prove
