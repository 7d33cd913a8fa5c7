// What the current of a control group can and cannot tell.
#pragma once

#include <optional>
#include <vector>

#include "settings/alarms.hpp"
#include "settings/ordinary_year.hpp"

namespace firstdraw::settings {

/// Of a group while its cable is on, settled; NaN where the data sheet is silent.
struct GroupCurrent {
  std::vector<int> circuits;  // indices into plan.circuits
  double least_a = 0;         // ordinary: hottest pipe, low voltage, weak cable, meter reading low
  /// Most with each of `circuits` lost: coldest pipe, high voltage, strong cable, in all the others at once.
  std::vector<double> most_without_a;
};
GroupCurrent group_current(const job::Job& job, const plan::Plan& plan, int group,
                           const OrdinaryGroup& ordinary);

/// After switching on and off the reading of a current settles.
inline constexpr double current_delay_s = 300;

/// Limit half-way between the least ordinary current and the most with a circuit lost that it can tell; half
/// of the least where it can only tell that there is none. None where the sheet is silent.
std::optional<Alarm> current_alarm(const GroupCurrent& current);
/// The alarm tells that this circuit (place in `circuits`) is lost.
bool tells_lost(const GroupCurrent& current, const Alarm& alarm, std::size_t circuit);

}  // namespace firstdraw::settings
