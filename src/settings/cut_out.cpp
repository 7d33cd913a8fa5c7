#include "settings/cut_out.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "physics/insulation.hpp"
#include "plan/decide.hpp"
#include "plan/run_classes.hpp"
#include "settings/alarm_choice.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double clear_of_ordinary_k = 3;  // common practice, no source

/// What the sensor may read before something on the group's runs is past its limit.
struct Bearable {
  double sensor_c = std::numeric_limits<double>::infinity(), limit_c = 0, hotter_k = 0;
  std::string run, of;
};

void add_limits(const job::Run& run, const plan::RunPlan& planned, const physics::CableSheet& cable,
                double hotter_k, Bearable& least) {
  const auto add = [&](double limit_c, std::string of) {
    if (limit_c - hotter_k < least.sensor_c)
      least = {limit_c - hotter_k, limit_c, hotter_k, run.id, std::move(of)};
  };
  add(run.pipe.max_c, run.pipe.material + " pipe");
  if (const auto insulation = physics::find_insulation(run.insulation);
      insulation && planned.insulation.outer_diameter_m > planned.insulation.bore_m)
    add(insulation->max_c, insulation->name);
  add(cable.max_powered_c, "powered cable " + cable.name);
}

/// Runs may be hotter than the sensor's by what they differ when the control is stuck on for good, at most.
Bearable bearable(const job::Job& job, const plan::Plan& plan, int group, int sensor) {
  Bearable least;
  for (std::size_t r = 0; r < job.runs.size(); ++r) {
    const plan::RunPlan& planned = plan.runs[r];
    if (planned.cable == draw::none || plan::heating_group(job, job.runs[r]) != group) continue;
    const double hotter_k = std::max(0.0, planned.stuck_on_c - plan.runs[at(sensor)].stuck_on_c);
    add_limits(job.runs[r], planned, job.cables[at(planned.cable)], hotter_k, least);
  }
  return least;
}

double highest_c(const OrdinaryGroup& ordinary) {
  float most = -std::numeric_limits<float>::infinity();
  for (const auto& week : ordinary.reading_c)
    for (const float value : week) most = std::max(most, value);
  return static_cast<double>(most);
}

constexpr const char* same_contactor =
    "A cut-out that opens the group's own contactor cannot help when that contactor sticks: give it a sensor "
    "and a contactor of its own.";

}  // namespace

CutOut cut_out(const job::Job& job, const plan::Plan& plan, int group, const OrdinaryGroup& ordinary) {
  const int sensor = plan::sensor_run_of(job, group);
  const double top_c = highest_c(ordinary);
  if (sensor == draw::none || !std::isfinite(top_c))
    return {std::numeric_limits<double>::quiet_NaN(), "no sensor that the controller goes by"};
  const Bearable bears = bearable(job, plan, group, sensor);
  const auto show = [&job](double c) { return units::show(c, units::Kind::temperature, job.units); };
  const auto difference = [&job](double k) {
    return units::show(k, units::Kind::temperature_difference, job.units);
  };
  const std::string bounds = fmt::format(
      "Ordinary weeks read up to {}; {} of run {} bears {}{}.", show(top_c), bears.of, bears.run,
      show(bears.limit_c),
      bears.hotter_k > 0
          ? fmt::format(", and may be {} hotter than the sensor's run", difference(bears.hotter_k))
          : "");
  const double own_c = job.groups[at(group)].high_cutout_c;
  if (own_c > 0) {
    const char* judged = own_c <= top_c ? " It would trip in ordinary weeks: raise it if the limit allows."
                         : own_c > bears.sensor_c ? " It is too high for that."
                                                  : "";
    return {own_c, fmt::format("As the job has it. {}{} {}", bounds, judged, same_contactor)};
  }
  const Grid grid = limit_grid(job, Alarm::Kind::high_temperature);
  const double up = std::ceil((top_c + clear_of_ordinary_k - grid.origin) / grid.step - 1e-9);
  const double down = std::floor((bears.sensor_c - grid.origin) / grid.step + 1e-9);
  const bool room = up <= down;
  return {grid.origin + grid.step * (room ? up : down),
          fmt::format("{} {} {}", bounds,
                      room ? fmt::format("Set {} clear of ordinary weeks.", difference(clear_of_ordinary_k))
                           : "Between the two is no room: expect it to trip now and then.",
                      same_contactor)};
}

}  // namespace firstdraw::settings
