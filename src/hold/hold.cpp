#include "hold/hold.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "hold/balance.hpp"
#include "hold/hash.hpp"

namespace firstdraw::hold {
namespace {

constexpr double not_solved = std::numeric_limits<double>::quiet_NaN();

double air_of(const HeldRun& run, const Conditions& conditions) {
  switch (conditions.air) {
    case Conditions::Air::low:
      return run.air.low_c + conditions.air_shift_k;
    case Conditions::Air::high:
      return run.air.high_c + conditions.air_shift_k;
    case Conditions::Air::usual:
      break;
  }
  return run.air.usual_c + conditions.air_shift_k;
}

/// Duty, not yet limited, at which `run` holds `water_c`.
double duty_to_hold(const Building& building, const HeldRun& run, double water_c,
                    const Conditions& conditions) {
  const double loss = conditions.loss_frac * run.loss.loss_w_per_m(water_c, air_of(run, conditions));
  if (loss <= 0) return 0;
  const auto& cable = building.cables[static_cast<std::size_t>(run.cable)];
  const double full_w_per_m =
      cable.power_w_per_m(water_c, voltage_of(building, run, conditions.voltage_frac));
  return loss / (cable_scale(run) * conditions.cable_output_frac * full_w_per_m);
}

double wanted_duty(const Building& building, const Building::Group& group, const std::vector<int>& runs,
                   Mode mode, const Conditions& conditions) {
  const double set_c = mode == Mode::sensor_at_setback ? group.setback_c : group.maintain_c;
  switch (mode) {
    case Mode::stuck_on:
      return 1;
    case Mode::off:
      return 0;
    case Mode::entered_ambient:
      return open_loop_duty(building, group, runs, set_c);
    case Mode::sensor_at_maintain:
    case Mode::sensor_at_setback:
      break;
  }
  const HeldRun* sensor = sensor_run(building, group);
  if (sensor == nullptr) return open_loop_duty(building, group, runs, set_c);
  return duty_to_hold(building, *sensor, set_c - group.sensor_offset_k, conditions);
}

/// A cable's output at a voltage with the slope that Newton needs.
struct ExactOutput {
  const physics::HeatingCable& cable;
  double voltage_v;

