#include "settings/coldest_run.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "draw/scene.hpp"
#include "hold/balance.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double unknown = std::numeric_limits<double>::quiet_NaN(), half_hour_s = 1800;

}  // namespace

MeanSetting mean_setting(const GroupTimetable& group) {
  const std::vector<double> steps = by_step(group, half_hour_s);
  double sum_c = 0, on = 0;
  for (const double set_c : steps) {
    if (!std::isfinite(set_c)) continue;
    sum_c += set_c;
    ++on;
  }
  return {on > 0 ? sum_c / on : unknown, on / static_cast<double>(steps.size())};
}

hold::Building only_group(const hold::Building& building, int group) {
  hold::Building only;
  only.cables = building.cables;
  only.groups = building.groups;
  for (auto& other : only.groups) other.sensor = draw::none;
  for (std::size_t i = 0; i < building.runs.size(); ++i) {
    if (building.runs[i].group != group || !hold::is_heated(building.runs[i])) continue;
    if (building.groups[at(group)].sensor == static_cast<int>(i))
      only.groups[at(group)].sensor = static_cast<int>(only.runs.size());
    only.runs.push_back(building.runs[i]);
  }
  return only;
}

double needed_duty(const hold::Building& building, const hold::HeldRun& run, double water_c) {
  const double given_w_per_m = hold::cable_scale(run) * building.cables[at(run.cable)].power_w_per_m(
                                                            water_c, hold::voltage_of(building, run));
  return run.loss.loss_w_per_m(water_c, run.air.usual_c) / given_w_per_m;
}

double coldest_c(hold::Building only, int group, double set_c, bool open_loop) {
  only.groups[at(group)].maintain_c = set_c;
  const hold::State state =
      hold::solve(only, open_loop ? hold::Mode::entered_ambient : hold::Mode::sensor_at_maintain, {});
  const int coldest = state.groups[at(group)].coldest;
  return coldest < 0 ? unknown : state.runs[at(coldest)].water_c;
}

HeldByColdest hold_by_coldest(hold::Building only, int group, double least_c) {
  HeldByColdest held;
  double largest = -1;
  for (std::size_t i = 0; i < only.runs.size(); ++i) {
    const double duty = needed_duty(only, only.runs[i], least_c);
    if (!(duty > largest)) continue;
    largest = duty;
    held.coldest = static_cast<int>(i);
  }
  auto& control = only.groups[at(group)];
  control.sensor = held.coldest;
  control.sensor_offset_k = 0;
  control.maintain_c = least_c;
  held.state = hold::solve(only, hold::Mode::sensor_at_maintain, {});
  held.duty = held.state.groups[at(group)].duty;
  held.power_w = held.state.groups[at(group)].power_w;
  return held;
}

}  // namespace firstdraw::settings
