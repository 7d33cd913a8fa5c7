// The sections of job.toml that only a week of settings looks at, as describe.hpp does for the others: prices
// and calendar, seasons, what the controller can be set to, what the week must keep. A job without such a
// section gets no assumption about it.
#pragma once

#include "job/describe.hpp"

namespace firstdraw::job {

inline constexpr std::array<Named<ControllerLimits::Clock>, 3> controller_clocks{
    {{ControllerLimits::Clock::none, "none"},
     {ControllerLimits::Clock::on_off, "on-off"},
     {ControllerLimits::Clock::set_points, "set-points"}}};
inline constexpr std::array<Named<ControllerLimits::Programs>, 3> controller_programs{
    {{ControllerLimits::Programs::one, "one"},
     {ControllerLimits::Programs::workdays_weekend, "workdays-weekend"},
     {ControllerLimits::Programs::each_day, "each-day"}}};

/// A month and a day that every year has.
struct MonthDay {
  int month = 1, day = 1;
};
extern const Spelling<MonthDay> month_day;
/// "2026-12-25", a date that exists, from 1970 to 2037.
extern const Spelling<std::string> calendar_date;
/// A duration held in hours: "8 h", "90 min"; at most a week.
extern const Spelling<double> hours;

/// Kinds of fixture, and "*" for every other one.
const std::vector<std::string>& known_comfort_fixtures();
/// What controllers of the trade can usually be set to, in whole degrees of the units shown.
ControllerLimits usual_controller(System system);

template <class V>
void describe(V& v, Tariff& tariff) {
  v.text("zone", tariff.zone, blank);
  v.integer("year", tariff.year, range::calendar_year, blank);
  v.text("file", tariff.file, blank);
  const bool priced = !tariff.file.empty();
  v.spelled_list("holidays", tariff.holidays, calendar_date,
                 priced ? "no day was named: every day is priced by its weekday" : "");
  constexpr std::string_view as_weekend =
      "usual in prices by the time of use (common practice, no source): read the utility's sheet";
  v.flag("holidays_as_weekend", tariff.holidays_as_weekend,
         tariff.holidays.empty() ? of_no_effect(true) : assume(true, as_weekend));
  v.optional_quantity("demand_window", tariff.demand_window_s, Kind::duration, range::part_of_hour);
  v.integer("ratchet_months", tariff.ratchet_months, range::months,
            priced ? assume(11, "months that a ratchet looks back (common practice, no source)")
                   : of_no_effect(11));
  v.quantity("other_load", tariff.other_load_w, Kind::power, range::not_negative,
             priced ? assume(0.0, "nothing else is on the meter: peaks of demand are the heating's alone")
                    : of_no_effect(0.0));
}

template <class V>
void describe(V& v, Season& season) {
  v.text("name", season.name, needed);
  MonthDay from{season.month, season.day};
  v.spelled("from", from, month_day, needed);
  season.month = from.month;
  season.day = from.day;
}

/// What the kind of clock does not look at is left at its usual value, without an assumption.
template <class V>
void describe(V& v, ControllerLimits& controller, System system) {
  using Clock = ControllerLimits::Clock;
  constexpr std::string_view why =
      "as controllers of the trade can usually be set (common practice, no source)";
  const ControllerLimits usual = usual_controller(system);
  const auto when = [&](bool matters, auto value) {
    return matters ? assume(value, why) : of_no_effect(value);
  };
  v.choice("clock", controller.clock, controller_clocks, assume(usual.clock, why));
  const bool clock = controller.clock != Clock::none, changes = controller.clock == Clock::set_points;
  v.choice("programs", controller.programs, controller_programs, when(clock, usual.programs));
  v.integer("periods_a_day", controller.periods_a_day, range::dozen, when(clock, usual.periods_a_day));
  v.integer("set_points", controller.set_points, range::dozen, when(changes, usual.set_points));
  v.quantity("setting_step", controller.step_k, Kind::temperature_difference, range::positive,
             assume(usual.step_k, why));
  v.quantity("least_setback", controller.least_setback_k, Kind::temperature_difference, range::not_negative,
             when(changes, usual.least_setback_k));
  v.quantity("clock_step", controller.clock_step_s, Kind::duration, range::clock_step,
             when(clock, usual.clock_step_s));
  v.quantity("lowest", controller.lowest_c, Kind::temperature, range::water, assume(usual.lowest_c, why));
  v.quantity("highest", controller.highest_c, Kind::temperature, range::water, assume(usual.highest_c, why));
  v.flag("off", controller.off, when(changes, usual.off));
  v.flag(
      "current", controller.current,
      assume(false, "it was not said to measure the load's current: a lost circuit raises no alarm of it"));
}

/// [week] without its [[comfort]].
template <class V>
void describe(V& v, WeekWishes& week) {
  constexpr std::string_view ours = "our choice, no source";
  const auto when_held = [&](double value) {
    return week.hot_hold ? assume(value, ours) : of_no_effect(value);
  };
  v.quantity("confidence", week.confidence_frac, Kind::fraction, range::confidence, assume(0.95, ours));
  v.optional_spelled("band_time", week.band_h, hours);
  v.flag("hot_hold", week.hot_hold, assume(false, "no weekly hot hold was asked for"));
  v.quantity("hot_hold_at", week.hot_hold_c, Kind::temperature, range::hot_hold, when_held(60));
  v.number("hot_hold_log", week.hot_hold_log, range::reductions, when_held(5));
  v.number("false_alarms_per_year", week.false_alarms_per_year, range::not_negative, assume(1.0, ours));
  v.quantity("catch_within", week.catch_within_s, Kind::duration, range::positive, assume(86400.0, ours));
}

template <class V>
void describe(V& v, ComfortTarget& target) {
  v.known("fixture", target.fixture, known_comfort_fixtures(), needed);
  v.quantity("share", target.hot_frac, Kind::fraction, range::positive_fraction,
             assume(0.9, "nine draws of ten hot in time (our choice, no source)"));
  v.quantity("within", target.within_s, Kind::duration, range::positive,
             assume(30.0, "longer than half a minute is felt as long (our choice, no source)"));
}

}  // namespace firstdraw::job
