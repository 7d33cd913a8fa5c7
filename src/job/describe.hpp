// Every section, table and column of a job folder, once: key, what it measures, range, and what is assumed
// when it is left out. A visitor V reads, writes or lists them; docs/formats/job-folder.md says the same in
// prose. A description never branches: the columns of a CSV row are matched by the order in which they are
// asked for.
#pragma once

#include <algorithm>
#include <numbers>

#include "job/context.hpp"
#include "job/fields.hpp"
#include "job/job.hpp"
#include "job/values.hpp"

namespace firstdraw::job {

using units::Kind;
using units::System;

inline constexpr std::array<Named<System>, 2> unit_systems{{{System::us, "us"}, {System::metric, "metric"}}};
inline constexpr std::array<Named<rules::RuleSet>, 2> rule_sets{
    {{rules::RuleSet::us, "us"}, {rules::RuleSet::intl, "intl"}}};
inline constexpr std::array<Named<ControlKind>, 2> control_kinds{
    {{ControlKind::pipe_sensor, "pipe-sensor"}, {ControlKind::entered_ambient, "entered-ambient"}}};
inline constexpr std::array<Named<ControlMethod>, 2> control_methods{
    {{ControlMethod::thermostat, "thermostat"}, {ControlMethod::pulsed, "pulsed"}}};
inline constexpr std::array<Named<SensorLost>, 3> sensor_losses{
    {{SensorLost::off, "off"}, {SensorLost::on, "on"}, {SensorLost::entered_ambient, "ambient"}}};
inline constexpr std::array<Named<CircuitScope>, 3> circuit_scopes{
    {{CircuitScope::group, "group"}, {CircuitScope::level, "level"}, {CircuitScope::space, "space"}}};
inline constexpr std::array<Named<bool>, 2> connections{{{true, "line-to-line"}, {false, "line-to-neutral"}}};
inline constexpr std::array<Named<physics::SizeSeries>, 3> size_series{
    {{physics::SizeSeries::inch_iron, "inch-iron"},
     {physics::SizeSeries::inch_tube, "inch-tube"},
     {physics::SizeSeries::metric, "metric"}}};
inline constexpr std::array<Named<physics::Orientation>, 2> orientations{
    {{physics::Orientation::horizontal, "horizontal"}, {physics::Orientation::vertical, "vertical"}}};

/// The names that the rules know, as lists.
const std::vector<std::string>& known_guidelines();
const std::vector<std::string>& known_buildings();
const std::vector<std::string>& known_energy_codes();
const std::vector<std::string>& known_runout_rules();
const std::vector<std::string>& known_fixtures();
/// Published profiles of use, data/hourly_profiles.csv.
const std::vector<std::string>& known_profiles();

/// Of a rule set: insulations of conductors, ways to lay them, their makes, raceways ("none" for none),
/// breaker types and conductor sizes.
const std::vector<std::string>& known_wire_insulations(rules::RuleSet set);
const std::vector<std::string>& known_methods(rules::RuleSet set);
const std::vector<std::string>& known_makes(rules::RuleSet set);
const std::vector<std::string>& known_conduits(rules::RuleSet set);
const std::vector<std::string>& known_breakers(rules::RuleSet set);
const std::vector<std::string>& known_sizes(rules::RuleSet set);
/// Ids of the rules a user can set aside.
const std::vector<std::string>& known_rules(rules::RuleSet set);
/// How circuits are usually wired where the rule set applies.
WiringPractice usual_wiring(rules::RuleSet set);

/// What a period holds: "setback", "maintain", "off" or a temperature.
struct PeriodHold {
  Period::Setting setting{};
  double hold_c = 0;
};
extern const Spelling<PeriodHold> period_hold;
extern const Spelling<double> time_of_day;
extern const Spelling<std::uint8_t> weekdays;

inline constexpr double fahrenheit_in_c(double temp_f) { return (temp_f - 32) / 1.8; }

struct UnitsSection {
  System show = System::us;
  std::string paper;
};

template <class V>
void describe(V& v, UnitsSection& units) {
  v.choice("show", units.show, unit_systems, needed);
  v.known("paper", units.paper, {"letter", "a4"},
          assume<std::string>(units.show == System::us ? "letter" : "a4",
                              "usual sheet where these units are used"));
}

template <class V>
void describe(V& v, Site& site) {
  v.text("name", site.name, needed);
  v.text("address", site.address, blank);
  v.text("owner", site.owner, blank);
  v.text("contractor", site.contractor, blank);
  v.text("prepared_by", site.prepared_by, blank);
  v.text("project_number", site.project_number, blank);
  v.text("revision", site.revision, blank);
  v.text("date", site.date, blank);
  v.text("page", site.page, blank);
  v.text("notes", site.notes, blank);
}

/// [rules] and the two figures of [design] that belong to the requirements.
template <class V>
void describe_rules(V& v, Requirements& rules) {
  v.choice("set", rules.rules, rule_sets, needed);
  v.known("building", rules.building_kind, known_buildings(), needed);
  v.known("hygiene", rules.guideline, known_guidelines(), needed);
  v.known("energy_code", rules.energy_code, known_energy_codes(), needed);
  v.known("runout", rules.runout_rule, known_runout_rules(), needed);
}

inline std::vector<double> usual_thicknesses_m(System system) {
  if (system == System::us) return {0.0254, 0.0381, 0.0508};
  return {0.02, 0.03, 0.04, 0.05};
}

template <class V>
void describe_design(V& v, Requirements& rules, DesignOptions& design, System system) {
  const bool us = system == System::us;
  v.quantity(
      "margin", rules.margin_frac, Kind::fraction, range::fraction,
      assume(0.10, "margin on heat loss; 10 % to 25 % is usual in trace-heating standards (from memory)"));
  v.quantity(
      "start", rules.start_c, Kind::temperature, range::air,
      assume(us ? fahrenheit_in_c(40) : 5.0,
             "coldest pipe at a cold start in a building above freezing (common practice, no source)"));
  v.references("cables", design.cables, Target::cable, "every sheet in catalog/ may be used");
  v.quantities("thicknesses", design.thicknesses_m, Kind::size, range::positive,
               assume(usual_thicknesses_m(system), "usual stock thicknesses (common practice, no source)"));
  v.choice("size_series", design.size_series, size_series,
           assume(us ? physics::SizeSeries::inch_iron : physics::SizeSeries::metric,
                  "preformed sizes usual where these units are used"));
  v.integer("max_passes", design.max_passes, range::passes, assume(1, "one cable straight along the pipe"));
  v.quantity("spare", design.spare_frac, Kind::fraction, range::fraction,
             assume(0.0, "circuits may use the whole length that their breaker allows"));
}

template <class V>
void describe(V& v, WiringPractice& wiring, rules::RuleSet set) {
  constexpr std::string_view why = "the usual way of wiring under these rules (common practice, no source)";
  const bool us = set == rules::RuleSet::us;
  const WiringPractice usual = usual_wiring(set);
  v.known("insulation", wiring.insulation, known_wire_insulations(set),
          assume(usual.insulation,
                 us ? why : "terminals count as 70 °C, and PVC stands as much (common practice, no source)"));
  v.known("method", wiring.method, known_methods(set), assume(usual.method, why));
  v.known("make", wiring.make, known_makes(set), assume(usual.make, why));
  std::string conduit = wiring.conduit.empty() ? "none" : wiring.conduit;
  v.known("conduit", conduit, known_conduits(set),
          us ? assume(usual.conduit, why)
             : assume<std::string>("none", "these rules have no table of raceways: ask the conduit's maker"));
  wiring.conduit = conduit == "none" ? "" : conduit;
  v.known("breaker", wiring.breaker, known_breakers(set), assume(usual.breaker, why));
  v.quantity("ambient", wiring.ambient_c, Kind::temperature, range::air,
             assume(30.0, "air around conductors that the capacity tables are made for"));
  v.integer("circuits_together", wiring.circuits_together, range::bundle,
            assume(1, "every circuit has a raceway of its own"));
  v.optional_quantity("terminals", wiring.terminal_c, Kind::temperature, range::cable);
  v.optional_quantity("max_drop", wiring.max_drop_frac, Kind::fraction, range::positive_fraction);
}

template <class V>
void describe(V& v, Economics& economics, System system) {
  const bool us = system == System::us;
  constexpr std::string_view why = "a round figure to compare options with, no source: enter your own";
  v.text("currency", economics.currency, assume<std::string>(us ? "USD" : "EUR", why));
  v.price("energy_price", economics.energy_price_per_kwh, "kWh", Kind::energy, assume(us ? 0.15 : 0.25, why));
  v.number("life_years", economics.life_years, range::positive, assume(20.0, why));
  v.quantity("discount", economics.discount_frac, Kind::fraction, range::fraction, assume(0.04, why));
  v.number("connection_cost", economics.connection_cost, range::not_negative,
           assume(us ? 450.0 : 400.0, why));
  v.number("tee_cost", economics.tee_cost, range::not_negative, assume(us ? 180.0 : 160.0, why));
  v.number("end_cost", economics.end_cost, range::not_negative, assume(us ? 60.0 : 50.0, why));
  v.price("wiring_cost", economics.wiring_cost_per_m, "m", Kind::length, assume(18.0, why));
  v.number("breaker_cost_per_a", economics.breaker_cost_per_a, range::not_negative, assume(1.0, why));
  v.price("spare_cost", economics.spare_cost_per_m, "m", Kind::length, assume(2.0, why));
  v.number("change_cost", economics.change_cost, range::not_negative, assume(60.0, why));
  v.price("cable_labour", economics.cable_labour_per_m, "m", Kind::length, assume(12.0, why));
  v.price("insulation_price", economics.insulation_price_per_m3, "m3", Kind::volume, assume(1500.0, why));
  v.price("insulation_fixed", economics.insulation_fixed_per_m, "m", Kind::length, assume(10.0, why));
  v.number("hours_per_year", economics.hours_per_year, range::year, assume(8760.0, "held all year round"));
}

template <class V>
void describe(V& v, Supply& supply, const std::string& lowest_level) {
  v.reference("node", supply.node, Target::node, needed);
  v.reference("mixing_valve_node", supply.mixing_valve_node, Target::node, blank);
  v.reference("level", supply.level, Target::level, assume(lowest_level, "the lowest level"));
  v.quantity("stored", supply.stored_c, Kind::temperature, range::water, needed);
  v.quantity("delivered", supply.delivered_c, Kind::temperature, range::water,
             assume(supply.stored_c, "as stored: no other delivery temperature was given"));
  v.quantity(
      "cold", supply.cold_c, Kind::temperature, range::water,
      assume(10.0, "cold water of the European tapping profiles (Regulation (EU) 812/2013, Annex VII)"));
  v.quantity("tank", supply.tank_m3, Kind::volume, range::not_negative, blank);
  v.quantity("heater", supply.heater_w, Kind::power, range::not_negative, blank);
  v.quantity("heater_differential", supply.tank_differential_k, Kind::temperature_difference, range::positive,
             supply.tank_m3 > 0 ? assume(4.0, "between heater on and off (our choice, no source)")
                                : of_no_effect(4.0));
}

template <class V>
void describe(V& v, Level& level) {
  v.id("id", level.id, Target::level);
  v.text("name", level.name, assume(level.id, "the id"));
  v.quantity("elevation", level.elevation_m, Kind::length, range::any, needed);
}

template <class V>
void describe(V& v, Space& space) {
  constexpr std::string_view why =
      "usual air around indoor hot-water pipe: 60 to 80 °F (common practice, no source)";
  v.id("id", space.id, Target::space);
  v.text("name", space.name, assume(space.id, "the id"));
  v.quantity("air_low", space.air.low_c, Kind::temperature, range::air, assume(fahrenheit_in_c(60), why));
  v.quantity("air_usual", space.air.usual_c, Kind::temperature, range::air, assume(fahrenheit_in_c(70), why));
  v.quantity("air_high", space.air.high_c, Kind::temperature, range::air, assume(fahrenheit_in_c(80), why));
  v.text("use", space.use, blank);
}

template <class V>
void describe(V& v, Panel& panel, System system, rules::RuleSet set) {
  const bool us = system == System::us;
  constexpr std::string_view swing =
      "usual supply tolerance of 5 % (common practice, no source): ask the utility";
  v.id("id", panel.id, Target::panel);
  v.text("name", panel.name, assume(panel.id, "the id"));
  v.text("location", panel.location, blank);
  v.quantity("voltage", panel.voltage_v, Kind::voltage, range::positive, needed);
  v.choice("connection", panel.line_to_line, connections, needed);
  v.integer("phases", panel.phases, range::phases, assume(3, "three-phase panel"));
  v.quantity("lowest", panel.low_frac, Kind::fraction, range::low_voltage, assume(0.95, swing));
  v.quantity("highest", panel.high_frac, Kind::fraction, range::high_voltage, assume(1.05, swing));
  v.quantity("feeder_length", panel.feeder_length_m, Kind::length, range::not_negative,
             assume(us ? 30.48 : 30.0, "a middling feeder (common practice, no source): measure it"));
  v.quantity("main", panel.main_a, Kind::current, range::not_negative, blank);
  v.integer("free_poles", panel.free_poles, range::count, blank);
  v.flag("ground_fault", panel.ground_fault, needed);
  v.quantity("frequency", panel.frequency_hz, Kind::frequency, range::frequency,
             assume(us ? 60.0 : 50.0, "mains frequency where these units are used"));
  v.references("nodes", panel.nodes, Target::node, "every power connection is feeder_length away");
  v.quantity("other_load", panel.other_a, Kind::current, range::not_negative, blank);
  v.quantity("start_limit", panel.start_limit_a, Kind::current, range::not_negative, blank);
  v.quantity("supply_length", panel.supply_length_m, Kind::length, range::not_negative, blank);
  v.known("supply_size", panel.supply_size, known_sizes(set), blank);
}

/// The keys of a group that say how its controller switches. What the chosen way of switching does not look
/// at is not assumed but left at its usual value.
template <class V>
void describe_switching(V& v, ControlGroup& group) {
  const bool sensor = group.kind == ControlKind::pipe_sensor;
  const auto when = [](bool matters, auto value, std::string_view why) {
    return matters ? assume(value, why) : of_no_effect(value);
  };
  v.choice(
      "method", group.method, control_methods,
      when(sensor, ControlMethod::thermostat, "the plainest way to switch (common practice, no source)"));
  v.choice("sensor_lost", group.when_lost, sensor_losses,
           when(sensor, SensorLost::off, "no heat without a reading: nothing overheats, the water cools"));
  const bool thermostat = sensor && group.method == ControlMethod::thermostat;
  const bool cycles = !thermostat || group.when_lost == SensorLost::entered_ambient;
  v.quantity("differential", group.differential_k, Kind::temperature_difference, range::positive,
             when(thermostat, 2.0, "between on and off (common practice, no source)"));
  v.quantity("sensor_lag", group.sensor_lag_s, Kind::duration, range::not_negative,
             when(sensor, 60.0, "a bulb strapped to the pipe (our choice, no source)"));
  v.quantity("cycle", group.cycle_s, Kind::duration, range::positive,
             when(cycles, 600.0, "one on and off (our choice, no source)"));
  v.quantity("min_on", group.min_on_s, Kind::duration, range::not_negative, blank);
  v.quantity("min_off", group.min_off_s, Kind::duration, range::not_negative, blank);
}

template <class V>
void describe(V& v, ControlGroup& group) {
  v.id("id", group.id, Target::group);
  v.text("name", group.name, assume(group.id, "the id"));
  v.reference("panel", group.panel, Target::panel, needed);
  v.choice("control", group.kind, control_kinds, needed);
  v.reference("sensor_run", group.sensor_run, Target::run, blank);
  v.quantity("sensor_angle", group.sensor_angle_rad, Kind::angle, range::half_turn,
             assume(std::numbers::pi,
                    "opposite the cable, where the sensor reads the water (common practice, no source)"));
  v.quantity("maintain", group.maintain_c, Kind::temperature, range::water, needed);
  v.quantity("setback", group.setback_c, Kind::temperature, range::water,
             assume(group.maintain_c, "no setback: held at maintain all the time"));
  v.quantity("tolerance", group.hold_tolerance_k, Kind::temperature_difference, range::not_negative,
             assume(2.0, "a run counts as held within 2 K of maintain (our choice, no source)"));
  v.optional_quantity("ambient", group.entered_ambient_c, Kind::temperature, range::air);
  v.quantity("cutout", group.high_cutout_c, Kind::temperature, range::water, blank);
  v.quantity("low_alarm", group.low_alarm_c, Kind::temperature, range::water,
             assume(std::max(0.0, std::min(group.maintain_c, group.setback_c) - 5),
                    "5 K below the lower setting (our choice, no source)"));
  v.quantity("high_alarm", group.high_alarm_c, Kind::temperature, range::water,
             assume(std::min(100.0, group.maintain_c + 8), "8 K above maintain (our choice, no source)"));
  v.optional_reference("cable", group.cable, Target::cable);
  v.choice("circuits", group.circuits, circuit_scopes,
           assume(CircuitScope::group, "a circuit may run on through levels and spaces"));
  v.quantity("contacts", group.contacts_a, Kind::current, range::not_negative, blank);
  describe_switching(v, group);
}

template <class V>
void describe(V& v, Period& period) {
  v.reference("group", period.group, Target::group, needed);
  v.spelled("days", period.weekdays, weekdays, assume<std::uint8_t>(0x7f, "no days were named"));
  v.spelled("from", period.begin_s, time_of_day, needed);
  v.spelled("to", period.end_s, time_of_day, needed);
  PeriodHold hold{period.setting, period.hold_c};
  v.spelled("hold", hold, period_hold, needed);
  period.setting = hold.setting;
  period.hold_c = hold.hold_c;
}

template <class V>
void describe(V& v, UseProfile& use) {
  v.id("id", use.id, Target::profile);
  v.known("like", use.like, known_profiles(), blank);
  v.numbers("weekday", use.weekday_hours, 24);
  v.numbers("weekend", use.weekend_hours, 24);
  v.numbers("days", use.weekday_frac, 7);
  v.quantity("occupancy", use.draws_frac, Kind::fraction, range::fraction,
             assume(1.0, "every room in use: the most that is drawn"));
}

template <class V>
void describe(V& v, FixtureUse& draws) {
  v.reference("use", draws.profile, Target::profile, needed);
  v.known("fixture", draws.fixture, known_fixtures(), needed);
  v.number("per_day", draws.per_day, range::not_negative, needed);
  v.quantity("duration", draws.duration_s, Kind::duration, range::positive, needed);
  v.quantity("flow", draws.flow_m3_per_s, Kind::volume_flow, range::positive, needed);
  v.optional_quantity("temperature", draws.use_c, Kind::temperature, range::water);
}

template <class V>
void describe(V& v, Pin& pin) {
  v.members("runs", pin.runs, Target::run);
  v.text("reason", pin.reason, blank);
}

/// `value`: as text, because its unit is that of the rule; blank for a rule without a value.
template <class V>
void describe(V& v, RuleOverride& by_user, std::string& value, rules::RuleSet set) {
  v.known("rule", by_user.rule, known_rules(set), needed);
  v.text_or_number("value", value);
  v.text("reason", by_user.reason, needed);
  v.text("name", by_user.name, needed);
}

template <class V>
void describe(V& v, Acceptance& acceptance) {
  v.text("finding", acceptance.finding, needed);
  v.text("place", acceptance.place, needed);
  v.text("reason", acceptance.reason, needed);
  v.text("name", acceptance.name, needed);
  v.text("date", acceptance.date, blank);
}

template <class V>
void describe(V& v, Assumption& assumption) {
  v.text("field", assumption.field, needed);
  v.text("value", assumption.value, needed);
  v.text("why", assumption.why, needed);
}

/// Columns of runs.csv.
template <class V>
void describe(V& v, Run& run, std::optional<double>& air_low_c, std::optional<double>& air_usual_c,
              std::optional<double>& air_high_c) {
  v.id("id", run.id, Target::run);
  v.node("from", run.from);
  v.node("to", run.to);
  v.reference("level", run.level, Target::level, needed);
  v.reference("space", run.space, Target::space, needed);
  v.reference("group", run.group, Target::group, blank);
  v.pipe("", run.pipe);
  v.quantity("length", run.length_m, Kind::length, range::not_negative, needed);
  v.insulation("insulation", run.insulation, needed);
  v.optional_quantity("thickness", run.thickness_m, Kind::size, range::positive);
  v.flag("traced", run.traced, assume(true, "a run is traced unless it says no"));
  v.optional_reference("cable", run.cable, Target::cable);
  v.optional_integer("passes", run.passes, range::passes);
  v.choice("orientation", run.orientation, orientations,
           assume(physics::Orientation::horizontal, "a run is level unless it says otherwise"));
  v.integer("valves", run.valves, range::count, assume(0, "none was counted"));
  v.integer("elbows", run.elbows, range::count, assume(0, "none was counted"));
  v.integer("tees", run.tees, range::count, assume(0, "none was counted"));
  v.integer("supports", run.supports, range::count, assume(0, "none was counted"));
  v.optional_quantity("air_low", air_low_c, Kind::temperature, range::air);
  v.optional_quantity("air_usual", air_usual_c, Kind::temperature, range::air);
  v.optional_quantity("air_high", air_high_c, Kind::temperature, range::air);
  v.quantity("emissivity", run.emissivity, Kind::fraction, range::positive_fraction,
             assume(0.9, "a dull jacket; bright metal is near 0.1"));
  v.text("note", run.note, blank);
}

/// Columns of outlets.csv.
template <class V>
void describe(V& v, Outlet& outlet) {
  v.id("id", outlet.id, Target::outlet);
  v.reference("node", outlet.node, Target::node, needed);
  v.known("fixture", outlet.fixture, known_fixtures(), needed);
  v.integer("count", outlet.count, range::count, assume(1, "one fixture"));
  v.reference("space", outlet.space, Target::space, blank);
  v.text("room", outlet.room, blank);
  v.pipe("runout_", outlet.runout_pipe);
  v.quantity("runout_length", outlet.runout_length_m, Kind::length, range::not_negative, needed);
  v.insulation("runout_insulation", outlet.runout_insulation, blank);
  v.optional_quantity("runout_thickness", outlet.runout_thickness_m, Kind::size, range::positive);
  v.text("profile", outlet.profile, blank);
  v.flag("safe_outlet_valve", outlet.safe_outlet_valve,
         assume(false, "no valve was noted, and without one the water is as hot as the pipe"));
  v.text("note", outlet.note, blank);
}

/// Columns of circuits.csv. `runs`: their ids with semicolons between.
template <class V>
void describe(V& v, KnownCircuit& circuit, std::string& runs) {
  v.id("id", circuit.id, Target::circuit);
  v.reference("feed_node", circuit.feed_node, Target::node, blank);
  v.text("runs", runs, needed);
  v.flag("fixed", circuit.fixed, assume(false, "a circuit is only kept close to unless it says fixed"));
  v.optional_quantity("breaker", circuit.breaker_a, Kind::current, range::positive);
  v.text("note", circuit.note, blank);
}

template <class V>
void describe(V& v, physics::OutputPoint& point) {
  v.quantity("pipe", point.pipe_c, Kind::temperature, range::cable, needed);
  v.quantity("power", point.power_w_per_m, Kind::power_per_length, range::not_negative, needed);
}
template <class V>
void describe(V& v, physics::VoltagePoint& point) {
  v.quantity("voltage", point.voltage_v, Kind::voltage, range::positive, needed);
  v.number("factor", point.output_factor, range::positive, needed);
}
template <class V>
void describe(V& v, physics::ColdStartPoint& point) {
  v.quantity("start", point.start_c, Kind::temperature, range::cable, needed);
  v.quantity("peak", point.peak_a_per_m, Kind::current_per_length, range::positive, needed);
  v.quantity("settled", point.settled_a_per_m, Kind::current_per_length, range::positive, needed);
}
template <class V>
void describe(V& v, physics::MaxLengthPoint& point) {
  v.quantity("breaker", point.breaker_a, Kind::current, range::positive, needed);
  v.quantity("voltage", point.voltage_v, Kind::voltage, range::positive, needed);
  v.quantity("start", point.start_c, Kind::temperature, range::cable, needed);
  v.quantity("length", point.length_m, Kind::length, range::positive, needed);
}

/// One data sheet of catalog/; its id is the file's name.
template <class V>
void describe(V& v, physics::CableSheet& sheet) {
  v.text("name", sheet.name, needed);
  v.text("maker", sheet.maker, needed);
  v.text("source", sheet.source, needed);
  v.quantity("rated_voltage", sheet.rated_voltage_v, Kind::voltage, range::positive, needed);
  v.quantity("output_tolerance", sheet.output_tolerance_frac, Kind::fraction, range::fraction, needed);
  v.rows("output", sheet.output, 2);
  v.rows("voltage", sheet.voltage, 2);
  v.rows("cold_start", sheet.cold_start, 1);
  v.rows("max_length", sheet.max_length, 0);
  v.text("bus_conductor", sheet.bus_conductor, needed);
  v.quantity("bus_loop_resistance", sheet.bus_loop_ohm_per_m, Kind::resistance_per_length, range::positive,
             needed);
  v.quantity("capacitance", sheet.capacitance_f_per_m, Kind::capacitance_per_length, range::positive, needed);
  v.quantity("max_powered", sheet.max_powered_c, Kind::temperature, range::cable, needed);
  v.quantity("max_unpowered", sheet.max_unpowered_c, Kind::temperature, range::cable, needed);
  v.quantity("min_install", sheet.min_install_c, Kind::temperature, range::cable, needed);
  v.quantity("min_bend_radius", sheet.min_bend_radius_m, Kind::size, range::positive, needed);
  v.quantity("width", sheet.section.width_m, Kind::size, range::positive, needed);
  v.quantity("thickness", sheet.section.thickness_m, Kind::size, range::positive, needed);
  v.price("price", sheet.price_per_m, "m", Kind::length, blank_price());
}

}  // namespace firstdraw::job
