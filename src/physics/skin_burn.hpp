// How hot water burns skin: the damage integral of Henriques with heat conducted to the layer that burns.
//
// No medical advice. The figures are for healthy adult skin. Children and old people burn faster, usually
// said to be half the time or less (no source seen). Where a published time is shorter, it rules:
// rules::burn_times. Third-degree times of this integral are far longer than the published ones: the
// threshold is one for the layer near the surface. Never promise from them.
#pragma once

#include <span>

namespace firstdraw::physics {

/// What the integral rests on (data/skin_burn.csv, Henriques 1947). `rate_per_s` and `activation_k` (E/R) are
/// one pair: the often quoted E = 6.28e8 J/kmol with R = 8314 gives 75 535 K and times five times too long.
struct BurnLaw {
  double rate_per_s = 0, activation_k = 0;
  double threshold_c = 0;  // no damage at or below
  double first_degree = 0, second_degree = 0, third_degree = 0;
};
/// Read once from the built-in table.
const BurnLaw& henriques();

/// The way from the water to the layer that burns: a half space whose surface takes the water's temperature.
/// `lag_s` = depth squared over diffusivity. It is a fit, not a published constant: 0.11 s suits published
/// second-degree times from 49 to 60 degC. 0: the layer is as hot as the water.
struct Skin {
  double start_c = 0;
  double lag_s = 0;
};
/// 34 degC and 0.11 s.
Skin usual_skin();
/// The range of `lag_s` that depth and diffusivity of skin suggest: 0.05 and 0.33 s.
struct LagRange {
  double low_s = 0, high_s = 0;
};
LagRange lag_range();

/// Damage a second at a temperature of the tissue; 0 at or below the threshold.
double burn_rate_per_s(const BurnLaw& law, double tissue_c);

/// The layer's temperature `time_s` after the surface went to `water_c` and stayed: Carslaw & Jaeger, half
/// space with a step at its surface, start + (water - start) erfc(sqrt(lag / 4t)).
double tissue_c(const Skin& skin, double water_c, double time_s);

/// Seconds in water held at `water_c` until the damage reaches `damage` (law.second_degree, ...), which must
/// be above 0. Infinity where the water is not above the threshold. A skin that starts above the threshold
/// throws std::invalid_argument, as does a lag below 0.
double burn_time_s(const BurnLaw& law, const Skin& skin, double water_c, double damage);

/// Water at a moment; straight between two of them, times rising.
struct WaterAt {
  double time_s = 0, water_c = 0;
};
/// Damage from the first to the last moment of a course of temperatures (water that cools as it runs, a
/// mixing valve that drifts). The skin meets the first temperature as a step. Less than two moments: 0. Times
/// that do not rise throw std::invalid_argument. By superposition of steps and ramps (Duhamel), so the time
/// taken grows with the square of the number of moments.
double burn_damage(const BurnLaw& law, const Skin& skin, std::span<const WaterAt> course);

}  // namespace firstdraw::physics
