#include "prove/observe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/run_classes.hpp"
#include "prove/instruments.hpp"
#include "units/quantity.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using units::Kind;
using enum What;

constexpr double least_sensor_c = -40, most_sensor_c = 130;

double square(double value) { return value * value; }

std::string figure(const Scope& scope, What what, double value) {
  const units::System system = scope.job.units;
  switch (what) {
    case current:
      return fmt::format("{:.2f} A", value);
    case supply_voltage:
    case far_voltage:
      return fmt::format("{:.0f} V", value);
    case capacitance:
      return fmt::format("{:.1f} nF", value * 1e9);
    case duty:
      return fmt::format("{:.0f} %", 100 * value);
    case insulation_resistance:
      return fmt::format("{:.3g} MΩ", value / 1e6);
    case loop_resistance:
    case open_resistance:
    case sensor_resistance:
      return fmt::format("{:.4g} Ω", value);
    case contactor:
    case breaker:
    case insulation_seen:
    case insulation_walked:
    case continuity:
      return value > 0.5 ? "yes" : "no";
    default:
      return units::show(value, Kind::temperature, system);
  }
}

struct Reader {
  const Scope& scope;
  Observed& made;
  std::optional<double> minutes;  // of the visit

  std::string place_text(const Reading& reading) const {
    return !reading.run.empty() ? reading.run : !reading.circuit.empty() ? reading.circuit : reading.group;
  }

  Observable of(const Reading& reading) const {
    const ReadingPlace place = place_of(scope.job, scope.plan, reading);
    Observable made_of;
    made_of.what = reading.what;
    made_of.circuit = scope.circuit_of(place.circuit);
    made_of.group = scope.group_of(place.group);
    made_of.run = place.run == -1 ? -1 : scope.run_of(place.run);
    made_of.called = reading.called;
    if (reading.what == current || reading.what == pipe_temperature || reading.what == sensor_reading)
      made_of.minutes = reading.minutes ? reading.minutes : minutes;
    return made_of;
  }

  /// Which kind of place the reading must have; false when it has none in the scope.
  bool placed(const Observable& what_of) const {
    const auto helps = what_help();
    const auto help = std::ranges::find(helps, what_of.what, &WhatHelp::what);
    if (help->place == "circuit") return what_of.circuit != -1;
    if (help->place == "group") return what_of.group != -1;
    return what_of.run != -1;
  }

  void add(const Observable& what_of, double value, const std::optional<InstrumentError>& error,
           std::string said) {
    Observation seen = to_be_made(scope, what_of);
    seen.value = value;
    seen.error_var = error_var(what_of.what, value, error);
    seen.said = std::move(said);
    seen.high = std::max(seen.high, value + 1e-12);
    seen.low = std::min(seen.low, value - 1e-12);
    made.all.push_back(std::move(seen));
  }

  /// Voltage and pipe temperature that came with another reading.
  void add_circumstances(const Reading& reading, const Observable& what_of) {
    if (reading.what != current || what_of.circuit == -1) return;
    const std::string& circuit = reading.circuit;
    if (reading.volts) {
      Observable volts{supply_voltage, what_of.circuit, what_of.group};
      add(volts, *reading.volts, {},
          fmt::format("{} at the power connection of {}", figure(scope, supply_voltage, *reading.volts),
                      circuit));
    }
    if (reading.cable_c) {
      Observable pipe{pipe_temperature, what_of.circuit, what_of.group, what_of.run, -1, what_of.minutes};
      add(pipe, *reading.cable_c, {},
          fmt::format("pipe of {} at {}", circuit, figure(scope, pipe_temperature, *reading.cable_c)));
    }
  }

