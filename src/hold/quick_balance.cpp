#include "hold/quick_balance.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::hold {
namespace {

// Where everything is smooth Newton's error after a step is about 0.01 of the step squared, in kelvins;
// across a kink it may be as large as the step.
constexpr double last_smooth_step_k = 0.03, last_step_k = 1e-3;
constexpr int most_rounds = 12;

}  // namespace

QuickOutput::QuickOutput(const physics::HeatingCable& cable)
    : cable_(&cable),
      rated_v_(cable.sheet().rated_voltage_v),
      rated_factor_(cable.voltage_factor(rated_v_)),
      table_(-40, 140, 180, 1e-6,
             [&](double pipe_c) { return cable.power_w_per_m(pipe_c, rated_v_) / rated_factor_; }) {}

CurveSample QuickOutput::directly(double pipe_c) const {
  return sample_directly(pipe_c,
                         [&](double at_c) { return cable_->power_w_per_m(at_c, rated_v_) / rated_factor_; });
}

QuickBalance::QuickBalance(const LossShape& shape, const QuickOutput& output, const Circumstances& nominal)
    : shape_(shape),
      output_(output),
      nominal_(nominal),
      per_drive_(nominal.drive > 0 ? 1 / nominal.drive : 0) {
  rise_k_ = rise_at({0, 0, 0});
  least_guess_k_ = std::max(0.2 * rise_k_, 0.02);
  expand();
}

double QuickBalance::rise_at(const Offset& offset) const {
  const auto& n = nominal_;
  return settle_run(shape_, n.drive * (1 + offset[0]), n.air_c + offset[1], n.factor + offset[2], rise_k_,
                    output_)
      .rise_k;
}

/// Differences over steps of about the usual spread, so that the polynomial is right where samples lie.
void QuickBalance::expand() {
  constexpr Offset step{0.1, 3, 0.1};
  std::array<double, 3> above{};
  for (std::size_t i = 0; i < 3; ++i) {
    Offset up{}, down{};
    up[i] = step[i];
    down[i] = -step[i];
    above[i] = rise_at(up);
    const double below = rise_at(down);
    first_[i] = (above[i] - below) / (2 * step[i]);
    second_[i][i] = 0.5 * (above[i] - 2 * rise_k_ + below) / (step[i] * step[i]);
    for (std::size_t j = 0; j < i; ++j) {
      up[j] = step[j];
      second_[j][i] = (rise_at(up) - above[i] - above[j] + rise_k_) / (step[i] * step[j]);
      up[j] = 0;
    }
  }
}

double QuickBalance::water_c(const Circumstances& now) const {
  if (!(now.drive > 0)) return now.air_c;
  double rise_k = guess_k(now);
  for (int round = 0; round < most_rounds; ++round) {
    const LossShape::March m = shape_.at_rise(rise_k, now.air_c, now.factor);
    const CurveSample out = output_(m.water_c);
    const double surplus = now.drive * out.value - m.loss_w_per_m;
    const double next_k = rise_k - surplus / (now.drive * out.slope * m.water_per_rise - m.loss_per_rise);
    const double kept_k = next_k > 0 ? next_k : 0.25 * rise_k;
    const double change_k = m.water_per_rise * (kept_k - rise_k);
    const double now_c = m.water_c + change_k;
    const bool smooth = output_.is_smooth(m.water_c, now_c) && shape_.is_smooth(rise_k, kept_k);
    if (std::abs(change_k) <= (smooth ? last_smooth_step_k : last_step_k)) return now_c;
    rise_k = kept_k;
  }
  return settle_run(shape_, now.drive, now.air_c, now.factor, 0, output_).water_c;
}

QuickLoss::QuickLoss(const LossShape& shape, double nominal_water_c, double nominal_air_c)
    : shape_(shape), rise_share_(shape.typical_surface_share()), share_by_factor_(0) {
  const double warmer_k = nominal_water_c - nominal_air_c;
  if (warmer_k == 0) return;
  const auto share_at = [&](double factor) {
    struct Residual {
      double value, by_water, by_loss;
    };
    const auto residual = [&](double at_c, double) { return Residual{nominal_water_c - at_c, -1, 0}; };
    const double low_k = std::min(0.0, warmer_k), high_k = std::max(0.0, warmer_k);
    return shape.settle(nominal_air_c, factor, low_k, high_k, rise_share_ * warmer_k, residual).rise_k /
           warmer_k;
  };
  constexpr double more_frac = 0.02;
  const double share = share_at(1);
  share_by_factor_ = (share_at(1 + more_frac) - share) / more_frac;
  rise_share_ = share;
}

double QuickLoss::loss_w_per_m(double water_c, double air_c, double factor) const {
  const double warmer_k = water_c - air_c;
  if (warmer_k == 0) return 0;
  const double least_share = 0.2 * rise_share_;
  double rise_k = warmer_k * std::max(least_share, rise_share_ + share_by_factor_ * (factor - 1));
  for (int round = 0; round < most_rounds; ++round) {
    const LossShape::March m = shape_.at_rise(rise_k, air_c, factor);
    const double step_k = (water_c - m.water_c) / m.water_per_rise;
    if (std::abs(water_c - m.water_c) <= last_step_k) return m.loss_w_per_m + m.loss_per_rise * step_k;
    rise_k += step_k;
  }
  return shape_.loss_w_per_m(water_c, air_c, factor);
}

}  // namespace firstdraw::hold
