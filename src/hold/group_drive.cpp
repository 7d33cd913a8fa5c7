#include "hold/group_drive.hpp"

#include <algorithm>

namespace firstdraw::hold {

GroupDrive::GroupDrive(const Sampling& sampling, int group, const std::vector<int>& runs)
    : group_(group), nominal_duty_(nominal_duty(sampling.building, group, runs)) {
  const Building& building = sampling.building;
  const HeldRun* sensor = sensor_run(building, building.groups[static_cast<std::size_t>(group)]);
  const Row voltage_frac = sampling.draws.voltage(group);
  if (sensor != nullptr) add_cable(sampling, sensor->cable, voltage_frac);
  for (const int r : runs) {
    add_cable(sampling, building.runs[static_cast<std::size_t>(r)].cable, voltage_frac);
  }
  const Row duty =
      sensor != nullptr ? sensor_duty(sampling, *sensor) : Row(voltage_frac.size(), nominal_duty_);
  for (auto& [cable, drive] : by_cable_) {
    for (std::size_t s = 0; s < duty.size(); ++s) drive[s] *= duty[s];
  }
}

double GroupDrive::nominal(int cable) const { return nominal_duty_ * nominal_factor_.at(cable); }

void GroupDrive::add_cable(const Sampling& sampling, int cable, const Row& voltage_frac) {
  const auto [entry, is_new] = by_cable_.try_emplace(cable);
  if (!is_new) return;
  const auto& type = sampling.building.cables[static_cast<std::size_t>(cable)];
  const double nominal_v = sampling.building.groups[static_cast<std::size_t>(group_)].voltage_v;
  nominal_factor_[cable] = type.voltage_factor(nominal_v);
  entry->second = sampling.draws.batch(cable);
  for (std::size_t s = 0; s < voltage_frac.size(); ++s) {
    entry->second[s] *= type.voltage_factor(nominal_v * voltage_frac[s]);
  }
}

/// Duty that brings the sensor's reading to the set-point; called while the rows of by_cable_ still stand for
/// duty 1.
Row GroupDrive::sensor_duty(const Sampling& sampling, const HeldRun& sensor) const {
  const auto& group = sampling.building.groups[static_cast<std::size_t>(group_)];
  const double held_c = group.maintain_c - group.sensor_offset_k;
  const QuickOutput& output = sampling.outputs[static_cast<std::size_t>(sensor.cable)];
  const QuickLoss loss(sensor.loss.shape(), held_c, sensor.air.usual_c);
  const Row& full_drive = by_cable_.at(sensor.cable);
  Row duty = sampling.draws.sensor_error_k(group_), air_c(duty.size()), factor(duty.size());
  sampling.draws.air_into(air_c, sensor);
  sampling.draws.insulation_into(factor, sensor);
  for (std::size_t s = 0; s < duty.size(); ++s) {
    const double water_c = held_c - duty[s];
    const double loss_w_per_m = loss.loss_w_per_m(water_c, air_c[s], factor[s]);
    const double full_w_per_m = cable_scale(sensor) * full_drive[s] * output(water_c).value;
    duty[s] = loss_w_per_m > 0 ? std::min(1.0, loss_w_per_m / full_w_per_m) : 0;
  }
  return duty;
}

}  // namespace firstdraw::hold
