#include "physics/skin_burn.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "tables/table.hpp"

namespace firstdraw::physics {
namespace {

constexpr double zero_c_k = 273.15;

double constant(std::string_view what) {
  for (const auto& row : tables::table("skin_burn").rows()) {
    if (row.text("what") == what) return row.number("value");
  }
  throw std::logic_error("skin_burn.csv: a constant is missing");
}

BurnLaw read_law() {
  return {.rate_per_s = constant("rate"),
          .activation_k = constant("activation"),
          .threshold_c = constant("threshold"),
          .first_degree = constant("first_degree"),
          .second_degree = constant("second_degree"),
          .third_degree = constant("third_degree")};
}

/// Gauss and Legendre's rule of five points (Abramowitz & Stegun 25.4.30).
template <class Function>
double over_panel(const Function& f, double from, double to) {
  constexpr std::array<double, 5> node{-0.9061798459386640, -0.5384693101056831, 0.0, 0.5384693101056831,
                                       0.9061798459386640};
  constexpr std::array<double, 5> weight{0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
                                         0.4786286704993665, 0.2369268850561891};
  const double half = 0.5 * (to - from), middle = 0.5 * (to + from);
  double sum = 0;
  for (std::size_t i = 0; i < node.size(); ++i) sum += weight.at(i) * f(middle + half * node.at(i));
  return half * sum;
}

/// The layer's answer to a step of 1 K at the surface.
double step_answer(double lag_s, double time_s) {
  if (time_s <= 0) return 0;
  return std::erfc(std::sqrt(lag_s / (4 * time_s)));
}

/// Its answer to a surface that rises by 1 K/s: the step's answer summed over time.
double ramp_answer(double lag_s, double time_s) {
  if (time_s <= 0) return 0;
  const double square = lag_s / (4 * time_s);
  return (time_s + lag_s / 2) * std::erfc(std::sqrt(square)) -
         std::sqrt(lag_s * time_s / std::numbers::pi) * std::exp(-square);
}

/// When the layer reaches the threshold after a step: the z of erfc(z) = share, by halving.
double threshold_time_s(const BurnLaw& law, const Skin& skin, double water_c) {
  const double share = (law.threshold_c - skin.start_c) / (water_c - skin.start_c);
  double low = 0, high = 30;
  for (int i = 0; i < 200; ++i) {
    const double z = 0.5 * (low + high);
    (std::erfc(z) > share ? low : high) = z;
  }
  return skin.lag_s / (4 * high * high);
}

void need_sound(const BurnLaw& law, const Skin& skin) {
  if (!(skin.start_c < law.threshold_c)) throw std::invalid_argument("skin starts above the threshold");
  if (!(skin.lag_s >= 0)) throw std::invalid_argument("the lag of skin is negative");
}

/// The moment within a panel at which `missing` damage has come together, by halving.
template <class Function>
double moment_within(const Function& rate, double from, double to, double missing) {
  double low = from, high = to;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (over_panel(rate, from, middle) < missing ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double course_tissue_c(const Skin& skin, std::span<const WaterAt> course, std::size_t pieces, double time_s) {
  const double begin_s = course.front().time_s;
  double rise_k = (course.front().water_c - skin.start_c) * step_answer(skin.lag_s, time_s - begin_s);
  double slope_before = 0;
  for (std::size_t i = 0; i < pieces; ++i) {
    const double slope =
        (course[i + 1].water_c - course[i].water_c) / (course[i + 1].time_s - course[i].time_s);
    rise_k += (slope - slope_before) * ramp_answer(skin.lag_s, time_s - course[i].time_s);
    slope_before = slope;
  }
  return skin.start_c + rise_k;
}

/// Where the panels of a piece of the course end: short ones at the corner where it begins, growing ones
/// after it, none over which the water changes by more than 2 K unless that is faster than the skin follows.
std::vector<double> panel_ends(const Skin& skin, double length_s, double change_k) {
  constexpr double growth = 1.4, largest_change_k = 2;
  const double first_s = skin.lag_s > 0 ? 0.05 * skin.lag_s : length_s / 64;
  const double longest_s = std::max(first_s, length_s * largest_change_k / std::abs(change_k));
  std::vector<double> ends;
  double width = first_s;
  for (double at = width; at < length_s - 0.01 * width; at += width) {
    ends.push_back(at);
    width = std::min(longest_s, growth * width);
  }
  ends.push_back(length_s);
  return ends;
}

/// Damage over a panel; where the layer passes the threshold within it, the rate jumps and the panel is cut.
template <class Tissue>
double over_course_panel(const BurnLaw& law, const Tissue& tissue, double from, double to) {
  const auto rate = [&](double time_s) { return burn_rate_per_s(law, tissue(time_s)); };
  const bool hot_before = tissue(from) > law.threshold_c, hot_after = tissue(to) > law.threshold_c;
  if (hot_before == hot_after) return over_panel(rate, from, to);
  double low = from, high = to;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    ((tissue(middle) > law.threshold_c) == hot_before ? low : high) = middle;
  }
  return hot_before ? over_panel(rate, from, low) : over_panel(rate, high, to);
}

}  // namespace

const BurnLaw& henriques() {
  static const BurnLaw law = read_law();
  return law;
}

Skin usual_skin() { return {.start_c = constant("skin"), .lag_s = constant("lag")}; }

LagRange lag_range() { return {constant("lag_low"), constant("lag_high")}; }

double burn_rate_per_s(const BurnLaw& law, double tissue_c) {
  if (!(tissue_c > law.threshold_c)) return 0;
  // The two factors alone leave the range of a double when the law is a steeper one.
  return std::exp(std::log(law.rate_per_s) - law.activation_k / (tissue_c + zero_c_k));
}

double tissue_c(const Skin& skin, double water_c, double time_s) {
  return skin.start_c + (water_c - skin.start_c) * step_answer(skin.lag_s, time_s);
}

double burn_time_s(const BurnLaw& law, const Skin& skin, double water_c, double damage) {
  need_sound(law, skin);
  if (!(damage > 0)) throw std::invalid_argument("a burn needs damage above zero");
  if (!(water_c > law.threshold_c)) return std::numeric_limits<double>::infinity();
  if (skin.lag_s == 0) return damage / burn_rate_per_s(law, water_c);
  const auto rate = [&](double time_s) { return burn_rate_per_s(law, tissue_c(skin, water_c, time_s)); };
  constexpr double growth = 1.1;
  double missing = damage;
  for (double from = threshold_time_s(law, skin, water_c);; from *= growth) {
    const double part = over_panel(rate, from, growth * from);
    if (part >= missing) return moment_within(rate, from, growth * from, missing);
    missing -= part;
  }
}

double burn_damage(const BurnLaw& law, const Skin& skin, std::span<const WaterAt> course) {
  need_sound(law, skin);
  double damage = 0;
  for (std::size_t i = 0; i + 1 < course.size(); ++i) {
    const double begin_s = course[i].time_s, length_s = course[i + 1].time_s - begin_s;
    if (!(length_s > 0)) throw std::invalid_argument("the times of a course must rise");
    const auto tissue = [&](double time_s) { return course_tissue_c(skin, course, i + 1, begin_s + time_s); };
    double from = 0;
    for (const double to : panel_ends(skin, length_s, course[i + 1].water_c - course[i].water_c)) {
      damage += over_course_panel(law, tissue, from, to);
      from = to;
    }
  }
  return damage;
}

}  // namespace firstdraw::physics
