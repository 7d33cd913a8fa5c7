#include "hold/draws.hpp"

#include <algorithm>

#include "hold/hash.hpp"

namespace firstdraw::hold {
namespace {

constexpr double deviations = 2;      // a tolerance's half-width, in standard deviations
constexpr double least_factor = 0.1;  // no draw takes away more than nine tenths

Spread spread(double usual, double below, double above) {
  return {usual, std::max(0.0, below) / deviations, std::max(0.0, above) / deviations};
}

Spread air_spread(const HeldRun& run, const Tolerances& tolerances) {
  const auto& air = run.air;
  const double given_k = tolerances.air_k;
  return given_k > 0 ? spread(air.usual_c, given_k, given_k)
                     : spread(air.usual_c, air.usual_c - air.low_c, air.high_c - air.usual_c);
}

Spread voltage_spread(const Building::Group& group, const Tolerances& tolerances) {
  const double given = tolerances.voltage_frac;
  return given > 0 ? spread(1, given, given) : spread(1, 1 - group.low_frac, group.high_frac - 1);
}

void turn_into_factors(Row& row, const Spread& spread) {
  for (double& z : row) z = std::max(least_factor, spread.at(z));
}

}  // namespace

std::uint64_t key_of(const HeldRun& run) {
  return run.key != 0 ? run.key : scrambled(static_cast<std::uint64_t>(run.job_run) + 1);
}

Draws::Draws(const Building& building, const Tolerances& tolerances, int samples, std::uint64_t seed)
    : building_(building), tolerances_(tolerances), seed_(seed), strata_(samples) {
  for (std::size_t c = 0; c < building.cables.size(); ++c) {
    const double sheet_frac = building.cables[c].sheet().output_tolerance_frac;
    const double frac = tolerances.cable_batch_frac > 0 ? tolerances.cable_batch_frac : sheet_frac;
    batch_.push_back(strata_.shuffled(stream(Owner::cable_batch, c)));
    turn_into_factors(batch_.back(), spread(1, frac, frac));
  }
  for (const HeldRun& run : building.runs) {
    if (run.space < 0) continue;
    Row& z = space_z_[run.space];
    if (z.empty()) z = strata_.shuffled(stream(Owner::space_air, static_cast<std::uint64_t>(run.space)));
  }
}

std::uint64_t Draws::stream(Owner owner, std::uint64_t key) const {
  return mixed(mixed(seed_, static_cast<std::uint64_t>(owner)), key);
}

Row Draws::voltage(int group) const {
  Row row = strata_.shuffled(stream(Owner::group_voltage, static_cast<std::uint64_t>(group)));
  turn_into_factors(row, voltage_spread(building_.groups[static_cast<std::size_t>(group)], tolerances_));
  return row;
}

Row Draws::sensor_error_k(int group) const {
  Row row = strata_.shuffled(stream(Owner::group_sensor, static_cast<std::uint64_t>(group)));
  for (double& z : row) z *= tolerances_.sensor_k / deviations;
  return row;
}

void Draws::air_into(Row& air_c, const HeldRun& run) const {
  const Spread spread = air_spread(run, tolerances_);
  if (run.space >= 0) {
    const Row& z = space_z_.at(run.space);
    std::ranges::transform(z, air_c.begin(), [&](double value) { return spread.at(value); });
    return;
  }
  strata_.shuffle_into(air_c, stream(Owner::run_air, key_of(run)));
  for (double& z : air_c) z = spread.at(z);
}

void Draws::insulation_into(Row& factor, const HeldRun& run) const {
  strata_.shuffle_into(factor, stream(Owner::run_insulation, key_of(run)));
  turn_into_factors(factor, spread(1, tolerances_.insulation_frac, tolerances_.insulation_frac));
}

}  // namespace firstdraw::hold
