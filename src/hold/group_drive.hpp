// How hard a group's cables work in every sample.
#pragma once

#include <map>
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

/// Drive of a cable: the group's duty times voltage factor and batch, which multiplies the cable's output.
class GroupDrive {
 public:
  GroupDrive(const Sampling& sampling, int group, const std::vector<int>& runs);
  const Row& of_cable(int cable) const { return by_cable_.at(cable); }
  /// With everything nominal.
  double nominal(int cable) const;

 private:
  void add_cable(const Sampling& sampling, int cable, const Row& voltage_frac);
  Row sensor_duty(const Sampling& sampling, const HeldRun& sensor) const;

  int group_;
  std::map<int, Row> by_cable_;
  std::map<int, double> nominal_factor_;
  double nominal_duty_ = 0;
};

}  // namespace firstdraw::hold
