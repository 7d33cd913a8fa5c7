// Reading what was asked on the command line: quantities and names, every slip collected before giving up.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cli/context.hpp"
#include "physics/insulation.hpp"
#include "physics/pipe.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {

class Question {
 public:
  /// SI value of what was given to `option`. On a slip the error is collected and 0 comes back.
  double quantity(std::string_view option, std::string_view text, units::Kind kind);
  /// The same for a quantity that must lie in [least, most] (SI); `range` says so in words: "0 to 1".
  double quantity_within(std::string_view option, std::string_view text, units::Kind kind, double least,
                         double most, std::string_view range);
  /// A water, pipe or air temperature, degC.
  double temperature_c(std::string_view option, std::string_view text);
  /// "0.5 m/s", "100 ft/min".
  double speed_m_per_s(std::string_view option, std::string_view text);
  physics::Pipe pipe(std::string_view option, std::string_view text);

  struct Insulated {
    physics::Insulation insulation;
    double thickness_m = 0;
  };
  /// "glass fibre 1 in", "25 mm elastomeric"; none for "none" or "bare", and on a slip.
  std::optional<Insulated> insulation(std::string_view option, std::string_view text);

  void slip(std::string_view option, std::string_view message, std::string_view hint = "");
  const Diagnostics& slips() const { return slips_; }

 private:
  Diagnostics slips_;
};

/// US when the text ends in the degree of US units ("115F", "115 °F"), else metric: people want answers as
/// they asked.
units::System system_of_temperature(std::string_view text);

}  // namespace firstdraw::cli
