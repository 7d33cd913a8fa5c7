// A week that was never computed: every part filled with invented figures, so that what shows a week can be
// tried without making one.
#pragma once

#include <cmath>
#include <limits>

#include "settings/settings.hpp"

namespace firstdraw::settings {

inline job::Job invented_week_job() {
  job::Job job;
  job.site.name = "Invented house";
  job.units = units::System::us;
  job.economics.currency = "USD";
  job.tariff.zone = "America/Chicago";
  job.runs.resize(2);
  job.runs[0].id = "R-01";
  job.runs[1].id = "R-02";
  job.groups.resize(2);
  job.groups[0].id = "main";
  job.groups[0].name = "Main and risers";
  job.groups[0].sensor_run = "R-02";
  job.groups[1].id = "baths";
  for (job::Run& run : job.runs) run.group = "main";
  return job;
}

inline Timetable invented_timetable() {
  constexpr std::uint8_t workdays = 0x1f, weekend = 0x60;
  Timetable timetable;
  timetable.season = "winter";
  timetable.groups.push_back({"main",
                              {{workdays, 0, 44},
                               {workdays, 5.5 * 3600, 50},
                               {workdays, 21 * 3600, std::nullopt},
                               {weekend, 7 * 3600, 49},
                               {weekend, 22 * 3600, 44}}});
  timetable.groups.push_back({"baths", {{0x7f, 0, 50}}});
  return timetable;
}

inline SeasonAnswer invented_season() {
  SeasonAnswer season;
  season.season.name = "winter";
  season.season.from_month = 11;
  season.season.days = 365;
  season.cheapest.plan.possible = season.cheapest.settled = true;
  season.timetable = invented_timetable();
  season.proof_rounds = 2;
  season.proof.forecast.members = 20;
  season.proof.comfort = {{"shower", 0.9, 20, 0.93, 0.95, 41},
                          {"basin", 0.8, 10, 0.71, 0.1, 120},
                          {"bath", 0.9, 60, std::nan(""), std::nan(""), 0}};
  RunProof held, cold;
  held = {0, 48.1, 600, 0, 1, 7.2};
  cold = {1, 39.4, 5 * 3600, 3 * 3600, 0.8, 0.4};
  season.proof.runs = {held, cold};
  season.proof.groups = {{"main", 151.2, 0.44, 31, 43.8, 51.2}, {"baths", 30.5, 0.31, 40, 49.5, 51}};
  season.proof.scald = {
      {"O-01", 58, 49, false, 6.5}, {"O-02", 55, std::nan(""), false, 16}, {"O-03", 55, 43, true, 16}};
  return season;
}

inline GroupAlarms invented_alarms() {
  const double never = std::numeric_limits<double>::infinity();
  GroupAlarms group;
  group.group = "main";
  group.alarms = {{Alarm::Kind::low_temperature, 41, 5400, 0.5, 42.1, false},
                  {Alarm::Kind::low_temperature, -4, 3600, 0, -2.5, true},
                  {Alarm::Kind::low_current, 1.5, 1800, 0, 2.1, false}};
  group.cutout_c = 65;
  group.cutout_because = "5 K above the highest reading of the year";
  group.planted = {{"circuit C01 lost", "breaker-open:C01", Alarm::Kind::low_current, 9000, true, ""},
                   {"contactor stuck off", "contactor-stuck-off:main", std::nullopt, never, false,
                    "Look at the reading each morning."}};
  group.simulated_weeks = 52;
  group.notes = {"52 simulated weeks."};
  return group;
}

inline GroupReadings invented_readings() {
  GroupReadings group;
  group.group = "main";
  group.start_c = 21;
  group.begin_s = 6 * 3600;
  group.after = {{600, 22, 24, 27, 1}, {3600, 30, 33, 37, 1}, {86400, 49, 50, 51, 0.4}};
  group.circuits = {{"C01", {5, 4.5, 4}, {6, 5.2, 4.4}, {7, 6, std::nan("")}}};
  return group;
}

inline WrongSetting invented_wrong() {
  WrongSetting wrong;
  wrong.group = "main";
  wrong.what = "clock 3 h ahead";
  wrong.fault = "clock-ahead:main=3";
  wrong.kwh_per_week = 149;
  wrong.kwh_change_frac = -0.015;
  wrong.mean_reading_c = 46.9;
  wrong.reading_change_k = 0.1;
  wrong.coldest_run_c = 43;
  wrong.coldest_change_k = -1.2;
  wrong.band_h_per_day = 2.5;
  wrong.hot_in_10_s_frac = 0.71;
  wrong.hot_change_frac = -0.12;
  wrong.seen = "The reading rises at 02:30.";
  wrong.harm = "Showers are lukewarm in the evening.";
  return wrong;
}

inline WeekAnswer invented_week() {
  WeekAnswer week;
  week.inputs.year = 2026;
  week.seasons = {invented_season()};
  week.costs = {
      {"week", "These settings", 900, 820, 80, 7000, "simulated week by week"},
      {"as-described", "As the job describes it", 1100, 980, 120, 8300, "simulated, same draws"},
      {"always-on", "Maintain temperature day and night", 1200, 1080, 120, 9000, "simulated, same draws"},
      {"return", "Pumped return line", 850, 800, 50, 6900, "estimated"}};
  week.model_cost_per_year = 880;
  week.bound_per_year = 871.2;
  week.why_not = {{"Guideline's temperature at all times", "none asked", 310, 4.5}};
  week.comfort_curve = {{0, true, 700, 690, false}, {1, true, 880, 871.2, true}};
  week.band_curve = {{0.5, false, 0, 0, false}, {8, true, 610, 600, false}};
  week.sensors = {{"main", "R-02", true, 50, 910, 39.4, 18000, false, false},
                  {"main", "R-01", false, 51, 930, 44, 600, true, true}};
  week.insulation = {
      {"main", "copper 28, shaft", {"R-01", "R-02"}, 30, "1 in", "1-1/2 in", 150, 40, 3.75, 210}};
  week.alarms = {invented_alarms()};
  week.readings = {invented_readings()};
  week.wrong = {invented_wrong()};
  week.demands = {"Every run at 50 °C at all times: invented guideline."};
  week.assumptions = {{"tariff.year", "2026", "no year was given"}};
  week.sources = {{"Invented standard", "2020", "1.2", "memory"}};
  return week;
}

}  // namespace firstdraw::settings
