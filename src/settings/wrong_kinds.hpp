// What is set or fitted wrong in groups, kind by kind, as faults of the building in time.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "settings/lab.hpp"

namespace firstdraw::settings {

enum class WrongKind {
  ambient_low,
  ambient_high,
  voltage_low,
  voltage_high,
  weaker_cable,
  stronger_cable,
  clock_ahead,
  clock_opposite,
  sensor_beside,
  sensor_upstream,
};
inline constexpr WrongKind wrong_kinds[] = {
    WrongKind::ambient_low,   WrongKind::ambient_high,    WrongKind::voltage_low, WrongKind::voltage_high,
    WrongKind::weaker_cable,  WrongKind::stronger_cable,  WrongKind::clock_ahead, WrongKind::clock_opposite,
    WrongKind::sensor_beside, WrongKind::sensor_upstream,
};

struct Wrong {
  WrongKind kind{};
  int group = -1;
  std::string what, text;  // in words; as forecast::read_fault takes it
  forecast::Fault fault;
};
/// None where this cannot be, or cannot do anything, in this group.
std::optional<Wrong> wrong_in(const Lab& lab, const Timetable& timetable, WrongKind kind, int group);

/// Voltage classes of the trade under a rule set, rising (common practice, no source).
std::vector<double> voltage_classes(rules::RuleSet rules);

/// The sheet most metres of the group are planned with; none without cable.
int main_cable(const Lab& lab, int group);

}  // namespace firstdraw::settings