  void read_marking(const Reading& reading, const Observable& what_of) {
    Observation seen = to_be_made(scope, what_of);
    const auto& sheets = scope.job.cables;
    for (std::size_t c = 0; c < sheets.size(); ++c)
      if (!reading.text.empty() && (reading.text.find(sheets[c].id) != std::string::npos ||
                                    reading.text.find(sheets[c].name) != std::string::npos))
        seen.sheet = static_cast<int>(c);
    if (seen.sheet == -1) {
      made.warnings.push_back(fmt::format(
          "the marking \"{}\" names no cable of the catalogue: add its data sheet, and it can be weighed",
          reading.text));
      return;
    }
    seen.said = fmt::format("marked \"{}\" on {}", reading.text, reading.circuit);
    made.all.push_back(std::move(seen));
  }

  void read_position(const Reading& reading, const Observable& what_of) {
    const auto position = sensor_position_named(reading.text);
    const ScopeGroup& group = scope.groups[at(what_of.group)];
    if (!position || group.sensor == -1 || group.open_loop) {
      made.warnings.push_back(
          fmt::format("the place of a sensor of {} is not used: {}", reading.group,
                      position ? "no sensor rules there" : "\"" + reading.text + "\" is none that is known"));
      return;
    }
    Observation seen = to_be_made(scope, what_of);
    seen.sheet = static_cast<int>(*position);
    seen.said = fmt::format("sensor of {} found: {}", reading.group, reading.text);
    made.all.push_back(std::move(seen));
  }

  void read_sensor(const Reading& reading, const Observable& what_of) {
    double value_c = reading.value;
    bool absurd = false;
    if (reading.what == sensor_resistance) {
      const auto found = sensor_c(reading.sensor_kind, reading.value);
      if (!found && reading.sensor_kind.empty()) {
        made.warnings.push_back(
            "a sensor's resistance without the kind of sensor (pt100, pt1000, ntc10k) is not used");
        return;
      }
      absurd = !found || reading.at_least;
      value_c = found.value_or(0);
    }
    absurd = absurd || !(value_c > least_sensor_c && value_c < most_sensor_c);
    add(what_of, absurd ? 0 : value_c, reading.instrument.error, said(reading));
    if (reading.what == sensor_resistance) made.all.back().error_var = 1;
    made.all.back().absurd = absurd;
  }

  std::string said(const Reading& reading) const {
    return fmt::format("{} of {}: {}{}", name_of(reading.what), place_text(reading),
                       reading.at_least ? "above " : "", figure(scope, reading.what, reading.value));
  }

  void read(const Reading& reading) {
    const Observable what_of = of(reading);
    if (reading.what == set_point) {
      if (what_of.group == -1) return;
      made.known.set_c[at(what_of.group)] = reading.value;
      made.used.push_back(said(reading));
      return;
    }
    if (!placed(what_of)) {
      made.warnings.push_back(fmt::format("{} of {} is not used: no heating cable of this plan is there",
                                          name_of(reading.what), place_text(reading)));
      return;
    }
    const std::size_t before = made.all.size();
    if (reading.what == cable_marking) {
      read_marking(reading, what_of);
    } else if (reading.what == sensor_position) {
      read_position(reading, what_of);
    } else if (reading.what == sensor_reading || reading.what == sensor_resistance) {
      read_sensor(reading, what_of);
    } else if (reading.what == insulation_resistance) {
      add(what_of, std::log10(std::max(1.0, reading.value)), {}, said(reading));
      made.all.back().at_least = reading.at_least;
      made.all.back().error_var = square(0.1);
    } else {
      add(what_of, reading.value, reading.instrument.error, said(reading));
      made.all.back().at_least = reading.at_least;
    }
    add_circumstances(reading, what_of);
    for (std::size_t i = before; i < made.all.size(); ++i) made.used.push_back(made.all[i].said);
  }
};

bool can_use(What what) {
  switch (what) {
    case supply_insulation:
    case earth_resistance:
    case trip_current:
    case trip_time:
    case trip_button:
    case leakage_current:
    case tap_temperature:
      return false;
    default:
      return true;
  }
}

