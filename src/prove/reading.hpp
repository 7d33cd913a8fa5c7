// What somebody measured or saw on site. docs/field-tests.md.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "job/job.hpp"
#include "units/quantity.hpp"

namespace firstdraw::prove {

enum class Stage { on_receipt, fixed, insulated, before_energising, energised, periodic };

/// What a reading is of. Its unit inside is SI: ohm, F, A, V, degC, s, m, share.
enum class What {
  insulation_resistance,  // bus wires tied, to braid; at test_voltage_v
  supply_insulation,      // of the supply wiring, heating cable disconnected
  loop_resistance,        // bus wire to bus wire at the feed, far end joined
  open_resistance,        // the same, far end open
  continuity,             // 1: closed loop; 0: open
  earth_resistance,       // braid at the far end to the earth bar
  capacitance,            // bus wires tied, to braid
  trip_current,           // of the ground-fault device, rising until it opens
  trip_time,              // at times_rated its rated current
  trip_button,            // 1: opened and reset
  leakage_current,        // standing, to earth
  sensor_resistance,      // of the temperature sensor; sensor_kind says which
  supply_voltage,         // at the power connection
  far_voltage,            // between the bus wires at the far end, energised
  current,                // of the circuit, while it is on
  pipe_temperature,       // contact thermometer on the pipe of `run`
  surface_temperature,    // of the insulation's jacket on `run`, where it is warmest
  air_temperature,        // around `run`
  sensor_reading,         // what the controller shows
  sensor_position,        // `text`: where the sensor sits, one of sensor_positions()
  duty,                   // share of time on, or as the controller shows it
  set_point,              // that the controller shows as in force
  entered_ambient,        // that the controller shows as entered
  tap_temperature,        // first water of outlet `run`, after `minutes`
  insulation_seen,        // 1: in place and dry on `run`; 0: wet or missing
  insulation_walked,      // 1: in place and dry all along `circuit`; 0: wet or missing somewhere
  cable_marking,          // `text`: what is printed on the cable
  contactor,              // 1: closed, 0: open, while the controller calls for what `called` says
  breaker,                // 1: closed
};

/// How one is written and asked for; see what_help().
struct WhatHelp {
  What what{};
  std::string_view name;            // "insulation-resistance"
  std::optional<units::Kind> kind;  // none: a plain number, yes/no or text
  std::string_view place;           // "circuit", "group", "run", "outlet"
  std::string_view says;            // one line
};
std::span<const WhatHelp> what_help();
const WhatHelp& help_of(What what);
bool is_text(What what);    // the reading is in `text`
bool is_yes_no(What what);  // 1 or 0
/// What a look at a sensor can find: "as planned", "beside cable", "untraced pipe", "off pipe".
enum class SensorPosition { as_planned, beside_cable, untraced_pipe, off_pipe };
std::span<const std::string_view> sensor_positions();  // like the enumeration
std::optional<SensorPosition> sensor_position_named(std::string_view name);
std::string_view name_of(What what);
std::string_view name_of(Stage stage);  // "before-energising"
std::optional<Stage> stage_named(std::string_view name);

/// Limit of error of the instrument: |error| <= frac * value + abs. From its data sheet; usual_error() where
/// the technician gives none.
struct InstrumentError {
  double frac = 0, abs = 0;
  bool operator==(const InstrumentError&) const = default;
};
/// Common practice, no source; named in every expectation that rests on it.
InstrumentError usual_error(What what);

struct Instrument {
  std::string name{}, serial{}, calibration_due{};  // due: "2027-03-01"
  std::optional<InstrumentError> error{};
  bool operator==(const Instrument&) const = default;
};

struct Reading {
  What what{};
  double value = 0;                       // SI; yes/no: 1 and 0
  bool at_least = false;                  // the instrument's range ended: ">2000 MΩ"
  std::string text{};                     // of cable_marking and sensor_position
  std::string circuit{}, group{}, run{};  // ids; those that apply (outlet ids in `run` for tap_temperature)
  std::optional<Stage> stage{};
  // Circumstances, where known.
  std::optional<double> test_voltage_v{};  // dc, of an insulation test
  std::optional<double> cable_c{};         // of the cable or pipe while measuring
  std::optional<double> volts{};           // at the power connection while measuring a current
  std::optional<double> minutes{};         // since switching on, or since the tap was opened; none: settled
  std::optional<double> times_rated{};     // of a trip time
  std::optional<bool> called{};            // the controller calls for heat
  std::string sensor_kind{};               // "pt100", "pt1000", "ntc10k"
  std::string at{};                        // "2026-11-29T14:05", as written; may be empty
  std::string who{};
  Instrument instrument{};
  std::string note{};
  job::Place place{};  // in the file it was read from; not part of equality
  bool operator==(const Reading& other) const;
};

}  // namespace firstdraw::prove
