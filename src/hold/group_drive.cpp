#include "hold/group_drive.hpp"

#include <algorithm>

namespace firstdraw::hold {

GroupDrive::GroupDrive(const Sampling& sampling, int group, const std::vector<int>& runs)
    : sampling_(sampling),
      group_(group),
      nominal_duty_(nominal_duty(sampling.building, group, runs)),
      voltage_frac_(sampling.draws.voltage(group)) {
  const Building& building = sampling.building;
  const HeldRun* sensor = sensor_run(building, building.groups[static_cast<std::size_t>(group)]);
  duty_ = sensor != nullptr ? sensor_duty(*sensor) : Row(voltage_frac_.size(), nominal_duty_);
}

double GroupDrive::nominal(const HeldRun& run) const {
  const auto& cable = sampling_.building.cables[static_cast<std::size_t>(run.cable)];
  return nominal_duty_ * cable.voltage_factor(voltage_of(sampling_.building, run));
}

void GroupDrive::drive_into(Row& drive, const HeldRun& run) const {
  full_drive_into(drive, run);
  for (std::size_t s = 0; s < drive.size(); ++s) drive[s] *= duty_[s];
}

/// At duty 1.
void GroupDrive::full_drive_into(Row& drive, const HeldRun& run) const {
  const auto& cable = sampling_.building.cables[static_cast<std::size_t>(run.cable)];
  const Row& batch = sampling_.draws.batch(run.cable);
  for (std::size_t s = 0; s < drive.size(); ++s)
    drive[s] = batch[s] * cable.voltage_factor(voltage_of(sampling_.building, run, voltage_frac_[s]));
}

/// Duty that brings the sensor's reading to the set-point.
Row GroupDrive::sensor_duty(const HeldRun& sensor) const {
  const auto& group = sampling_.building.groups[static_cast<std::size_t>(group_)];
  const double held_c = group.maintain_c - group.sensor_offset_k;
  const QuickOutput& output = sampling_.outputs[static_cast<std::size_t>(sensor.cable)];
  const QuickLoss loss(sensor.loss.shape(), held_c, sensor.air.usual_c);
  Row duty = sampling_.draws.sensor_error_k(group_), air_c(duty.size()), factor(duty.size()),
      full_drive(duty.size());
  full_drive_into(full_drive, sensor);
  sampling_.draws.air_into(air_c, sensor);
  sampling_.draws.insulation_into(factor, sensor);
  for (std::size_t s = 0; s < duty.size(); ++s) {
    const double water_c = held_c - duty[s];
    const double loss_w_per_m = loss.loss_w_per_m(water_c, air_c[s], factor[s]);
    const double full_w_per_m = cable_scale(sensor) * full_drive[s] * output(water_c).value;
    duty[s] = loss_w_per_m > 0 ? std::min(1.0, loss_w_per_m / full_w_per_m) : 0;
  }
  return duty;
}

}  // namespace firstdraw::hold
