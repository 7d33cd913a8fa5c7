// The balance of one run, shared by the solver and the sampler.
#pragma once

#include <vector>

#include "hold/hold.hpp"
#include "hold/loss_shape.hpp"

namespace firstdraw::hold {

inline bool is_heated(const HeldRun& run) { return run.group >= 0 && run.cable >= 0; }

/// Metres over which the loss is taken, per metre of pipe. A run without length is judged per metre.
inline double loss_ratio(const HeldRun& run) {
  return run.pipe_length_m > 0 ? run.loss_length_m / run.pipe_length_m : 1;
}

/// Output of all passes per metre of loss length, as a multiple of the cable's own output.
inline double cable_scale(const HeldRun& run) { return run.passes * run.derating_frac / loss_ratio(run); }

/// What the run's cable gets, V, of the share of its group's nominal voltage that there is.
inline double voltage_of(const Building& building, const HeldRun& run, double voltage_frac = 1) {
  return building.groups[static_cast<std::size_t>(run.group)].voltage_v * voltage_frac * run.voltage_frac;
}

/// The group's sensor run if it has one that is heated, else nullptr.
const HeldRun* sensor_run(const Building& building, const Building::Group& group);

/// Duty, not yet limited, that holds the power-weighted average of `runs` (of this group) at `set_c` with air
/// at the entered ambient; nominal everything else. 1 when no ambient was entered.
double open_loop_duty(const Building& building, const Building::Group& group, const std::vector<int>& runs,
                      double set_c);

/// Duty of a group in its usual mode at maintain, everything nominal, limited to 1.
double nominal_duty(const Building& building, int group, const std::vector<int>& runs);

/// Indices of heated runs by group.
std::vector<std::vector<int>> runs_by_group(const Building& building);

/// Where a run settles when its cable gives `drive` times `output(T)` = {value, slope} per metre of loss
/// length.
template <class Output>
Settled settle_run(const LossShape& shape, double drive, double air_c, double factor, double guess_k,
                   const Output& output) {
  const double most_w_per_m = drive * output(air_c).value;
  if (!(most_w_per_m > 0)) return {air_c, 0, 0};
  struct Residual {
    double value, by_water, by_loss;
  };
  const auto residual = [&](double water_c, double loss) {
    const CurveSample out = output(water_c);
    return Residual{drive * out.value - loss, drive * out.slope, -1};
  };
  double high_k = guess_k > 0 ? 2 * guess_k : 4;
  while (shape.at_rise(high_k, air_c, factor).loss_w_per_m < most_w_per_m) high_k *= 2;
  return shape.settle(air_c, factor, 0, high_k, guess_k, residual);
}

}  // namespace firstdraw::hold
