// Axes: which numbers stand beside a chart and where.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "units/quantity.hpp"

namespace firstdraw::paper {

struct Axis {
  enum class Scale {
    numbers,      // as they are, or of `kind`
    elapsed,      // seconds, shown in s, min, h or days as the length asks for
    log_elapsed,  // seconds above 0 by their logarithm, each number with its own unit
    week,         // seconds since Monday 00:00, shown as days of the week or times of the day
  };
  std::string title{};  // the unit is added
  Scale scale = Scale::numbers;
  std::optional<units::Kind> kind{};  // values are SI and shown in the unit of `system`
  units::System system = units::System::metric;
  std::string unit{};  // without a kind
  double step = 0;     // between ticks, as shown; 0: a nice one
  // As the values are; NaN: from what is drawn, rounded outwards.
  double low = std::numeric_limits<double>::quiet_NaN(), high = std::numeric_limits<double>::quiet_NaN();
};

/// 1, 2 or 5 times a power of ten, so that `span` (above 0) takes at most `most` steps.
double nice_step(double span, int most);

/// A number with the decimals its step asks for, and zero without a sign.
std::string tick_text(double shown, double step);

struct Tick {
  double at = 0;       // where the rule is, as the values are
  std::string text;    // may be empty
  double text_at = 0;  // where the text is centred
};

/// An axis with its ends and ticks settled.
struct SettledAxis {
  double low = 0, high = 1;
  std::string title;  // with unit
  std::vector<Tick> ticks;
  bool logarithmic = false;
  /// Where a value lies between the ends, 0...1 within.
  double share(double value) const;
};

/// `low`, `high`: of what is drawn (NaN when nothing is); `most`: ticks there is room for.
SettledAxis settle(const Axis& axis, double low, double high, int most);

}  // namespace firstdraw::paper