/// Who walks along a circuit and finds a run where insulation is not sound has looked once.
void count_looks_once(std::vector<Observation>& all) {
  const std::vector<Observation> walks = all;
  for (const Observation& walk : walks) {
    if (walk.of.what != insulation_walked || walk.value > 0.5) continue;
    const auto found = std::ranges::find_if(all, [&](const Observation& seen) {
      return seen.of.what == insulation_seen && seen.of.circuit == walk.of.circuit && seen.value < 0.5;
    });
    if (found == all.end()) continue;
    found->of.walked = true;
    std::erase_if(all, [&](const Observation& one) { return one.of == walk.of; });
  }
}

double most_amps(const Scope& scope, int circuit) {
  const ScopeCircuit& fixed = scope.circuits[at(circuit)];
  double metres = 0, most_w_per_m = 1;
  for (const auto& stretch : fixed.stretches) metres += stretch.length_m;
  for (const CableTable& cable : scope.cables) most_w_per_m = std::max(most_w_per_m, cable.output(5).value);
  return 1.2 * most_w_per_m * metres / fixed.panel_v + 1;
}

}  // namespace

double error_var(What what, double value, const std::optional<InstrumentError>& error) {
  if (what == insulation_resistance) return square(0.1);
  if (what == sensor_resistance) return 1;
  if (what == sensor_reading) return square(0.15);  // a display; the sensor's own error is a tolerance
  const InstrumentError limit = error.value_or(usual_error(what));
  return square(0.5 * (limit.frac * std::abs(value) + limit.abs));  // a limit of error is two sigma
}

Observation to_be_made(const Scope& scope, const Observable& of) {
  Observation made;
  made.of = of;
  switch (of.what) {
    case current:
      made.high = most_amps(scope, of.circuit);
      break;
    case supply_voltage:
    case far_voltage:
      made.high = 1.5 * scope.circuits[at(of.circuit)].panel_v;
      break;
    case capacitance: {
      double metres = 0;
      for (const auto& stretch : scope.circuits[at(of.circuit)].stretches) metres += stretch.length_m;
      made.high =
          2 * metres * scope.cables[at(scope.circuits[at(of.circuit)].cable)].sheet().capacitance_f_per_m;
      break;
    }
    case loop_resistance:
    case open_resistance:
      made.high = 2000;
      break;
    case insulation_resistance:
      made.low = 3;
      made.high = 12;
      break;
    case pipe_temperature:
    case surface_temperature:
    case sensor_reading:
    case sensor_resistance:
      made.low = 0;
      made.high = 95;
      break;
    case air_temperature:
    case entered_ambient:
      made.low = -25;
      made.high = 55;
      break;
    default:
      break;
  }
  return made;
}

Observed observe(const Scope& scope, std::span<const Reading> readings) {
  Observed made;
  made.known.set_c.resize(scope.groups.size());
  Reader reader{scope, made, {}};
  for (const Reading& reading : readings)
    if (reading.minutes && reading.what != tap_temperature) reader.minutes = reading.minutes;
  if (reader.minutes)
    made.assumed.push_back(fmt::format(
        "all temperatures and currents were read {:g} min after switching on, from cold", *reader.minutes));
  else
    made.assumed.push_back(
        "the controller had settled for hours; a clamp meter was read while the cable was on");
  for (const Reading& reading : readings) {
    if (can_use(reading.what))
      reader.read(reading);
    else
      made.warnings.push_back(
          fmt::format("{} says nothing about these causes and is not used", name_of(reading.what)));
  }
  count_looks_once(made.all);
  return made;
}

std::vector<char> circuits_of(const Scope& scope, std::span<const Observation> all) {
  std::vector<char> wanted(scope.circuits.size(), 0);
  for (const Observation& seen : all) {
    const bool whole = seen.of.run == -1 || seen.of.what != air_temperature;
    if (seen.of.circuit != -1 && whole) wanted[at(seen.of.circuit)] = 1;
  }
  return wanted;
}

}  // namespace firstdraw::prove
