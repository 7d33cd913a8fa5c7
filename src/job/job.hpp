// The building as the contractor described it. Values only: reading and writing are in job/folder.hpp. SI
// inside.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "physics/heating_cable.hpp"
#include "physics/insulation.hpp"
#include "physics/pipe.hpp"
#include "physics/surface.hpp"
#include "rules/override.hpp"
#include "rules/rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::job {

struct Site {
  std::string name, address, owner, contractor, prepared_by;
  std::string project_number, revision, date;  // as written: the program reads no clock
  std::string
      page;  // web address of this job's page, for the codes on labels: "https://pipes.example/j/hotel"
  std::string notes;
  bool operator==(const Site&) const = default;
};

/// Coldest, usual and hottest air around a run.
struct AirTemperatures {
  double low_c = 0, usual_c = 0, high_c = 0;
  bool operator==(const AirTemperatures&) const = default;
};

struct Level {
  std::string id, name;
  double elevation_m = 0;  // drawing order and riser height; rising
  bool operator==(const Level&) const = default;
};

struct Space {
  std::string id, name;
  AirTemperatures air;
  std::string use{};  // use profile of its outlets that name none; may be empty
  bool operator==(const Space&) const = default;
};

struct Supply {
  std::string node;               // where the drawing starts: the water heater
  std::string mixing_valve_node;  // hot water is tempered here; empty: no mixing valve
  std::string level;
  double stored_c = 0, delivered_c = 0, cold_c = 0;
  double tank_m3 = 0;              // 0: never runs short
  double heater_w = 0;             // of the tank
  double tank_differential_k = 4;  // heater on this far below stored
  bool operator==(const Supply&) const = default;
};

/// Where heating-cable circuits are fed from.
struct Panel {
  std::string id, name, location;
  double voltage_v = 0;       // across the heating cable
  bool line_to_line = false;  // two-pole breakers; otherwise phase and neutral
  int phases = 3;
  double low_frac = 0.95, high_frac = 1.05;  // of voltage_v, at the panel
  double feeder_length_m = 0;                // panel to the first power connection, usual
  double main_a = 0;                         // 0: not given
  int free_poles = 0;                        // 0: not given
  bool ground_fault = true;                  // the breakers carry ground-fault protection of equipment
  double frequency_hz = 60;
  std::vector<std::string> nodes{};  // of the piping, that the panel stands near; empty: every feed is
                                     // feeder_length away
  double other_a = 0;                // what else its fullest phase carries at the time
  double start_limit_a = 0;  // cap on its fullest phase while circuits start one after another; 0: none asked
  double supply_length_m = 0;  // from the source to the panel; 0: not given
  std::string supply_size{};   // of those conductors; empty: sized from the load
  bool operator==(const Panel&) const = default;
};

/// How circuits are wired from their panel to the power connection.
struct WiringPractice {
  std::string insulation = "THWN-2";    // rules::wire_insulations
  std::string method = "raceway";       // rules::installation_methods
  std::string make = "stranded";        // or "solid"; intl "class 2", "class 5"
  std::string conduit = "EMT";          // rules::conduit_kinds; empty: no raceway is sized
  std::string breaker = "ul-489";       // rules::breaker_types
  double ambient_c = 30;                // air around the conductors
  int circuits_together = 1;            // heating circuits drawn into one raceway or bunch
  std::optional<double> terminal_c;     // listed and marked; none: what the rules presume
  std::optional<double> max_drop_frac;  // in the branch circuit's wiring; none: the rules' advice
  bool operator==(const WiringPractice&) const = default;
};

enum class ControlKind { pipe_sensor, entered_ambient };
/// How a pipe sensor's controller switches: on and off around the set-point, or a share of every cycle.
enum class ControlMethod { thermostat, pulsed };
enum class SensorLost { off, on, entered_ambient };
/// What may share a circuit within a group: everything that meets, or only runs of one level or space.
enum class CircuitScope { group, level, space };

/// Runs that share one controller, hence one duty.
struct ControlGroup {
  std::string id, name, panel;
  ControlKind kind = ControlKind::pipe_sensor;
  std::string sensor_run;       // empty: none
  double sensor_angle_rad = 0;  // from the cable; pi is opposite
  double maintain_c = 0, setback_c = 0;
  double hold_tolerance_k = 0;              // a run "holds" at maintain minus this
  std::optional<double> entered_ambient_c;  // open loop, and the fallback when the sensor fails
  double high_cutout_c = 0;                 // 0: none
  double low_alarm_c = 0, high_alarm_c = 0;
  std::optional<std::string> cable;  // fixes the choice
  ControlMethod method = ControlMethod::thermostat;
  double differential_k = 0;  // thermostat: between on and off
  double sensor_lag_s = 0;    // time constant of the sensor on the pipe
  double cycle_s = 0;         // pulsed and open loop
  double min_on_s = 0, min_off_s = 0;
  SensorLost when_lost = SensorLost::off;
  double contacts_a = 0;  // what the controller's own contacts may switch; 0: not given, contactors switch
  CircuitScope circuits = CircuitScope::group;
  bool operator==(const ControlGroup&) const = default;
};

