// One run's balance, solved thousands of times near its nominal state. Newton starts from the nominal
// sensitivities, so two rounds usually do; the stated 1e-3 K is held by the size of the last step.
#pragma once

#include <algorithm>
#include <array>

#include "hold/balance.hpp"

namespace firstdraw::hold {

/// Output of a cable at voltage factor 1, tabulated and checked.
class QuickOutput {
 public:
  explicit QuickOutput(const physics::HeatingCable& cable);  // keeps a reference
  explicit QuickOutput(physics::HeatingCable&& cable) = delete;
  CurveSample operator()(double pipe_c) const {
    CurveSample sample;
    return table_.find(pipe_c, sample) ? sample : directly(pipe_c);
  }
  /// No kink between these temperatures.
  bool is_smooth(double from_c, double to_c) const { return table_.share_cell(from_c, to_c); }

 private:
  CurveSample directly(double pipe_c) const;

  const physics::HeatingCable* cable_;
  double rated_v_, rated_factor_;
  CheckedCurve table_;
};

/// What differs from sample to sample.
struct Circumstances {
  double drive = 0;  // multiplies the cable's output, per metre of loss length
  double air_c = 0;
  double factor = 1;  // of the insulation's conductivity
};

/// Temperature of a run under circumstances near nominal ones.
class QuickBalance {
 public:
  QuickBalance(const LossShape& shape, const QuickOutput& output, const Circumstances& nominal);
  double water_c(const Circumstances& now) const;

 private:
  /// How far circumstances are from nominal: share of drive, kelvin of air, share of factor.
  using Offset = std::array<double, 3>;

  /// Taylor's polynomial of second order around the nominal rise.
  double guess_k(const Circumstances& now) const {
    const auto& n = nominal_;
    const double d = (now.drive - n.drive) * per_drive_, a = now.air_c - n.air_c, f = now.factor - n.factor;
    const double guess =
        rise_k_ + d * (first_[0] + d * second_[0][0] + a * second_[0][1] + f * second_[0][2]) +
        a * (first_[1] + a * second_[1][1] + f * second_[1][2]) + f * (first_[2] + f * second_[2][2]);
    return std::max(guess, least_guess_k_);
  }
  double rise_at(const Offset& offset) const;
  void expand();

  const LossShape& shape_;
  const QuickOutput& output_;
  Circumstances nominal_;
  double per_drive_, rise_k_ = 0, least_guess_k_ = 0;
  Offset first_{};
  std::array<Offset, 3> second_{};  // upper triangle; the diagonal is halved
};

/// Loss of a run held at a temperature, under circumstances near nominal ones (`drive` plays no part).
class QuickLoss {
 public:
  QuickLoss(const LossShape& shape, double nominal_water_c, double nominal_air_c);
  double loss_w_per_m(double water_c, double air_c, double factor) const;

 private:
  const LossShape& shape_;
  double rise_share_, share_by_factor_;  // rise of the surface per kelvin between water and air
};

}  // namespace firstdraw::hold