  CurveSample operator()(double pipe_c) const {
    constexpr double step_k = 1e-3;
    const double here = cable.power_w_per_m(pipe_c, voltage_v);
    return {here, (cable.power_w_per_m(pipe_c + step_k, voltage_v) - here) / step_k};
  }
};

RunState settle_at(const Building& building, const HeldRun& run, double duty, const Conditions& conditions) {
  const auto& cable = building.cables[static_cast<std::size_t>(run.cable)];
  const ExactOutput output{cable, voltage_of(building, run, conditions.voltage_frac)};
  const double on_frac = conditions.cable_output_frac * run.derating_frac;
  const double drive = duty * cable_scale(run) * conditions.cable_output_frac / conditions.loss_frac;
  const Settled settled = settle_run(run.loss.shape(), drive, air_of(run, conditions), 1, 0, output);
  const auto out = cable.output(settled.water_c, output.voltage_v);
  RunState state;
  state.water_c = settled.water_c;
  state.loss_w = settled.loss_w_per_m * conditions.loss_frac * loss_ratio(run) * run.pipe_length_m;
  state.cable_w_per_m = out.power_w_per_m * on_frac;
  state.power_w = duty * state.cable_w_per_m * run.passes * run.pipe_length_m;
  state.extrapolated = out.extrapolated;
  return state;
}

void summarise(const State& state, const std::vector<int>& runs, GroupState& group) {
  for (const int r : runs) {
    const auto water_c = [&](int run) { return state.runs[static_cast<std::size_t>(run)].water_c; };
    group.power_w += state.runs[static_cast<std::size_t>(r)].power_w;
    if (group.coldest < 0 || water_c(r) < water_c(group.coldest)) group.coldest = r;
    if (group.hottest < 0 || water_c(r) > water_c(group.hottest)) group.hottest = r;
  }
}

}  // namespace

LossCurve::LossCurve(const physics::PipeSection& section, const physics::Surroundings& around)
    : shape_(std::make_shared<const LossShape>(section, around)) {}

double LossCurve::loss_w_per_m(double water_c, double air_c, double insulation_factor) const {
  return shape_->loss_w_per_m(water_c, air_c, insulation_factor);
}

std::uint64_t run_key(std::string_view run_id) {
  std::uint64_t key = 0x72756e;  // any start will do
  for (const char c : run_id) key = mixed(key, static_cast<unsigned char>(c));
  return key == 0 ? 1 : key;
}

const HeldRun* sensor_run(const Building& building, const Building::Group& group) {
  if (group.sensor < 0) return nullptr;
  const HeldRun& run = building.runs[static_cast<std::size_t>(group.sensor)];
  return is_heated(run) ? &run : nullptr;
}

std::vector<std::vector<int>> runs_by_group(const Building& building) {
  std::vector<std::vector<int>> runs(building.groups.size());
  for (std::size_t r = 0; r < building.runs.size(); ++r) {
    const HeldRun& run = building.runs[r];
    if (is_heated(run)) runs[static_cast<std::size_t>(run.group)].push_back(static_cast<int>(r));
  }
  return runs;
}

double open_loop_duty(const Building& building, const Building::Group& group, const std::vector<int>& runs,
                      double set_c) {
  if (!group.entered_ambient_c) return 1;
  double loss_w = 0, full_w = 0;
  for (const int r : runs) {
    const HeldRun& run = building.runs[static_cast<std::size_t>(r)];
    const auto& cable = building.cables[static_cast<std::size_t>(run.cable)];
    loss_w += run.loss.loss_w_per_m(set_c, *group.entered_ambient_c) * run.loss_length_m;
    full_w += cable.power_w_per_m(set_c, voltage_of(building, run)) * run.passes * run.derating_frac *
              run.pipe_length_m;
  }
  return loss_w > 0 ? loss_w / full_w : 0;
}

double nominal_duty(const Building& building, int group, const std::vector<int>& runs) {
  const auto& settings = building.groups[static_cast<std::size_t>(group)];
  return std::min(1.0, wanted_duty(building, settings, runs, Mode::sensor_at_maintain, {}));
}

State solve(const Building& building, Mode mode, const Conditions& conditions) {
  State state;
  state.runs.assign(building.runs.size(), {not_solved, 0, 0, not_solved, false});
  state.groups.resize(building.groups.size());
  const auto runs = runs_by_group(building);
  for (std::size_t g = 0; g < building.groups.size(); ++g) {
    const double wanted = wanted_duty(building, building.groups[g], runs[g], mode, conditions);
    GroupState& group = state.groups[g];
    group.saturated = wanted > 1;
    group.duty = std::min(1.0, wanted);
    for (const int r : runs[g]) {
      const auto i = static_cast<std::size_t>(r);
      state.runs[i] = settle_at(building, building.runs[i], group.duty, conditions);
    }
    summarise(state, runs[g], group);
  }
  return state;
}

std::vector<double> ambient_error_k_per_k(const Building& building) {
  constexpr double wrong_k = 0.5;
  Building warmer = building, colder = building;
  for (std::size_t g = 0; g < building.groups.size(); ++g) {
    if (!building.groups[g].entered_ambient_c) continue;
    *warmer.groups[g].entered_ambient_c += wrong_k;
    *colder.groups[g].entered_ambient_c -= wrong_k;
  }
  const State above = solve(warmer, Mode::entered_ambient, {}),
              below = solve(colder, Mode::entered_ambient, {});
  std::vector<double> error(building.runs.size(), 0);
  for (std::size_t r = 0; r < error.size(); ++r) {
    error[r] = (above.runs[r].water_c - below.runs[r].water_c) / (2 * wrong_k);
  }
  return error;
}

}  // namespace firstdraw::hold
