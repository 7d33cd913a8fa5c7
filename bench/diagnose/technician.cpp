#include "technician.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "plan/decide.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::What;

double in_steps(double value, double step) { return step > 0 ? step * std::round(value / step) : value; }

}  // namespace

Technician::Technician(const Building& building, const Truth& truth, std::uint64_t seed)
    : building_(building),
      truth_(truth),
      dice_(seed),
      clamp_bias_(even(dice_, -0.015, 0.015)),
      thermometer_bias_k_(even(dice_, -1, 0.6)),
      volts_bias_(even(dice_, -0.006, 0.006)),
      sealed_(even(dice_, 0, 1)) {}

double Technician::meter(double value, double frac, double abs, double step) {
  return in_steps(value + heavy(dice_, 0.5 * (frac * std::abs(value) + abs)), step);
}

int Technician::slip_free(int truth_yes) { return dice_() % 100 < 2 ? 1 - truth_yes : truth_yes; }

prove::Reading Technician::read(What what, std::string circuit_id, std::string group_id, std::string run_id) {
  prove::Reading made;
  made.what = what;
  made.circuit = std::move(circuit_id);
  made.group = std::move(group_id);
  made.run = std::move(run_id);
  const int circuit = plan::index_of(building_.plan.circuits, made.circuit);
  const int group = plan::index_of(building_.job.groups, made.group);
  const int run = plan::index_of(building_.job.runs, made.run);
  switch (what) {
    case What::current:
      made.value = std::max(0.0, meter(truth_.amps(circuit) * (1 + clamp_bias_), 0.02, 0.05, 0.05));
      break;
    case What::supply_voltage:
      made.value = std::max(0.0, meter(truth_.feed_v(circuit) * (1 + volts_bias_), 0.01, 0.5, 1));
      break;
    case What::far_voltage:
      made.value = std::max(0.0, meter(truth_.far_v(circuit) * (1 + volts_bias_), 0.01, 0.5, 1));
      break;
    case What::pipe_temperature:
      made.value = meter(truth_.pipe_c(run) + thermometer_bias_k_, 0, 2, 0.5);
      break;
    case What::air_temperature:
      made.value = meter(truth_.air_c(run) + even(dice_, -0.5, 1.5), 0, 1, 0.5);
      break;
    case What::sensor_reading: {
      const auto reading_c = truth_.reading_c(group);
      made.value = reading_c ? in_steps(*reading_c, 1) : -200;
      break;
    }
    case What::sensor_resistance: {
      made.sensor_kind = "pt100";
      const auto reading_c = truth_.reading_c(group);
      made.at_least = !reading_c;
      made.value =
          reading_c ? in_steps(100 * (1 + 3.9083e-3 * *reading_c - 5.775e-7 * *reading_c * *reading_c), 0.1)
                    : 1e6;
      break;
    }
    case What::duty:
      made.value = std::clamp(in_steps(truth_.duty(group) + heavy(dice_, 0.03), 0.05), 0.0, 1.0);
      break;
    case What::entered_ambient:
      made.value = in_steps(truth_.entered_c(group).value_or(20), 0.5);
      break;
    case What::capacitance:
      made.value = meter(truth_.farad(circuit), 0.03, 0.1e-9, 1e-10);
      break;
    case What::open_resistance:
      made.value = meter(truth_.open_ohm(circuit), 0.01, 0.05, 0.1);
      break;
    case What::insulation_resistance:
      made.value = std::min(2e9, truth_.insulation_ohm(circuit));
      made.at_least = made.value >= 2e9;
      break;
    case What::surface_temperature:
      made.value = meter(truth_.surface_c(run) + 0.5 * thermometer_bias_k_, 0, 2, 0.5);
      break;
    case What::insulation_seen:
      made.value = slip_free(looks_sound(run) ? 1 : 0);
      break;
    case What::insulation_walked: {
      const auto& runs = building_.plan.circuits[at(circuit)].runs;
      made.value = std::ranges::all_of(runs, [this](int one) { return looks_sound(one); }) ? 1 : 0;
      break;
    }
    case What::sensor_position:
      made.text = prove::sensor_positions()[seen_position(group)];
      break;
    case What::breaker:
      made.value = slip_free(truth_.breaker(circuit) ? 1 : 0);
      break;
    case What::contactor:
      break;  // its asker sets it
    case What::cable_marking:
      made.text = building_.job.cables[at(truth_.cable(circuit))].id;
      break;
    default:
      break;
  }
  return made;
}

