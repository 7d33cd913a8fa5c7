#include "prove/reading.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <tuple>

namespace firstdraw::prove {
namespace {

using units::Kind;
using enum What;

constexpr std::optional<Kind> no_kind;

constexpr std::array help{
    WhatHelp{insulation_resistance, "insulation-resistance", Kind::resistance, "circuit",
             "bus wires tied together, to the braid; with test_voltage and cable temperature"},
    WhatHelp{supply_insulation, "supply-insulation", Kind::resistance, "circuit",
             "supply wiring, heating cable disconnected, conductors to earth"},
    WhatHelp{loop_resistance, "loop-resistance", Kind::resistance, "circuit",
             "bus wire to bus wire at the feed, every far end joined"},
    WhatHelp{open_resistance, "open-resistance", Kind::resistance, "circuit",
             "bus wire to bus wire at the feed, every far end open"},
    WhatHelp{continuity, "continuity", no_kind, "circuit",
             "bus wires joined at the far end: yes when the loop is closed"},
    WhatHelp{earth_resistance, "earth-resistance", Kind::resistance, "circuit",
             "braid at the far end to the earth bar of the panel"},
    WhatHelp{capacitance, "capacitance", Kind::capacitance, "circuit",
             "bus wires tied together, to the braid"},
    WhatHelp{trip_current, "trip-current", Kind::current, "circuit",
             "of the ground-fault device, rising slowly until it opens"},
    WhatHelp{trip_time, "trip-time", Kind::duration, "circuit",
             "of the ground-fault device; times_rated says at how many times its rated current"},
    WhatHelp{trip_button, "trip-button", no_kind, "circuit", "test button: yes when it opened and reset"},
    WhatHelp{leakage_current, "leakage-current", Kind::current, "circuit",
             "standing current to earth, clamp round both supply conductors, cable on"},
    WhatHelp{sensor_resistance, "sensor-resistance", Kind::resistance, "group",
             "of the pipe sensor, disconnected; sensor says which: pt100, pt1000 or ntc10k"},
    WhatHelp{supply_voltage, "supply-voltage", Kind::voltage, "circuit", "at the power connection"},
    WhatHelp{far_voltage, "far-voltage", Kind::voltage, "circuit",
             "between the bus wires at the far end, energised"},
    WhatHelp{current, "current", Kind::current, "circuit",
             "of the circuit while on; with cable temperature, volts and minutes since switching on"},
    WhatHelp{pipe_temperature, "pipe-temperature", Kind::temperature, "run",
             "contact thermometer on the pipe, under the insulation; minutes if still warming up"},
    WhatHelp{surface_temperature, "surface-temperature", Kind::temperature, "run",
             "jacket of the insulation where it is warmest along the run"},
    WhatHelp{air_temperature, "air-temperature", Kind::temperature, "run", "air around the run"},
    WhatHelp{sensor_reading, "sensor-reading", Kind::temperature, "group", "what the controller shows"},
    WhatHelp{sensor_position, "sensor-position", no_kind, "group",
             "sensor looked at: as planned, beside cable, untraced pipe or off pipe"},
    WhatHelp{duty, "duty", Kind::fraction, "group", "share of time on, or as the controller shows it"},
    WhatHelp{set_point, "set-point", Kind::temperature, "group", "that the controller shows as in force"},
    WhatHelp{entered_ambient, "entered-ambient", Kind::temperature, "group",
             "air temperature entered in the controller"},
    WhatHelp{tap_temperature, "tap-temperature", Kind::temperature, "outlet",
             "water of an outlet; minutes since the tap was opened"},
    WhatHelp{insulation_seen, "insulation-seen", no_kind, "run",
             "insulation looked at: yes when in place and dry, no when wet or missing"},
    WhatHelp{insulation_walked, "insulation-walked", no_kind, "circuit",
             "walked along all of it: yes when insulation is in place and dry everywhere"},
    WhatHelp{cable_marking, "cable-marking", no_kind, "circuit", "what is printed on the cable's jacket"},
    WhatHelp{contactor, "contactor", no_kind, "group",
             "yes when closed; called says whether the controller calls for heat"},
    WhatHelp{breaker, "breaker", no_kind, "circuit", "yes when closed"},
};

constexpr std::array<std::string_view, 4> positions{"as planned", "beside cable", "untraced pipe",
                                                    "off pipe"};

constexpr std::array<std::string_view, 6> stages{"on-receipt",        "fixed",     "insulated",
                                                 "before-energising", "energised", "periodic"};

}  // namespace

std::span<const WhatHelp> what_help() { return help; }

const WhatHelp& help_of(What what) {
  const auto found = std::ranges::find(help, what, &WhatHelp::what);
  if (found == help.end()) throw std::logic_error("no help for a kind of reading");
  return *found;
}

std::span<const std::string_view> sensor_positions() { return positions; }

std::optional<SensorPosition> sensor_position_named(std::string_view name) {
  const auto found = std::ranges::find(positions, name);
  if (found == positions.end()) return std::nullopt;
  return static_cast<SensorPosition>(found - positions.begin());
}

std::string_view name_of(What what) { return help_of(what).name; }

std::string_view name_of(Stage stage) { return stages.at(static_cast<std::size_t>(stage)); }

std::optional<Stage> stage_named(std::string_view name) {
  if (name == "before-energizing") return Stage::before_energising;
  if (name == "energized") return Stage::energised;
  const auto found = std::ranges::find(stages, name);
  if (found == stages.end()) return std::nullopt;
  return static_cast<Stage>(found - stages.begin());
}

InstrumentError usual_error(What what) {
  switch (what) {
    case insulation_resistance:
    case supply_insulation:
      return {0.05, 0};
    case loop_resistance:
    case open_resistance:
      return {0.01, 0.05};
    case earth_resistance:
      return {0.03, 0.03};
    case capacitance:
      return {0.03, 0.1e-9};
    case trip_current:
      return {0.05, 0.5e-3};
    case trip_time:
      return {0.01, 2e-3};
    case leakage_current:
      return {0.03, 0.2e-3};
    case sensor_resistance:
      return {0.002, 0.1};
    case supply_voltage:
    case far_voltage:
      return {0.01, 0};
    case current:
      return {0.02, 0.05};
    case pipe_temperature:
    case surface_temperature:
      return {0, 2};  // as plan::usual_site_tolerance
    case air_temperature:
    case tap_temperature:
    case sensor_reading:
      return {0, 1};
    case duty:
      return {0, 0.05};
    case set_point:
    case entered_ambient:
      return {0, 0.3};  // a display in whole degrees Fahrenheit
    default:
      return {};  // yes or no, or text
  }
}

bool is_text(What what) { return what == cable_marking || what == sensor_position; }
bool is_yes_no(What what) { return !help_of(what).kind && !is_text(what); }

bool Reading::operator==(const Reading& other) const {
  const auto all = [](const Reading& r) {
    return std::tie(r.what, r.value, r.at_least, r.text, r.circuit, r.group, r.run, r.stage, r.test_voltage_v,
                    r.cable_c, r.volts, r.minutes, r.times_rated, r.called, r.sensor_kind, r.at, r.who,
                    r.instrument, r.note);
  };
  return all(*this) == all(other);
}

}  // namespace firstdraw::prove