/// A stretch of the week with its own setting; elsewhere a group is held at maintain. Later ones win.
struct Period {
  enum class Setting { maintain, setback, off, temperature };
  std::string group;
  std::uint8_t weekdays = 0x7f;   // bit 0 Monday ... bit 6 Sunday: those on which it begins
  double begin_s = 0, end_s = 0;  // of the day; at or before begin_s: past midnight
  Setting setting{};
  double hold_c = 0;  // with temperature
  bool operator==(const Period&) const = default;
};

/// How people use the outlets that name it. Empty lists: as in the published profile `like`.
struct UseProfile {
  std::string id, like;
  std::vector<double> weekday_hours, weekend_hours;  // 24 relative figures
  std::vector<double> weekday_frac;                  // 7, Monday first, of an average weekday's draws
  double draws_frac = 1;                             // on all draws: occupancy
  bool operator==(const UseProfile&) const = default;
};

/// Draws at one kind of fixture, instead of the published figures.
struct FixtureUse {
  std::string profile, fixture;
  double per_day = 0;  // one fixture
  double duration_s = 0;
  double flow_m3_per_s = 0;     // of mixed water
  std::optional<double> use_c;  // mixed water's temperature; empty: all hot
  bool operator==(const FixtureUse&) const = default;
};

/// From this day of every year on the group's settings are those of the season, until the next one begins.
struct Season {
  std::string name;
  int month = 1, day = 1;
  bool operator==(const Season&) const = default;
};

/// The clock of the site and what electricity costs there.
struct Tariff {
  std::string zone;  // of the IANA time zone database: "America/Chicago"; empty: not given
  int year = 0;      // whose days are priced; 0: not given
  std::string file;  // in the job folder, .json or .csv; empty: the same price at all hours, of economics
  std::string text;  // what that file holds
  std::vector<std::string> holidays;      // "2026-12-25"
  bool holidays_as_weekend = true;        // in prices
  std::optional<double> demand_window_s;  // where the file does not say
  int ratchet_months = 11;                // that a ratchet looks back
  double other_load_w = 0;                // what else the meter carries, day and night
  std::vector<Season> seasons;            // empty: one set of settings for the whole year
  bool operator==(const Tariff&) const = default;
};

/// Share of the draws at fixtures of one kind that should be hot in time.
struct ComfortTarget {
  std::string fixture;  // rules::fixtures(); "*": every other
  double hot_frac = 0.9, within_s = 30;
  bool operator==(const ComfortTarget&) const = default;
};

/// What the user's controller can be set to.
struct ControllerLimits {
  /// none: one set-point, day and night; on_off: a clock that switches heating off and on; set_points: a
  /// clock that changes the set-point.
  enum class Clock { none, on_off, set_points } clock = Clock::set_points;
  enum class Programs { one, workdays_weekend, each_day } programs = Programs::workdays_weekend;
  int periods_a_day = 4;
  int set_points = 4;          // different ones within a group's week
  double step_k = 1;           // of a set-point
  double least_setback_k = 2;  // between one set-point and the next
  double clock_step_s = 1800;
  double lowest_c = 35, highest_c = 70;  // set-points it takes
  bool off = true;                       // a period may also be off
  bool current = false;                  // it measures the load's current and alarms on it
  bool operator==(const ControllerLimits&) const = default;
};

/// What a week of settings must keep.
struct WeekWishes {
  double confidence_frac = 0.95;     // that a run holds what is asked of it
  std::optional<double> band_h;      // longest stay in the growth band on end; none: what the guideline asks
  bool hot_hold = false;             // once a week, hot enough to inactivate
  double hot_hold_c = 60;            // of the coldest run
  double hot_hold_log = 5;           // tenfold reductions
  double false_alarms_per_year = 1;  // of each alarm
  double catch_within_s = 86400;     // a planted fault
  std::vector<ComfortTarget> comfort;
  bool operator==(const WeekWishes&) const = default;
};

struct Requirements {
  rules::RuleSet rules = rules::RuleSet::us;
  std::string building_kind;  // rules::building_kinds()
  std::string guideline;      // rules::hygiene_guidelines()
  std::string energy_code;    // rules::energy_codes()
  std::string runout_rule;    // rules::runout_rules()
  double margin_frac = 0;     // added to the loss when choosing cable: 0.10
  double start_c = 0;         // coldest pipe at a cold start, for currents and lengths
  bool operator==(const Requirements&) const = default;
};

struct Economics {
  std::string currency;  // "USD", "EUR"
  double energy_price_per_kwh = 0;
  double life_years = 0, discount_frac = 0;
  double connection_cost = 0;         // one power connection with its place in the panel, installed
  double tee_cost = 0, end_cost = 0;  // one kit, installed
  double wiring_cost_per_m = 0;   // from the panel to a power connection: conductors and raceway, installed
  double breaker_cost_per_a = 0;  // what a larger rating adds
  double spare_cost_per_m = 0;    // of cable that uses up the length `spare` would leave free
  double change_cost = 0;         // each departure from the circuits of circuits.csv
  double cable_labour_per_m = 0;  // fixing one metre of cable
  double insulation_price_per_m3 = 0;  // volume of insulation in place, material and labour
  double insulation_fixed_per_m = 0;
  double hours_per_year = 8760;  // on at maintain
  bool operator==(const Economics&) const = default;
};

