#include "settings/week_json_parts.hpp"

#include "plan/json_number.hpp"

namespace firstdraw::settings {
namespace {

using Json = nlohmann::json;
using plan::json_number;

Json why_not_json(const DemandPrice& price) {
  return {{"demand", price.demand},
          {"eased", price.eased},
          {"saving_per_year", json_number(price.saving_per_year)},
          {"uncertain_per_year", json_number(price.uncertain_per_year)}};
}

Json frontier_json(const FrontierPoint& point, const char* asked) {
  return {{asked, json_number(point.asked)},
          {"possible", point.possible},
          {"cost_per_year", point.possible ? json_number(point.cost_per_year) : Json(nullptr)},
          {"bound_per_year", point.possible ? json_number(point.bound_per_year) : Json(nullptr)},
          {"chosen", point.chosen}};
}

Json sensor_json(const SensorChoice& choice) {
  return {{"group", choice.group},
          {"run", choice.run},
          {"present", choice.present},
          {"set_point_c", json_number(choice.set_point_c)},
          {"cost_per_year", json_number(choice.cost_per_year)},
          {"coldest_c", json_number(choice.coldest_c)},
          {"longest_below_s", json_number(choice.longest_below_s)},
          {"keeps", choice.keeps},
          {"best", choice.best}};
}

Json insulation_json(const InsulationChange& change) {
  return {{"group", change.group},
          {"run_class", change.run_class},
          {"runs", change.runs},
          {"pipe_length_m", json_number(change.pipe_length_m)},
          {"from", change.from},
          {"to", change.to},
          {"first_cost", json_number(change.first_cost)},
          {"saving_per_year", json_number(change.saving_per_year)},
          {"pays_back_years", json_number(change.pays_back_years)},
          {"worth", json_number(change.worth)}};
}

const char* name_of(Alarm::Kind kind) {
  switch (kind) {
    case Alarm::Kind::low_temperature:
      return "low-temperature";
    case Alarm::Kind::high_temperature:
      return "high-temperature";
    case Alarm::Kind::low_current:
      return "low-current";
  }
  return "";
}

/// The unit is in the key: degC, K from the set-point in force, or A.
Json alarm_json(const Alarm& alarm) {
  Json json{{"kind", name_of(alarm.kind)},
            {"follows_set_point", alarm.follows_set_point},
            {"delay_s", json_number(alarm.delay_s)},
            {"false_per_year", json_number(alarm.events_per_year)}};
  for (const char* key :
       {"limit_c", "limit_k", "limit_a", "worst_ordinary_c", "worst_ordinary_k", "worst_ordinary_a"})
    json[key] = nullptr;
  const bool current = alarm.kind == Alarm::Kind::low_current;
  const std::string unit = current ? "a" : alarm.follows_set_point ? "k" : "c";
  json["limit_" + unit] = json_number(alarm.limit);
  json["worst_ordinary_" + unit] = json_number(alarm.worst_ordinary);
  return json;
}

Json planted_json(const Planted& planted) {
  return {{"fault", planted.fault},
          {"simulated_as", planted.text},
          {"caught_by", planted.caught_by ? Json(name_of(*planted.caught_by)) : Json(nullptr)},
          {"after_s", json_number(planted.after_s)},
          {"in_time", planted.in_time},
          {"otherwise", planted.otherwise}};
}

Json alarms_json(const GroupAlarms& group) {
  return {{"group", group.group},
          {"alarms", list_of(group.alarms, alarm_json)},
          {"cutout_c", json_number(group.cutout_c)},
          {"cutout_because", group.cutout_because},
          {"planted", list_of(group.planted, planted_json)},
          {"simulated_weeks", json_number(group.simulated_weeks)},
          {"notes", group.notes}};
}

Json after_json(const ReadingAfter& after) {
  return {{"after_s", json_number(after.after_s)},
          {"low_c", json_number(after.low_c)},
          {"usual_c", json_number(after.usual_c)},
          {"high_c", json_number(after.high_c)},
          {"duty_frac", json_number(after.duty_frac)}};
}

Json circuit_json(const CircuitAfter& circuit) {
  return {{"circuit", circuit.circuit},
          {"low_a", list_of(circuit.low_a, json_number)},
          {"usual_a", list_of(circuit.usual_a, json_number)},
          {"high_a", list_of(circuit.high_a, json_number)}};
}

Json readings_json(const GroupReadings& group) {
  return {{"group", group.group},
          {"start_c", json_number(group.start_c)},
          {"begin_s", json_number(group.begin_s)},
          {"after", list_of(group.after, after_json)},
          {"circuits", list_of(group.circuits, circuit_json)}};
}

Json wrong_json(const WrongSetting& wrong) {
  return {{"group", wrong.group},
          {"what", wrong.what},
          {"simulated_as", wrong.fault},
          {"energy_kwh_per_week", json_number(wrong.kwh_per_week)},
          {"energy_change_frac", json_number(wrong.kwh_change_frac)},
          {"mean_reading_c", json_number(wrong.mean_reading_c)},
          {"reading_change_k", json_number(wrong.reading_change_k)},
          {"coldest_run_c", json_number(wrong.coldest_run_c)},
          {"coldest_change_k", json_number(wrong.coldest_change_k)},
          {"band_h_per_day", json_number(wrong.band_h_per_day)},
          {"hot_in_10_s_frac", json_number(wrong.hot_in_10_s_frac)},
          {"hot_change_frac", json_number(wrong.hot_change_frac)},
          {"current_change_frac", json_number(wrong.current_change_frac)},
          {"seen", wrong.seen},
          {"harm", wrong.harm}};
}

}  // namespace

void add_parts(nlohmann::json& json, const WeekAnswer& week) {
  json["why_not"] = list_of(week.why_not, why_not_json);
  json["comfort_curve"] = list_of(
      week.comfort_curve, [](const FrontierPoint& point) { return frontier_json(point, "of_targets_frac"); });
  json["band_curve"] = list_of(
      week.band_curve, [](const FrontierPoint& point) { return frontier_json(point, "longest_in_band_h"); });
  json["sensors"] = list_of(week.sensors, sensor_json);
  json["insulation"] = list_of(week.insulation, insulation_json);
  json["alarms"] = list_of(week.alarms, alarms_json);
  json["readings"] = list_of(week.readings, readings_json);
  json["wrong_settings"] = list_of(week.wrong, wrong_json);
}

}  // namespace firstdraw::settings
