// What is decided at the panel: the rating of the device, the budget of standing leakage, and the
// requirements that come as sentences (disconnecting means, labels, covering).
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "rules/override.hpp"

namespace firstdraw::rules {

struct DeviceChoice {
  double least_a = 0;   // what the load asks for
  double rating_a = 0;  // the standard rating that is not below it
  std::vector<Reason> reasons;
};
/// Smallest standard device for the load. `shared`: the circuit feeds several heaters, so NEC 210.18 leaves
/// 10, 15, 20, 30, 40, 50 A (an interpretation; the authority decides). Fails above the ratings.
std::expected<DeviceChoice, std::string> device_for(RuleSet rules, double load_a, bool continuous,
                                                    bool shared, std::span<const Override> overrides = {});

/// How the two bus wires stand against earth.
enum class CableFeed { line_to_neutral, both_wires_live, balanced };
/// Standing leakage of a symmetric cable per metre, A: 2 π f C V for both bus wires at V, half of it between
/// line and neutral, none when the two sit at ± V/2. `capacitance_f_per_m`: both bus wires against the
/// covering.
double standing_leakage_a_per_m(double capacitance_f_per_m, double voltage_v, double frequency_hz,
                                CableFeed feed);

struct LeakageBudget {
  double trip_a = 0, standing_max_a = 0, standing_a = 0;
  double longest_m = 0;  // cable behind one device, with the other leakage; infinite without cable leakage
  bool within = false;
  std::vector<Reason> reasons;
};
/// `other_a`: leakage of what else stands behind the device.
LeakageBudget leakage_budget(RuleSet rules, double leakage_a_per_m, double length_m, double other_a = 0,
                             std::span<const Override> overrides = {});

/// Time within which a residual-current device breaks, s (EN 61008-1); `multiple` of the rated residual
/// current 1, 2 or 5. Throws std::logic_error for other devices ("general", "type S") and multiples.
double residual_current_break_s(std::string_view device, double multiple);

/// Labels along `piping_m` of traced pipe: one at each end, none further apart than the rule.
struct Labels {
  double spacing_m = 0;
  int count = 0;
  std::vector<Reason> reasons;
};
Labels labels_along(RuleSet rules, double piping_m, std::span<const Override> overrides = {});

/// The requirements of a heating-cable circuit that are sentences: disconnecting means, plugs, thermostats,
/// overcurrent and ground-fault protection, covering, labels, cold leads, guarded surfaces.
std::vector<Reason> panel_requirements(RuleSet rules, std::span<const Override> overrides = {});

}  // namespace firstdraw::rules
