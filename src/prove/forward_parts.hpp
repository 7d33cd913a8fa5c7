// What the parts of the forward model share: a hypothesis resolved, and how far the model may be off.
#pragma once

#include "prove/forward.hpp"

namespace firstdraw::prove {

// How far the model itself may be off, one standard deviation. Our choice unless a source is named.
inline constexpr double common_loss_frac =
    0.10;  // gap left out (up to 20 %), material, film law: plan/options.hpp
inline constexpr double mean_loss_frac = 0.97;  // the gap only ever lowers the loss
inline constexpr double own_loss_frac = 0.075;  // hold::Tolerances, half of it
inline constexpr double law_frac = 0.02;       // the sheet's curve between its points, bus wires' temperature
inline constexpr double length_frac = 0.02;    // cable as laid against the plan's allowances
inline constexpr double sensor_sigma_k = 0.5;  // hold::Tolerances, half of it
inline constexpr double coupling_frac =
    0.4;                                // of the bulb beside the cable: the wall-angle model states it so
inline constexpr double place_k = 0.7;  // along a run, round the wall
inline constexpr double damaged_share = 0.4;  // of broken cables: moisture gets in too; our choice
inline constexpr double still_frac = 0.35;    // of visits: no water was drawn lately
inline constexpr double supply_k = 1.5;       // water as it comes from heater or valve

/// Share of a run's water that has been replaced: nearest the heater most.
double mixed_frac(double flow, double depth_frac);
/// Share of a stretch's length that is not cut off by a dead cable. Of any other fault: 1.
double live_share(const Scope& scope, const Fault& fault, int circuit, int stretch);
/// Where along its run the sensor of a group sits, from the feed: not on record, and it counts where the
/// run's cable is dead in part. Never at the very ends.
double sensor_at_frac(const Luck& luck);
Dual air_of(const Scope& scope, const Fault& fault, int run);

/// The hypothesis resolved into what it changes where.
struct Forward::Setting {
  const Fault& fault;
  const Luck& luck;

  bool of_group(Cause cause, int group) const {
    return fault.cause == cause && fault.level == Fault::Level::group && fault.place == group;
  }
  bool of_circuit(Cause cause, int circuit, int group) const {
    return of_group(cause, group) ||
           (fault.cause == cause && fault.level == Fault::Level::circuit && fault.place == circuit);
  }
  bool of_run(Cause cause, int run) const {
    return fault.cause == cause && fault.level == Fault::Level::run && fault.place == run;
  }
};

/// What a run's cable is worth to it and against what.
struct Forward::RunDrive {
  const CableTable* cable = nullptr;
  const RunHeat* heat = nullptr;
  Dual gain;        // times duty and the sheet's output at rated voltage: W per metre of loss
  Dual loss_scale;  // on the loss
  Dual own_loss;    // ln of the factor on conductivity beyond `factor`
  double factor = 1;
  Dual air_c;
  double own_air_k = 0;
  double live_frac = 1;
};

}  // namespace firstdraw::prove
