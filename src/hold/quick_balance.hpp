// One run's balance, solved thousands of times near its nominal state. Newton starts from the nominal
// sensitivities, so two rounds usually do; the stated 1e-3 K is held by the size of the last step.
#pragma once

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
  double guess_k(const Circumstances& now) const {
    const double guess = rise_k_ + by_drive_ * (now.drive - nominal_.drive) +
                         by_air_ * (now.air_c - nominal_.air_c) + by_factor_ * (now.factor - nominal_.factor);
    return std::max(guess, least_guess_k_);
  }

  const LossShape& shape_;
  const QuickOutput& output_;
  Circumstances nominal_;
  double rise_k_, by_drive_, by_air_, by_factor_, least_guess_k_;
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
