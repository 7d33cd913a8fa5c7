// Somebody with instruments of his own: heavy-tailed errors, a bias for the day, displays with few digits,
// and now and then a slip. He measures what he is asked for.
#pragma once

#include "truth.hpp"

namespace firstdraw::bench {

class Technician {
 public:
  Technician(const Building& building, const Truth& truth, std::uint64_t seed);
  /// What started the visit: a current on the circuit in question; sometimes with the pipe's temperature and
  /// the voltage, sometimes with the controller's reading.
  std::vector<prove::Reading> complaint();
  /// Where a walk finds insulation that is not sound, also the run.
  std::vector<prove::Reading> measure(const prove::Proposal& asked);
  /// The next of a fixed order (common practice, no source): voltage, current, breaker, controller's reading,
  /// pipe at the sensor, contactor, duty, pipe at the far end, insulation resistance, air.
  std::optional<prove::Reading> by_checklist(std::size_t step);

 private:
  double meter(double value, double frac, double abs, double step);
  prove::Reading read(prove::What what, std::string circuit, std::string group, std::string run);
  int slip_free(int truth_yes);
  bool looks_sound(int run);
  std::size_t seen_position(int group);
  std::string far_run() const;

  const Building& building_;
  const Truth& truth_;
  Dice dice_;
  double clamp_bias_, thermometer_bias_k_, volts_bias_, sealed_;
};

}  // namespace firstdraw::bench
