// How numbers are written in JSON.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>

namespace firstdraw::plan {

/// Nine significant digits, so that the text does not change with the last bit of a computation.
inline double nine_digits(double value) {
  if (!std::isfinite(value)) return value;
  if (value == 0) return 0.0;
  const double step = std::pow(10.0, 8 - std::floor(std::log10(std::abs(value))));
  if (!std::isfinite(step) || step == 0) return value;
  return std::round(value * step) / step;
}

/// With nine digits; null for what is not finite.
inline nlohmann::json json_number(double value) {
  return std::isfinite(value) ? nlohmann::json(nine_digits(value)) : nlohmann::json();
}

}  // namespace firstdraw::plan
