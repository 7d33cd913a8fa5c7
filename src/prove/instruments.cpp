#include "prove/instruments.hpp"

#include <array>
#include <cmath>

namespace firstdraw::prove {
namespace {

// IEC 60751, read at sensorsci.com/reference.htm and two other pages; 21 published values in the tests.
constexpr double platinum_a = 3.9083e-3, platinum_b = -5.775e-7, platinum_c = -4.183e-12;

// A generic 10 kOhm thermistor, read at studylibfr.com/doc/3640921.
constexpr double steinhart_a = 1.129148e-3, steinhart_b = 2.34125e-4, steinhart_c = 8.76741e-8;
constexpr double zero_c_k = 273.15;

constexpr double coldest_c = -50, hottest_c = 150;

double platinum_ratio(double temp_c) {
  const double below = temp_c < 0 ? platinum_c * (temp_c - 100) * temp_c * temp_c * temp_c : 0;
  return 1 + temp_c * (platinum_a + platinum_b * temp_c) + below;
}

/// The positive branch solved, then Newton's method for what the third-order term below 0 °C adds.
double platinum_c_at(double ratio) {
  const double root = platinum_a * platinum_a - 4 * platinum_b * (1 - ratio);
  double temp_c = (-platinum_a + std::sqrt(root)) / (2 * platinum_b);
  for (int round = 0; round < 4 && ratio < 1; ++round) {
    const double slope =
        platinum_a + 2 * platinum_b * temp_c + platinum_c * (4 * temp_c - 300) * temp_c * temp_c;
    temp_c -= (platinum_ratio(temp_c) - ratio) / slope;
  }
  return temp_c;
}

double thermistor_c_at(double ohm) {
  const double log_ohm = std::log(ohm);
  return 1 / (steinhart_a + log_ohm * (steinhart_b + steinhart_c * log_ohm * log_ohm)) - zero_c_k;
}

/// Cardano's formula for ln R: one real root, since both coefficients are positive.
double thermistor_ohm_at(double temp_c) {
  const double x = (steinhart_a - 1 / (temp_c + zero_c_k)) / (2 * steinhart_c);
  const double third = steinhart_b / (3 * steinhart_c);
  const double y = std::sqrt(third * third * third + x * x);
  return std::exp(std::cbrt(y - x) - std::cbrt(y + x));
}

std::optional<double> platinum_ohm_at_0(std::string_view kind) {
  if (kind == "pt100") return 100;
  if (kind == "pt1000") return 1000;
  return std::nullopt;
}

/// The ends count, whatever the last digit of a meter makes of them.
bool within_range(double temp_c) { return temp_c >= coldest_c - 0.01 && temp_c <= hottest_c + 0.01; }

}  // namespace

std::optional<double> sensor_ohm(std::string_view kind, double temp_c) {
  if (!within_range(temp_c)) return std::nullopt;
  if (const auto at_0 = platinum_ohm_at_0(kind)) return *at_0 * platinum_ratio(temp_c);
  if (kind == "ntc10k") return thermistor_ohm_at(temp_c);
  return std::nullopt;
}

std::optional<double> sensor_c(std::string_view kind, double ohm) {
  if (!(ohm > 0) || !std::isfinite(ohm)) return std::nullopt;
  double temp_c = 0;
  if (const auto at_0 = platinum_ohm_at_0(kind)) {
    if (ohm / *at_0 > 3) return std::nullopt;  // beyond any temperature; the root would be of a negative
    temp_c = platinum_c_at(ohm / *at_0);
  } else if (kind == "ntc10k") {
    temp_c = thermistor_c_at(ohm);
  } else {
    return std::nullopt;
  }
  if (!within_range(temp_c)) return std::nullopt;
  return temp_c;
}

double sensor_error_k(std::string_view kind, double temp_c) {
  return platinum_ohm_at_0(kind) ? 0.3 + 0.005 * std::abs(temp_c) : 0.5;
}

std::optional<double> lead_error_k(std::string_view kind, double temp_c, double lead_ohm) {
  const auto ohm = sensor_ohm(kind, temp_c);
  if (!ohm) return std::nullopt;
  const auto shown_c = sensor_c(kind, *ohm + lead_ohm);
  if (!shown_c) return std::nullopt;
  return *shown_c - temp_c;
}

double length_from_capacitance_m(double farad, double farad_per_m) { return farad / farad_per_m; }

std::optional<double> length_from_loop_m(double short_ohm, double open_ohm, double loop_ohm_per_m) {
  if (!(short_ohm > 0) || !(open_ohm > short_ohm) || !(loop_ohm_per_m > 0)) return std::nullopt;
  return std::atanh(std::sqrt(short_ohm / open_ohm)) * std::sqrt(short_ohm) * std::sqrt(open_ohm) /
         loop_ohm_per_m;
}

double copper_ohm_at(double ohm_20, double temp_c) { return ohm_20 * (1 + 0.00393 * (temp_c - 20)); }

double insulation_ohm_at_20(double ohm, double temp_c) { return ohm * std::exp2((temp_c - 20) / 10); }

}  // namespace firstdraw::prove
