#include <algorithm>
#include <cmath>
#include <limits>

#include "forecast/ensemble.hpp"
#include "plan/decide.hpp"
#include "plan/expect.hpp"
#include "plan/run_classes.hpp"
#include "settings/lab.hpp"
#include "settings/ordinary_year.hpp"
#include "settings/readings.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double after_s[] = {600, draw::hour_s, draw::day_s};
constexpr std::size_t times = std::size(after_s);
constexpr double pipes_every_s = 600, controls_every_s = 20;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// One building's day after switching on, at each of the times.
struct Day {
  std::vector<double> reading_c, duty_frac;  // [group * times + time]
  std::vector<double> circuit_c;             // [circuit * times + time]: water, by length
};

double quantile(std::vector<double> values, double share) {
  std::erase_if(values, [](double value) { return std::isnan(value); });
  if (values.empty()) return nan;
  std::ranges::sort(values);
  const double place = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
}

/// The first full hour from Monday 09:00 on at which no group that heats at all is off; else Monday 09:00.
double switch_on_s(const Timetable& timetable) {
  constexpr double first_s = 9 * draw::hour_s;
  for (double time_s = first_s; time_s < draw::week_s; time_s += draw::hour_s) {
    const auto is_off = [time_s](const GroupTimetable& group) {
      const bool heats =
          std::ranges::any_of(group.entries, [](const Entry& entry) { return entry.hold_c.has_value(); });
      return heats && !set_point_c(group, time_s);
    };
    if (std::ranges::none_of(timetable.groups, is_off)) return time_s;
  }
  return first_s;
}

draw::Result live_cold(const draw::Scene& scene, double begin_s, double every_s, bool controls_only) {
  draw::Options how;
  how.begin_s = begin_s;
  how.end_s = begin_s + draw::day_s;
  how.run_in_s = 0;
  how.start = draw::Start::cold;
  how.record_every_s = every_s;
  how.record_controls_only = controls_only;
  return draw::simulate(scene, {}, how);
}

/// Mean over the last tenth of the first `until_s`.
double late_duty(const std::vector<float>& duty_frac, double until_s) {
  const auto last = static_cast<std::size_t>(std::lround(until_s / controls_every_s));
  const auto first = static_cast<std::size_t>(std::lround(0.9 * until_s / controls_every_s));
  double sum = 0;
  for (std::size_t i = first; i < last; ++i) sum += static_cast<double>(duty_frac.at(i));
  return sum / static_cast<double>(last - first);
}

void take_controls(const draw::Scene& scene, const draw::Records& records, Day& day) {
  const std::size_t groups = scene.groups.size();
  for (std::size_t g = 0; g < groups; ++g) {
    const auto reading_c = column(records.reading_c, groups, static_cast<int>(g));
    const auto duty_frac = column(records.duty_frac, groups, static_cast<int>(g));
    for (const double time_s : after_s) {
      const auto record = static_cast<std::size_t>(std::lround(time_s / controls_every_s));
      day.reading_c.push_back(
          scene.groups[g].sensor_run == draw::none ? nan : static_cast<double>(reading_c.at(record)));
      day.duty_frac.push_back(late_duty(duty_frac, time_s));
    }
  }
}

void take_pipes(const Lab& lab, const draw::Records& records, Day& day) {
  const auto& runs = lab.nominal().runs;
  for (std::size_t c = 0; c < lab.plan().circuits.size(); ++c)
    for (const double time_s : after_s) {
      const auto record = static_cast<std::size_t>(std::lround(time_s / pipes_every_s));
      double sum = 0, length_m = 0;
      for (std::size_t r = 0; r < runs.size(); ++r) {
        if (runs[r].job_run == draw::none || runs[r].group == draw::none) continue;
        if (lab.plan().runs[at(runs[r].job_run)].circuit != static_cast<int>(c)) continue;
        sum += runs[r].length_m * static_cast<double>(records.run_c.at(record * runs.size() + r));
        length_m += runs[r].length_m;
      }
      day.circuit_c.push_back(length_m > 0 ? sum / length_m : nan);
    }
}

