// Smallest raceway for a bundle of conductors: NEC chapter 9 Tables 1, 4 and 5. The IEC rules have no such
// table.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/override.hpp"

namespace firstdraw::rules {

/// Conductors of one kind; earth conductors count too (note 3). A cable of several conductors counts as one
/// of its outer diameter (note 9).
struct RacewayConductors {
  std::string size = "12 AWG", insulation = "THWN-2";
  int count = 1;
  std::optional<double> outer_diameter_m;  // instead of Table 5
};

struct ConduitChoice {
  std::string trade_size;   // "1/2"
  std::string metric_size;  // "16"
  double fill_frac = 0;     // share of the whole inside area
  double conductors_m2 = 0;
  std::vector<Reason> reasons;
};

/// "EMT", "FMC", "PVC-40", "PVC-80".
std::span<const std::string> conduit_kinds();
/// Insulations with areas in Table 5.
std::span<const std::string> conduit_insulations();

/// `nipple`: at most 600 mm (24 in) long, 60 % may be filled (note 4). Note 7 (0.8 of a conductor counts as
/// one when all are alike) is used. One sentence when no listed raceway is large enough. Throws
/// std::logic_error with the nearest name for an unknown kind, size or insulation.
std::expected<ConduitChoice, std::string> conduit_for(std::string_view kind,
                                                      std::span<const RacewayConductors> conductors,
                                                      bool nipple = false,
                                                      std::span<const Override> overrides = {});

}  // namespace firstdraw::rules