/// Choices left open to the plan, or narrowed by the user.
struct DesignOptions {
  std::vector<std::string> cables;    // allowed sheet ids; empty: all of the catalogue
  std::vector<double> thicknesses_m;  // nominal insulation thicknesses that may be chosen, rising
  physics::SizeSeries size_series = physics::SizeSeries::inch_iron;
  int max_passes = 1;
  double spare_frac = 0;  // share of a breaker's longest circuit one would rather leave free
  bool operator==(const DesignOptions&) const = default;
};

/// Where the text of a thing stood, so that later checks can still point at it.
struct Place {
  std::string file;
  int line = 0;
  bool operator==(const Place&) const = default;
};

struct Run {
  std::string id, from, to;
  std::string level, space, group;  // ids; group empty for untraced runs
  physics::Pipe pipe;
  double length_m = 0;
  std::string insulation;             // physics::Insulation id
  std::optional<double> thickness_m;  // nominal; empty: the plan chooses
  bool traced = true;
  std::optional<std::string> cable;  // sheet id; empty: the plan chooses
  std::optional<int> passes;
  physics::Orientation orientation = physics::Orientation::horizontal;
  int valves = 0, elbows = 0, tees = 0, supports = 0;
  std::optional<AirTemperatures> air;  // overrides the space's
  double emissivity = 0.9;
  std::string note;
  Place place;  // not part of equality
  bool operator==(const Run&) const;
};

struct Outlet {
  std::string id, node, fixture;  // rules::fixtures()
  int count = 1;
  std::string space, room;  // room: free text for people ("214")
  physics::Pipe runout_pipe;
  double runout_length_m = 0;
  std::string runout_insulation;             // empty: bare
  std::optional<double> runout_thickness_m;  // with insulation
  std::string profile;                       // use profile name, for demand; may be empty
  bool safe_outlet_valve = false;
  std::string note;
  Place place;
  bool operator==(const Outlet&) const;
};

/// Runs that must share a circuit, or of which no two may.
struct Pin {
  enum class Kind { together, apart } kind{};
  std::vector<std::string> runs;
  std::string reason;
  Place place;
  bool operator==(const Pin&) const;
};

/// A circuit of circuits.csv: one that stands in the building, or one of an earlier plan to stay close to.
struct KnownCircuit {
  std::string id, feed_node;
  std::vector<std::string> runs;
  bool fixed = false;               // must stay exactly so
  std::optional<double> breaker_a;  // of a fixed one, when it stands already
  std::string note;
  Place place;
  bool operator==(const KnownCircuit&) const;
};

/// A rule that the user sets aside, with who answers for it and why: rules::Override.
struct RuleOverride {
  std::string rule;
  std::optional<double> value;  // in the rule's unit; none for a rule without a value
  std::string reason, name;
  bool operator==(const RuleOverride&) const = default;
};

/// A finding the user has accepted, with who and why.
struct Acceptance {
  std::string finding, place;  // finding id ("hold-cold"), place id ("R12"; "*": everywhere)
  std::string reason, name, date;
  bool operator==(const Acceptance&) const = default;
};

/// A value the user did not give and the program assumed.
struct Assumption {
  std::string field;  // "space.shaft.air_low"
  std::string value;  // in the user's units
  std::string why;    // "usual indoor air around hot-water pipe: 60 to 80 °F (common practice, no source)"
  bool operator==(const Assumption&) const = default;
};

struct Job {
  std::string folder;  // as given; not part of equality
  Site site;
  units::System units = units::System::us;
  std::string paper;  // "letter" or "a4"
  Requirements requirements;
  Economics economics;
  DesignOptions design;
  WiringPractice wiring;
  Supply supply;
  std::vector<Level> levels;
  std::vector<Space> spaces;
  std::vector<Panel> panels;
  std::vector<ControlGroup> groups;
  std::vector<Period> periods;
  std::vector<UseProfile> profiles;
  std::vector<FixtureUse> fixture_uses;
  Tariff tariff;
  ControllerLimits controller;
  WeekWishes week;
  std::vector<Run> runs;
  std::vector<Outlet> outlets;
  std::vector<physics::CableSheet> cables;  // the catalogue
  std::vector<Pin> pins;
  std::vector<KnownCircuit> known_circuits;
  std::vector<RuleOverride> overrides;
  std::vector<Acceptance> accepted;
  std::vector<Assumption> assumptions;
  bool operator==(const Job&) const;
};

/// The overrides as room rules takes them.
std::vector<rules::Override> overrides_of(const Job& job);

/// Air around a run: its own, else its space's.
AirTemperatures air_around(const Job& job, const Run& run);

}  // namespace firstdraw::job
