// For the tests of this room: a week that nobody searched for and nobody lived through. All figures are
// invented.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "forecast/forecast.hpp"
#include "paper/sheets.hpp"
#include "settings/settings.hpp"

namespace firstdraw::paper {

inline constexpr double test_hour_s = 3600;

struct TestWeek {
  int seasons = 1;
  bool each_day = false;  // seven programs instead of working days and weekend
  bool constant = false;
};

/// Two taps at the ends of the small job, which has none.
inline void add_taps(job::Job& job) {
  for (const char* node : {"c", "d"}) {
    job::Outlet outlet;
    outlet.id = std::string("O-") + node;
    outlet.node = node;
    outlet.fixture = "shower";
    outlet.space = "ceiling";
    outlet.runout_pipe = job.runs.front().pipe;
    outlet.runout_length_m = 2;
    job.outlets.push_back(outlet);
  }
}

/// A scene with the job's pipes and one tap for each outlet, and records that look like a week.
inline draw::Scene test_scene(const job::Job& job) {
  draw::Scene scene;
  const auto group_of = [&](const std::string& id) {
    const auto found = std::ranges::find(job.groups, id, &job::ControlGroup::id);
    return found == job.groups.end() ? draw::none : static_cast<int>(found - job.groups.begin());
  };
  for (int run = 0; run < std::ssize(job.runs); ++run) {
    draw::SceneRun made;
    made.id = job.runs[draw::at(run)].id;
    made.job_run = run;
    made.group = group_of(job.runs[draw::at(run)].group);
    scene.runs.push_back(made);
  }
  for (int outlet = 0; outlet < std::ssize(job.outlets); ++outlet) {
    draw::SceneRun runout;
    runout.id = "runout " + job.outlets[draw::at(outlet)].id;
    for (int run = 0; run < std::ssize(job.runs); ++run)
      if (job.runs[draw::at(run)].to == job.outlets[draw::at(outlet)].node) runout.upstream = run;
    scene.taps.push_back(
        {job.outlets[draw::at(outlet)].id, outlet, static_cast<int>(scene.runs.size()), 45, {}});
    scene.runs.push_back(runout);
  }
  for (const job::ControlGroup& group : job.groups) {
    draw::SceneGroup made;
    made.id = group.id;
    for (int run = 0; run < std::ssize(job.runs); ++run)
      if (job.runs[draw::at(run)].id == group.sensor_run) made.sensor_run = run;
    scene.groups.push_back(made);
  }
  return scene;
}

inline forecast::Forecast test_lived(const job::Job& job) {
  forecast::Forecast lived;
  lived.days = 7;
  lived.members = 20;
  lived.scene = test_scene(job);
  for (const draw::Tap& tap : lived.scene.taps) {
    forecast::OutletAnswer answer;
    answer.tap = tap.id;
    answer.outlet = tap.outlet;
    answer.draws_per_day = 6;
    for (forecast::Spread& each : answer.since_open_c) each = {20, 24.0 + tap.outlet % 3, 40};
    lived.outlets.push_back(answer);
  }
  for (std::size_t group = 0; group < job.groups.size(); ++group) {
    forecast::GroupAnswer answer;
    answer.kwh_per_day = 3 + static_cast<double>(group);
    lived.groups.push_back(answer);
  }
  const auto add = [](std::vector<float>& to, std::size_t count, double value) {
    to.insert(to.end(), count, static_cast<float>(value));
  };
  for (double time_s = 0; time_s < 7 * 86400; time_s += 600) {
    const double hour = std::fmod(time_s / test_hour_s, 24), wave = std::sin(time_s / 2500);
    const double held_c = hour < 4.5 || hour > 22 ? 40 : hour > 9 && hour < 16.5 ? 42 : 48;
    lived.records.time_s.push_back(time_s);
    add(lived.records.reading_c, lived.scene.groups.size(), held_c + wave);
    add(lived.records.run_coldest_c, lived.scene.runs.size(), held_c - 2 + 0.7 * wave);
    add(lived.records.tap_c, lived.scene.taps.size(), std::fmod(time_s, 20000) < 900 ? 44 : 24 + 2 * wave);
  }
  return lived;
}

inline settings::GroupTimetable test_timetable(const job::ControlGroup& group, const TestWeek& wanted,
                                               double shift_k) {
  const double high_c = group.maintain_c + shift_k, low_c = high_c - 8;
  settings::GroupTimetable made{group.id, {}};
  if (wanted.constant) return {group.id, {{0x7f, 0, high_c}}};
  const auto program = [&](std::uint8_t days, double first_h) {
    made.entries.push_back({days, first_h * test_hour_s, high_c});
    made.entries.push_back({days, 9 * test_hour_s, low_c});
    made.entries.push_back({days, 16.5 * test_hour_s, high_c - 2});
    made.entries.push_back({days, 22 * test_hour_s, std::nullopt});
  };
  if (wanted.each_day)
    for (unsigned day = 0; day < 7; ++day) program(static_cast<std::uint8_t>(1U << day), 5 + 0.5 * day);
  else
    program(0x1f, 4.5), program(0x60, 6);
  return made;
}

inline settings::Proof test_proof(const job::Job& job, const forecast::Forecast& lived) {
  settings::Proof proof;
  proof.forecast = lived;
  proof.comfort = {
      {"shower", 0.9, 30, 0.93, 0.8, 41.5}, {"*", 0.9, 30, 0.87, 0.2, 120}, {"bath", 0.9, 10, NAN, NAN, 0}};
  for (int run = 0; run < std::ssize(job.runs); ++run) {
    if (job.runs[draw::at(run)].group.empty()) continue;
    proof.runs.push_back({run, 44.4 + run % 7, (run % 5) * test_hour_s, (run % 3) * 0.5 * test_hour_s,
                          run % 4 == 0 ? 0.95 : 1.0, 3.2 + run % 30});
  }
  for (const job::ControlGroup& group : job.groups) proof.groups.push_back({group.id, 31, 0.3, 40, 45, 58});
  for (const forecast::OutletAnswer& tap : lived.outlets) {
    if (proof.scald.size() == 20) break;
    proof.scald.push_back({tap.tap, 57.5, 49, proof.scald.size() % 2 == 0, 14});
  }
  return proof;
}

inline settings::SeasonAnswer test_season(const job::Job& job, const forecast::Forecast& lived,
                                          const TestWeek& wanted, int number) {
  settings::SeasonAnswer answer;
  answer.season.name = wanted.seasons == 1 ? "all year" : number == 0 ? "heating season" : "summer";
  answer.season.from_month = wanted.seasons == 1 ? 1 : number == 0 ? 10 : 5;
  answer.season.days = 365.0 / wanted.seasons;
  for (int step = 0; step < 336; ++step) {
    const int hour = step / 2 % 24;
    const double price = hour >= 7 && hour < 11 && step < 240 ? 0.31 : hour < 6 ? 0.09 : 0.16;
    answer.season.prices.per_kwh.push_back(price * answer.season.days / 7);
  }
  answer.timetable.season = answer.season.name;
  for (const job::ControlGroup& group : job.groups)
    answer.timetable.groups.push_back(test_timetable(group, wanted, number == 0 ? 0.0 : -1.0));
  answer.proof = test_proof(job, lived);
  return answer;
}

inline settings::GroupAlarms test_alarms(const std::string& group) {
  using Of = settings::Alarm::Kind;
  settings::GroupAlarms made{
      group, {}, 65, "5 K above the highest set-point and 4 K below what the pipe bears", {}, 52, {}};
  made.alarms = {{Of::low_temperature, 42, 45 * 60, 0.4, 42.6, false},
                 {Of::low_temperature, -5, 3 * test_hour_s, 0, -4.1, true},
                 {Of::high_temperature, 63, 600, 0, 59, false},
                 {Of::low_current, 2.4, 900, 0, 3.1, false}};
  made.planted = {
      {"circuit C01 lost", "circuit-lost:C01", Of::low_current, 900, true, ""},
      {"contactor stuck on", "stuck-on", Of::high_temperature, 5.5 * test_hour_s, true, ""},
      {"sensor off the pipe", "sensor-off", std::nullopt, std::numeric_limits<double>::infinity(), false,
       "The reading follows the air: touch the sensor, compare it with a contact thermometer."}};
  made.notes = {
      "52 weeks cannot show a rate below one in a year: limits are such that none of them tripped."};
  return made;
}

inline settings::GroupReadings test_readings(const plan::Plan& plan, int index, const std::string& group) {
  settings::GroupReadings made;
  made.group = group;
  made.start_c = 15;
  made.after = {{600, 15.2, 16.8, 18.9, 1}, {3600, 22, 27.4, 33, 1}, {86400, 53.6, 54.8, 56.1, 0.31}};
  for (const power::Circuit& circuit : plan.circuits)
    if (circuit.group == index)
      made.circuits.push_back({circuit.id, {13.1, 11.2, 7.9}, {14.6, 12.4, 8.8}, {16.1, 13.7, 9.7}});
  return made;
}

inline std::vector<settings::WrongSetting> test_wrong(const std::string& group) {
  return {
      {group, "sensor on the cable's side", "sensor-angle:0", 22, -0.29, 54, 0, 47, -6.2, 5.5, 0.71, -0.2, 0,
       "Pipe by contact thermometer well below the reading.", "Lukewarm for hours: Legionella can multiply."},
      {group, "clock 3 h ahead", "clock:+3", 31.2, 0.01, 53.1, -0.2, 53, -0.4, 0.2, 0.88, -0.03, 0,
       "The clock on the display; the morning's rise comes at the wrong time.", ""}};
}

inline settings::WeekAnswer test_week(const job::Job& job, const plan::Plan& plan,
                                      const TestWeek& wanted = {}) {
  const forecast::Forecast lived = test_lived(job);
  settings::WeekAnswer week;
  week.inputs.year = 2026;
  if (auto zone = week::read_zone("America/Chicago", 2025, 2027)) week.inputs.calendar.zone = *zone;
  week.inputs.tariff.name = "Invented time-of-use rate";
  for (int season = 0; season < wanted.seasons; ++season)
    week.seasons.push_back(test_season(job, lived, wanted, season));
  week.costs = {
      {"week", "These settings", 1290, 1010, 280, 8100, "simulated week by week, billed over the year"},
      {"as-described", "As the job describes it", 1555, 1205, 350, 9400, "simulated, same draws"},
      {"always-on", "Maintain temperature day and night", 1720, 1330, 390, 10100, "simulated, same draws"},
      {"return", "Pumped return line, no heating cable", 3010, 2600, 410, 19000,
       "estimated: losses of both pipes and the pump, heat priced like electricity"}};
  week.model_cost_per_year = 1302, week.bound_per_year = 1279;
  week.why_not = {{"Guideline's temperature at all times", "none asked", 402, 21},
                  {"Comfort at showers", "none asked", 88, 18},
                  {"Four periods a day", "5 periods a day", 12, 0.2}};
  week.comfort_curve = {{0, true, 1100, 1090, false},
                        {0.5, true, 1160, 1150, false},
                        {0.8, true, 1220, 1200, false},
                        {1, true, 1302, 1279, true},
                        {1.1, false, 0, 0, false}};
  week.band_curve = {{0.5, false, 0, 0, false},
                     {2, true, 1260, 1240, false},
                     {4, true, 1180, 1160, true},
                     {8, true, 1100, 1080, false},
                     {24, true, 1040, 1030, false}};
  for (int index = 0; index < std::ssize(job.groups); ++index) {
    const std::string& id = job.groups[draw::at(index)].id;
    week.sensors.push_back(
        {id, job.groups[draw::at(index)].sensor_run, true, 55, 1420, 50.2, 3 * test_hour_s, false, false});
    week.sensors.push_back({id, job.runs.front().id, false, 53, 1365, 51.4, 0, true, true});
    week.insulation.push_back({id, "A", {"R1", "R2", "R3"}, 47, "1 in", "1-1/2 in", 310, 61, 5.1, 480});
    week.alarms.push_back(test_alarms(id));
    week.readings.push_back(test_readings(plan, index, id));
    for (const settings::WrongSetting& each : test_wrong(id)) week.wrong.push_back(each);
  }
  week.demands = {
      "90 % of draws at showers that last so long hot within 30 s (job.toml, week.comfort).",
      "No heated run longer than 4 h below the upper end of the growth band (job.toml, week.band)."};
  plan::Finding finding;
  finding.id = "week-run-cold";
  finding.severity = plan::Severity::fix;
  finding.place_kind = plan::Finding::PlaceKind::group;
  finding.place = job.groups.empty() ? "" : job.groups.front().id;
  finding.what = "A run of this invented week stays below what is asked of it.";
  finding.todo = "Insulate it better.";
  finding.citation = {"Invented guideline", "2026", "1", "read"};
  week.findings = {finding};
  week.assumptions = {{"tariff.ratchet_months", "11", "common practice, no source"}};
  week.sources = {{"Invented guideline", "2026", "1", "read"}};
  return week;
}

}  // namespace firstdraw::paper
