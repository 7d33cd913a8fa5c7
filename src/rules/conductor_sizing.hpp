// Size of the copper conductors and of the earth conductor of one heating-cable circuit or feeder, and why.
// us: NEC 210.19(A), 210.20(A), 110.14(C), 240.4(B) and (D), 310.15, Table 310.16, 250.122. intl: IEC
// 60364-4-43 (433.1), IEC 60364-5-52 Annex B, IEC 60364-5-54. docs/circuits-rules.md.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "rules/override.hpp"

namespace firstdraw::rules {

/// What has to be carried, behind what, and where it lies.
struct ConductorCase {
  RuleSet rules = RuleSet::us;
  double load_a = 0;                  // current at the settled cable
  bool continuous = true;             // heating cable is (NEC 427.4)
  double device_a = 0;                // rating of the overcurrent device
  double ambient_c = 30;              // air around the conductors
  int current_carrying = 2;           // in the same raceway or bunch, this circuit's among them; no earths
  std::optional<double> terminal_c;   // listed and marked temperature; none: what the rules presume
  std::string insulation = "THWN-2";  // of wire_insulations(rules)
  std::string method = "raceway";     // of installation_methods(rules); intl "A1" … "C"
  std::string make = "stranded";      // us "stranded", "solid"; intl "class 2", "class 5"
  bool three_phase = false;
  double one_way_m = 0;                 // zero: drop not counted, and a reason says so
  double voltage_v = 240;               // between the conductors that feed the load
  std::optional<double> max_drop_frac;  // none: the advice for a branch circuit, or for a feeder
  bool feeder = false;
  std::string stated_size{};  // the conductor is given: only checked; empty: the smallest is looked for
};

struct ConductorSizing {
  std::string size, earth;
  double ampacity_a = 0;  // after factors and terminals
  double drop_v = 0, drop_frac = 0;
  double conductor_ohm_per_m = 0;  // of one, at the temperature the rules count
  std::string size_before_drop;    // the size that the currents alone ask for
  std::vector<Reason> reasons;
};

/// The smallest conductor that satisfies every rule, or one sentence saying why there is none (device too
/// small, air too hot, beyond the tables or not made so, drop too large, stated size too small for the
/// current; a stated one may drop what it likes). Throws std::logic_error for unknown names, broken overrides
/// and numbers without meaning (currents, voltage not positive).
std::expected<ConductorSizing, std::string> size_conductor(const ConductorCase& input,
                                                           std::span<const Override> overrides = {});

struct FeederCase {
  RuleSet rules = RuleSet::us;
  std::string size, make;  // "10 AWG", "stranded"
  double conductor_c = 75;
  double current_a = 0;
  double one_way_m = 0;
  double voltage_v = 240;
  bool three_phase = false;
  double branch_drop_frac = 0;  // of the worst branch circuit behind it
};
struct FeederDrop {
  double drop_v = 0, drop_frac = 0;
  double total_frac = 0;
  bool within_feeder = false, within_total = false;  // the advice of the rule set
  std::vector<Reason> reasons;
};
/// Fall of voltage along the feeder of a resistive load: 2 r I L, or √3 r I L between three phases. r: NEC
/// chapter 9 Table 8 or IEC 60228 at `conductor_c`; reactance is left out (power factor 1).
FeederDrop feeder_drop(const FeederCase& input, std::span<const Override> overrides = {});

}  // namespace firstdraw::rules