Day live_day(const Lab& lab, const forecast::Variation& variation, double begin_s) {
  forecast::SceneOptions building;
  building.variation = variation;
  const draw::Scene scene = lab.scene(building);
  Day day;
  take_controls(scene, live_cold(scene, begin_s, controls_every_s, true).records, day);
  take_pipes(lab, live_cold(scene, begin_s, pipes_every_s, false).records, day);
  return day;
}

std::vector<double> over(const std::vector<Day>& days, std::vector<double> Day::* field, std::size_t place) {
  std::vector<double> values;
  for (const Day& day : days) values.push_back((day.*field)[place]);
  return values;
}

CircuitAfter circuit_after(const Lab& lab, const std::vector<Day>& days, std::size_t circuit) {
  const power::Circuit& fed = lab.plan().circuits[circuit];
  const job::Panel& panel = lab.job().panels[at(fed.panel)];
  const double feed_v = fed.steady && fed.feed_v > 0 ? fed.feed_v : panel.voltage_v;
  CircuitAfter made{fed.id, {}, {}, {}};
  for (std::size_t t = 0; t < times; ++t) {
    const auto water_c = over(days, &Day::circuit_c, circuit * times + t);
    const double pipe_c[] = {quantile(water_c, 0.05), quantile(water_c, 0.5), quantile(water_c, 0.95)};
    const double volts[] = {panel.low_frac * feed_v, feed_v, panel.high_frac * feed_v};
    const auto table =
        plan::expected_currents(lab.job(), lab.plan(), static_cast<int>(circuit), {pipe_c, volts});
    made.high_a.push_back(table.at(2).most_a);  // voltages change fastest
    made.usual_a.push_back(table.at(4).current_a);
    made.low_a.push_back(table.at(6).least_a);
  }
  return made;
}

double start_c(const Lab& lab, int group) {
  const int sensor = plan::sensor_run_of(lab.job(), group);
  if (sensor != draw::none) return job::air_around(lab.job(), lab.job().runs[at(sensor)]).usual_c;
  for (const draw::SceneRun& run : lab.nominal().runs)
    if (run.group == group) return run.air_c.at(0);
  return nan;
}

GroupReadings group_readings(const Lab& lab, const std::vector<Day>& days, std::size_t group) {
  GroupReadings made;
  made.group = lab.job().groups[group].id;
  made.start_c = start_c(lab, static_cast<int>(group));
  for (std::size_t t = 0; t < times; ++t) {
    const auto reading_c = over(days, &Day::reading_c, group * times + t);
    made.after.push_back({after_s[t], quantile(reading_c, 0.05), quantile(reading_c, 0.5),
                          quantile(reading_c, 0.95),
                          quantile(over(days, &Day::duty_frac, group * times + t), 0.5)});
  }
  for (std::size_t c = 0; c < lab.plan().circuits.size(); ++c)
    if (lab.plan().circuits[c].group == static_cast<int>(group))
      made.circuits.push_back(circuit_after(lab, days, c));
  return made;
}

}  // namespace

std::vector<GroupReadings> first_readings(const job::Job& job, const plan::Plan& plan,
                                          const Timetable& timetable, const ProofOptions& options) {
  const Lab lab(job, plan, timetable, options);
  const double begin_s = switch_on_s(timetable);
  const auto members = forecast::variations(lab.job(), std::max(1, options.members), options.seed);
  forecast::SharedProgress progress(options.progress, members.size());
  std::vector<Day> days;
  const auto make = [&](std::size_t m) {
    if (progress.stopped()) return Day{};
    Day day = live_day(lab, members[m], begin_s);
    progress.report(m, 1);
    return day;
  };
  forecast::in_order(options.threads, members.size(), make,
                     [&days](std::size_t, Day& day) { days.push_back(std::move(day)); });
  if (progress.stopped()) return {};
  std::vector<GroupReadings> all;
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    all.push_back(group_readings(lab, days, g));
    all.back().begin_s = begin_s;
  }
  return all;
}

}  // namespace firstdraw::settings
