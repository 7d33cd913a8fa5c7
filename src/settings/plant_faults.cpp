#include "settings/plant_faults.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>

#include "settings/ordinary_year.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;
using draw::day_s;
using draw::hour_s;
using forecast::FaultKind;

constexpr std::array kinds = {FaultKind::contactor_stuck_on, FaultKind::contactor_stuck_off,
                              FaultKind::sensor_off_pipe, FaultKind::breaker_open};

/// Tuesday's hour in which the workdays draw most.
double busiest_hour_s(const Lab& lab, std::uint64_t seed) {
  std::array<double, 24> volume{};
  for (const draw::Draw& draw : lab.draws(0, 5 * day_s, seed))
    volume[static_cast<std::size_t>(std::fmod(draw.open_s, day_s) / hour_s)] +=
        draw.duration_s * draw.flow_m3_per_s;
  return day_s + hour_s * static_cast<double>(std::ranges::max_element(volume) - volume.begin());
}

/// Beginning and length of the longest time in which the group's set-point is below its highest.
struct Setback {
  double begin_s = 0, length_s = 0;
};
std::optional<Setback> longest_setback(const GroupTimetable& group) {
  constexpr double step_s = 900;
  const std::vector<double> set_c = by_step(group, step_s);
  const double high_c = *std::ranges::max_element(set_c);
  const std::size_t n = set_c.size();
  Setback longest;
  for (std::size_t i = 0; i < n; ++i) {
    if (set_c[i] >= high_c || set_c[(i + n - 1) % n] < high_c) continue;
    std::size_t steps = 0;
    while (set_c[(i + steps) % n] < high_c) ++steps;
    const double length_s = static_cast<double>(steps) * step_s;
    if (length_s > longest.length_s) longest = {static_cast<double>(i) * step_s, length_s};
  }
  return longest.length_s > 0 ? std::optional(longest) : std::nullopt;
}

/// One fault in a set of groups at once, at one time, with one week's draws.
struct Plant {
  FaultKind kind{};
  std::vector<int> groups;
  double begin_s = 0;
  std::uint64_t draws = 0;
};

std::optional<forecast::Fault> fault_of(const Lab& lab, const Plant& plant, int group) {
  if (!heeds_sensor(lab.nominal().groups[at(group)])) return std::nullopt;
  forecast::Fault fault{plant.kind, lab.job().groups[at(group)].id};
  fault.begin_s = plant.begin_s;
  if (plant.kind != FaultKind::breaker_open) return fault;
  const int circuit = sensor_circuit(lab, group);
  if (circuit == draw::none) return std::nullopt;
  fault.place = lab.plan().circuits[at(circuit)].id;
  return fault;
}

std::vector<Plant> plants_of(const Lab& lab, const Planting& planting) {
  std::vector<Plant> plants;
  for (const auto& groups : groups_apart(lab.nominal()))
    for (const FaultKind kind : kinds)
      for (std::size_t b = 0; b < planting.begins_s.size(); ++b)
        for (int i = 0; i < planting.repeats; ++i)
          plants.push_back({kind, groups, planting.begins_s[b],
                            week_seed(planting.seed, WeekKind::planted, b * at(planting.repeats) + at(i))});
  return plants;
}

std::vector<FaultCourse> live_plant(const Lab& lab, const Planting& planting, const Plant& plant,
                                    const std::function<bool(double)>& progress) {
  forecast::SceneOptions building;
  std::vector<FaultCourse> courses;
  for (const int group : plant.groups)
    if (const auto fault = fault_of(lab, plant, group)) {
      building.faults.push_back(*fault);
      courses.push_back({group, plant.kind, plant.begin_s, {}});
    }
  if (courses.empty()) return courses;
  draw::Options how;
  how.begin_s = plant.begin_s;
  how.end_s = plant.begin_s + planting.watched_s;
  how.record_every_s = alarm_step_s;
  how.record_controls_only = true;
  how.progress = progress;
  const draw::Result result = lab.live(lab.scene(building), how, plant.draws);
  for (FaultCourse& course : courses)
    course.reading_c = column(result.records.reading_c, lab.nominal().groups.size(), course.group);
  return courses;
}

}  // namespace

int sensor_circuit(const Lab& lab, int group) {
  const int run = lab.nominal().groups[at(group)].sensor_run;
  if (run == draw::none || lab.nominal().runs[at(run)].job_run == draw::none) return draw::none;
  return lab.plan().runs[at(lab.nominal().runs[at(run)].job_run)].circuit;
}

std::vector<double> fault_begins_s(const Lab& lab, const Timetable& timetable, std::uint64_t seed) {
  std::set<double> begins_s = {22 * hour_s, 2 * day_s + 3 * hour_s, 3 * day_s + 15 * hour_s,
                               5 * day_s + 12 * hour_s, 6 * day_s + 20 * hour_s};
  begins_s.insert(busiest_hour_s(lab, seed));
  std::optional<Setback> longest;
  for (const GroupTimetable& group : timetable.groups)
    if (const auto setback = longest_setback(group);
        setback && (!longest || setback->length_s > longest->length_s))
      longest = setback;
  if (longest) {
    const double before_s = longest->begin_s >= alarm_step_s ? -alarm_step_s : draw::week_s - alarm_step_s;
    begins_s.insert(longest->begin_s + before_s);
    begins_s.insert(std::fmod(
        longest->begin_s + std::floor(longest->length_s / 2 / alarm_step_s) * alarm_step_s, draw::week_s));
  }
  return {begins_s.begin(), begins_s.end()};
}

std::size_t planting_tasks(const Lab& lab, const Planting& planting) {
  return plants_of(lab, planting).size();
}

std::vector<FaultCourse> plant_faults(const Lab& lab, const Planting& planting,
                                      forecast::SharedProgress& progress, std::size_t first_task) {
  const std::vector<Plant> plants = plants_of(lab, planting);
  const auto make = [&](std::size_t i) {
    return live_plant(lab, planting, plants[i], [&progress, task = first_task + i](double done_frac) {
      return progress.report(task, done_frac);
    });
  };
  std::vector<FaultCourse> all;
  forecast::in_order(planting.threads, plants.size(), make,
                     [&all](std::size_t, std::vector<FaultCourse>& courses) {
                       std::ranges::move(courses, std::back_inserter(all));
                     });
  return all;
}

}  // namespace firstdraw::settings
