// What circuits and starts came to, kept from one plan of a building to the next: an edit leaves most
// circuits as they were. Known is only what was asked with the very same numbers, so a plan is the same to
// the last bit whatever was known before.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <vector>

#include "physics/heating_cable.hpp"
#include "power/local_voltage.hpp"
#include "power/remembered.hpp"
#include "power/starts_course.hpp"

namespace firstdraw::power {

/// For one plan at a time: not safe from several threads.
class Known {
 public:
  Known() = default;
  Known(const Known&) = delete;
  Known& operator=(const Known&) = delete;

  /// Begins a plan. Cables that differ in anything but their price, or starts from another temperature, make
  /// all else unknown.
  void begin(const std::vector<physics::HeatingCable>& cables, double start_c);

  /// power::circuit_voltage with cables[circuit.cable].
  const CircuitVoltage& voltage(const piping::Network& network, const Circuit& circuit,
                                std::span<const double> cable_length_m, std::span<const double> water_c,
                                std::span<const double> derating_frac, double panel_v);
  /// physics::fit_cable of cables[cable].
  const physics::CableModel& model(int cable);
  StartCourses& starts() { return *starts_; }

 private:
  std::vector<physics::HeatingCable> cables_{};
  Remembered<std::vector<double>, CircuitVoltage> voltages_{};
  std::map<int, physics::CableModel> models_{};
  std::optional<StartCourses> starts_{};  // refers to cables_
};

}  // namespace firstdraw::power