/// Water under a closed jacket shows to some; which it is, is settled for the visit.
bool Technician::looks_sound(int run) {
  if (truth_.coat(run) == Truth::Coat::missing) return false;
  if (truth_.coat(run) == Truth::Coat::sound) return true;
  return sealed_ > 0.45 + 0.09 * truth_.wetness(run);
}

/// A sensor beside the cable may pass for one that is where it should be.
std::size_t Technician::seen_position(int group) {
  const auto position = truth_.sensor_position(group);
  const bool missed = position == prove::SensorPosition::beside_cable && dice_() % 100 < 8;
  if (missed) return 0;
  return dice_() % 100 < 2 ? dice_() % prove::sensor_positions().size() : static_cast<std::size_t>(position);
}

std::vector<prove::Reading> Technician::complaint() {
  const Planted& planted = truth_.planted();
  const std::string circuit = building_.plan.circuits[at(planted.circuit)].id;
  std::vector<prove::Reading> made{read(What::current, circuit, "", "")};
  const double kind = even(dice_, 0, 1);
  if (kind < 0.35) {
    const auto& runs = building_.plan.circuits[at(planted.circuit)].runs;
    const int run = runs[dice_() % runs.size()];
    made.push_back(read(What::pipe_temperature, "", "", building_.job.runs[at(run)].id));
  } else if (kind < 0.6) {
    made.push_back(read(What::sensor_reading, "", building_.job.groups[at(planted.group)].id, ""));
    if (plan::sensor_run_of(building_.job, planted.group) == -1) made.pop_back();
  }
  return made;
}

std::vector<prove::Reading> Technician::measure(const prove::Proposal& asked) {
  const int circuit = plan::index_of(building_.plan.circuits, asked.place);
  const int group = plan::index_of(building_.job.groups, asked.place);
  prove::Reading made =
      read(asked.what, circuit != -1 ? asked.place : "", circuit == -1 && group != -1 ? asked.place : "",
           circuit == -1 && group == -1 ? asked.place : "");
  if (asked.what == What::contactor) {
    const bool called = asked.how.starts_with("Look");
    made.called = called;
    made.value = slip_free(truth_.contactor(group, called) ? 1 : 0);
  }
  std::vector<prove::Reading> all{made};
  if (asked.what == What::insulation_walked && made.value == 0)
    for (const int run : building_.plan.circuits[at(circuit)].runs)
      if (!looks_sound(run)) {
        all.push_back(read(What::insulation_seen, "", "", building_.job.runs[at(run)].id));
        all.back().value = 0;
        break;
      }
  return all;
}

std::string Technician::far_run() const {
  const auto& circuit = building_.plan.circuits[at(truth_.planted().circuit)];
  for (const int run : circuit.runs)
    if (building_.plan.network.to_node[at(run)] == circuit.far_node ||
        building_.plan.network.from_node[at(run)] == circuit.far_node)
      return building_.job.runs[at(run)].id;
  return building_.job.runs[at(circuit.runs.back())].id;
}

std::optional<prove::Reading> Technician::by_checklist(std::size_t step) {
  constexpr std::array order{
      What::supply_voltage, What::breaker, What::sensor_reading,   What::pipe_temperature,
      What::contactor,      What::duty,    What::pipe_temperature, What::insulation_resistance,
      What::air_temperature};
  if (step >= order.size()) return std::nullopt;
  const Planted& planted = truth_.planted();
  const std::string circuit = building_.plan.circuits[at(planted.circuit)].id,
                    group = building_.job.groups[at(planted.group)].id;
  const int sensor = plan::sensor_run_of(building_.job, planted.group);
  const std::string near = building_.job.runs[at(sensor != -1 ? sensor : planted.run)].id;
  switch (order[step]) {
    case What::sensor_reading:
      if (sensor == -1 || building_.job.groups[at(planted.group)].kind == job::ControlKind::entered_ambient)
        return read(What::entered_ambient, "", group, "");
      return read(What::sensor_reading, "", group, "");
    case What::duty:
      return read(What::duty, "", group, "");
    case What::pipe_temperature:
      return read(What::pipe_temperature, "", "", step < 4 ? near : far_run());
    case What::air_temperature:
      return read(What::air_temperature, "", "", far_run());
    case What::contactor: {
      prove::Reading made = read(What::contactor, "", group, "");
      made.called = true;
      made.value = slip_free(truth_.contactor(planted.group, true) ? 1 : 0);
      return made;
    }
    default:
      return read(order[step], circuit, "", "");
  }
}

}  // namespace firstdraw::bench
