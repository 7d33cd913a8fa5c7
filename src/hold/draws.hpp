// What the tolerances come to, sample by sample: rows drawn once for what runs share, and on demand for a
// run's own.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "hold/hold.hpp"
#include "hold/strata.hpp"

namespace firstdraw::hold {

using Row = std::vector<double>;  // [samples]

/// The usual value with a standard deviation for each side.
struct Spread {
  double usual = 0, below = 0, above = 0;
  double at(double z) const { return usual + z * (z < 0 ? below : above); }
};

class Draws {
 public:
  Draws(const Building& building, const Tolerances& tolerances, int samples, std::uint64_t seed);

  std::size_t samples() const { return strata_.size(); }
  /// Factor on the output of every metre of a cable type.
  const Row& batch(int cable) const { return batch_[static_cast<std::size_t>(cable)]; }
  /// Factor on a group's nominal voltage.
  Row voltage(int group) const;
  /// What the sensor reads too high, K.
  Row sensor_error_k(int group) const;
  /// Air around a run, and the factor on its insulation's conductivity, into rows of samples() values.
  void air_into(Row& air_c, const HeldRun& run) const;
  void insulation_into(Row& factor, const HeldRun& run) const;

 private:
  enum class Owner : std::uint64_t {
    run_insulation = 1,
    run_air,
    space_air,
    cable_batch,
    group_voltage,
    group_sensor
  };
  std::uint64_t stream(Owner owner, std::uint64_t key) const;

  const Building& building_;
  const Tolerances& tolerances_;
  std::uint64_t seed_;
  Strata strata_;
  std::vector<Row> batch_;
  std::map<int, Row> space_z_;  // shuffled strata
};

/// The run's key, or one made from its number.
std::uint64_t key_of(const HeldRun& run);

}  // namespace firstdraw::hold
