// How hard a group's cables work in every sample.
#pragma once

#include <vector>

#include "hold/draws.hpp"
#include "hold/quick_balance.hpp"

namespace firstdraw::hold {

/// What sampling works from.
struct Sampling {
  const Building& building;
  const Draws& draws;
  const std::vector<QuickOutput>& outputs;  // like building.cables
};

/// Drive of a run: the group's duty times voltage factor and batch, which multiplies the cable's output.
class GroupDrive {
 public:
  GroupDrive(const Sampling& sampling, int group, const std::vector<int>& runs);
  /// Into a row of samples.
  void drive_into(Row& drive, const HeldRun& run) const;
  /// With everything nominal.
  double nominal(const HeldRun& run) const;

 private:
  void full_drive_into(Row& drive, const HeldRun& run) const;
  Row sensor_duty(const HeldRun& sensor) const;

  Sampling sampling_;
  int group_;
  double nominal_duty_ = 0;
  Row voltage_frac_, duty_;
};

}  // namespace firstdraw::hold
