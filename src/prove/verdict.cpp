#include "prove/verdict.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "prove/bench.hpp"

namespace firstdraw::prove {
namespace {

using Judge = void (*)(const Bench&, const Reading&, Verdict&);

Judge judge_of(What what) {
  switch (what) {
    case What::insulation_resistance:
      return judge_insulation;
    case What::supply_insulation:
      return judge_supply_insulation;
    case What::loop_resistance:
      return judge_loop;
    case What::open_resistance:
      return judge_open;
    case What::continuity:
      return judge_continuity;
    case What::earth_resistance:
      return judge_earth;
    case What::capacitance:
      return judge_capacitance;
    case What::trip_current:
      return judge_trip_current;
    case What::trip_time:
      return judge_trip_time;
    case What::trip_button:
      return judge_trip_button;
    case What::leakage_current:
      return judge_leakage;
    case What::sensor_resistance:
      return judge_sensor;
    case What::supply_voltage:
      return judge_supply_voltage;
    case What::far_voltage:
      return judge_far_voltage;
    case What::current:
      return judge_current;
    case What::pipe_temperature:
      return judge_pipe_temperature;
    case What::air_temperature:
      return judge_air_temperature;
    case What::sensor_reading:
      return judge_sensor_reading;
    case What::duty:
      return judge_duty;
    case What::set_point:
      return judge_set_point;
    case What::entered_ambient:
      return judge_entered_ambient;
    case What::tap_temperature:
      return judge_tap;
    case What::surface_temperature:
      return judge_surface;
    case What::sensor_position:
      return judge_sensor_position;
    case What::insulation_seen:
    case What::insulation_walked:
      return judge_insulation_seen;
    case What::cable_marking:
      return judge_marking;
    case What::contactor:
      return judge_contactor;
    case What::breaker:
      return judge_breaker;
  }
  throw std::logic_error("no judge for a kind of reading");
}

bool has_place(const Bench& bench, const Reading& reading) {
  const std::string_view place = help_of(reading.what).place;
  if (place == "circuit") return bench.circuit(reading.circuit) != nullptr;
  if (place == "group") return bench.group(reading.group) != nullptr;
  if (place == "run") return bench.run_index(reading.run) != piping::none;
  for (const job::Outlet& outlet : bench.job().outlets)
    if (outlet.id == reading.run) return true;
  return false;
}

/// A record of an earlier plan may name what this one does not have.
void judge_elsewhere(const Reading& reading, Verdict& verdict) {
  const std::string_view place = help_of(reading.what).place;
  const std::string& id = place == "circuit" ? reading.circuit
                          : place == "group" ? reading.group
                                             : reading.run;
  verdict.grade = Grade::doubt;
  verdict.said = fmt::format("The plan has no {} \"{}\": nothing to judge by.", place, id);
  verdict.suspect = "The reading belongs to an earlier plan, or its place was written wrongly.";
  verdict.to_do = "Record it again with the name that the plan uses now.";
}

Verdict judge_one(const Bench& bench, std::size_t index) {
  const Reading& reading = bench.readings()[index];
  Verdict verdict;
  verdict.reading = index;
  if (!has_place(bench, reading)) {
    judge_elsewhere(reading, verdict);
    return verdict;
  }
  judge_of(reading.what)(bench, reading, verdict);
  count_instrument(bench, reading, verdict);
  return verdict;
}

}  // namespace

std::string_view name_of(Grade grade) {
  return grade == Grade::pass ? "pass" : grade == Grade::doubt ? "doubt" : "fail";
}

std::vector<Verdict> judge(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings) {
  const Bench bench(job, plan, readings);
  std::vector<Verdict> verdicts;
  verdicts.reserve(readings.size());
  for (std::size_t each = 0; each < readings.size(); ++each) verdicts.push_back(judge_one(bench, each));
  return verdicts;
}

}  // namespace firstdraw::prove
