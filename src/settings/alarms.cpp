#include "settings/alarms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "settings/alarm_choice.hpp"
#include "settings/current_alarm.hpp"
#include "settings/cut_out.hpp"
#include "settings/planted_words.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;
using forecast::FaultKind;
using Kind = Alarm::Kind;

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double weeks_per_year = 52;

/// Everything that was lived through, and what it is asked for.
struct Study {
  const Lab& lab;
  const Timetable& timetable;
  const OrdinaryYear& year;
  const std::vector<FaultCourse>& courses;
};

/// One group's share of it.
struct GroupStudy {
  const Study& study;
  int group;
  std::vector<FaultCourse> courses;
  GroupCurrent current;

  const job::Job& job() const { return study.lab.job(); }
  const job::ControlGroup& settings() const { return job().groups[at(group)]; }
  const OrdinaryGroup& ordinary() const { return study.year.groups[at(group)]; }
  bool has_sensor() const { return heeds_sensor(study.lab.nominal().groups[at(group)]); }
  AlarmView view(Kind kind, bool follows) const {
    return {kind, follows, study.timetable.groups.at(at(group))};
  }
  AlarmView view(const Alarm& alarm) const { return view(alarm.kind, alarm.follows_set_point); }
};

GroupStudy group_study(const Study& study, int group) {
  GroupStudy own{study, group, {}, {}};
  for (const FaultCourse& course : study.courses)
    if (course.group == group) own.courses.push_back(course);
  own.current = group_current(study.lab.job(), study.lab.plan(), group, own.ordinary());
  return own;
}

std::vector<Alarm> alarms_of(const GroupStudy& own) {
  std::vector<Alarm> alarms;
  const auto choose = [&](Kind kind, bool follows) {
    const auto found =
        choose_alarm(own.job(), own.view(kind, follows), own.study.year, own.group, own.courses);
    if (found) alarms.push_back(*found);
  };
  choose(Kind::low_temperature, false);
  choose(Kind::high_temperature, false);
  if (!own.study.timetable.groups.at(at(own.group)).constant()) choose(Kind::low_temperature, true);
  if (own.job().controller.current && !own.current.circuits.empty())
    if (const auto found = current_alarm(own.current)) alarms.push_back(*found);
  return alarms;
}

struct Caught {
  std::optional<Kind> by;
  double after_s = infinity;
};

/// Of each course the first alarm, of all courses the last.
Caught by_temperature(const GroupStudy& own, const std::vector<Alarm>& alarms, FaultKind kind, bool follows) {
  std::optional<Caught> slowest;
  for (const FaultCourse& course : own.courses) {
    if (course.kind != kind) continue;
    Caught first;
    for (const Alarm& alarm : alarms) {
      if (alarm.kind == Kind::low_current || alarm.follows_set_point != follows) continue;
      const double after_s = caught_after_s(own.view(alarm), alarm, course);
      if (after_s < first.after_s) first = {alarm.kind, after_s};
    }
    if (!slowest || first.after_s > slowest->after_s) slowest = first;
  }
  return slowest.value_or(Caught{});
}

/// At the latest when the longest ordinary rest is over and the delay has passed.
Caught by_current(const GroupStudy& own, const std::vector<Alarm>& alarms, FaultKind kind, int circuit) {
  const auto alarm = std::ranges::find(alarms, Kind::low_current, &Alarm::kind);
  if (alarm == alarms.end()) return {};
  const auto place = std::ranges::find(own.current.circuits, circuit);
  const bool tells =
      kind == FaultKind::contactor_stuck_off ||
      (kind == FaultKind::breaker_open && place != own.current.circuits.end() &&
       tells_lost(own.current, *alarm, static_cast<std::size_t>(place - own.current.circuits.begin())));
  if (!tells) return {};
  return {Kind::low_current, own.ordinary().longest_rest_s + alarm->delay_s};
}

std::string_view name_of(FaultKind kind) {
  return std::ranges::find(forecast::fault_help(), kind, &forecast::FaultHelp::kind)->name;
}

Planted planted(const GroupStudy& own, const std::vector<Alarm>& alarms, FaultKind kind, int circuit) {
  const Lab& lab = own.study.lab;
  const bool at_sensor = kind != FaultKind::breaker_open || circuit == sensor_circuit(lab, own.group);
  const std::string& place = circuit == draw::none ? own.settings().id : lab.plan().circuits[at(circuit)].id;
  Caught caught = at_sensor ? by_temperature(own, alarms, kind, false) : Caught{};
  if (const Caught other = by_current(own, alarms, kind, circuit); other.after_s < caught.after_s)
    caught = other;
  Planted made;
  made.fault = fault_words(lab, kind, place);
  made.text = fmt::format("{}:{}", name_of(kind), place);
  made.caught_by = caught.by;
  made.after_s = caught.after_s;
  made.in_time = caught.after_s <= own.job().week.catch_within_s;
  if (made.in_time) return made;
  const Caught followed = at_sensor ? by_temperature(own, alarms, kind, true) : Caught{};
  made.otherwise = otherwise_words(lab, kind, place, followed.after_s);
  return made;
}

std::vector<Planted> planted_in(const GroupStudy& own, const std::vector<Alarm>& alarms) {
  std::vector<Planted> all;
  if (own.current.circuits.empty()) return all;  // nothing is heated
  for (const int circuit : own.current.circuits)
    all.push_back(planted(own, alarms, FaultKind::breaker_open, circuit));
  std::vector<FaultKind> kinds = {FaultKind::contactor_stuck_on, FaultKind::contactor_stuck_off};
  if (own.has_sensor()) kinds.insert(kinds.end(), {FaultKind::sensor_off_pipe, FaultKind::sensor_lost});
  for (const FaultKind kind : kinds) all.push_back(planted(own, alarms, kind, draw::none));
  return all;
}

std::vector<std::string> notes_of(const GroupStudy& own) {
  const int weeks = own.study.year.weeks;
  const double least_rate = weeks_per_year / weeks, asked = own.job().week.false_alarms_per_year;
  std::vector<std::string> notes;
  notes.push_back(fmt::format(
      "{} simulated weeks, each with its own draws, every second one in a building that differs by its "
      "tolerances; a rate below {:.2g} a year cannot be told from none.",
      weeks, least_rate));
  if (least_rate > asked)
    notes.push_back(
        fmt::format("At most {:.2g} false alarms a year were asked for: limits are such that none came in "
                    "these weeks, which cannot promise fewer than {:.2g} a year.",
                    asked, least_rate));
  notes.emplace_back("Limits stand one step further out than these weeks needed.");
  if (!own.has_sensor())
    notes.emplace_back("The controller goes by no sensor: it has no reading that could raise an alarm.");
  return notes;
}

GroupAlarms group_alarms(const Study& study, int group) {
  const GroupStudy own = group_study(study, group);
  GroupAlarms made;
  made.group = own.settings().id;
  made.alarms = alarms_of(own);
  const CutOut cut = cut_out(own.job(), study.lab.plan(), group, own.ordinary());
  made.cutout_c = cut.limit_c;
  made.cutout_because = cut.because;
  made.planted = planted_in(own, made.alarms);
  made.simulated_weeks = study.year.weeks;
  made.notes = notes_of(own);
  return made;
}

}  // namespace

std::vector<GroupAlarms> set_alarms(const job::Job& job, const plan::Plan& plan, const Timetable& timetable,
                                    const ProofOptions& options, int weeks) {
  const Lab lab(job, plan, timetable, options);
  const Planting planting{fault_begins_s(lab, timetable, options.seed), job.week.catch_within_s, 1,
                          options.seed, options.threads};
  forecast::SharedProgress progress(options.progress,
                                    static_cast<std::size_t>(weeks) + planting_tasks(lab, planting));
  const OrdinaryYear year = live_ordinary(lab, options, weeks, progress);
  if (progress.stopped()) return {};
  const auto courses = plant_faults(lab, planting, progress, static_cast<std::size_t>(weeks));
  if (progress.stopped()) return {};
  std::vector<GroupAlarms> all;
  for (std::size_t g = 0; g < job.groups.size(); ++g)
    all.push_back(group_alarms({lab, timetable, year, courses}, static_cast<int>(g)));
  return all;
}

}  // namespace firstdraw::settings
