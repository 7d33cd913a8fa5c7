// A week as JSON: schemas/week.schema.json.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "draw/demand.hpp"
#include "plan/json_number.hpp"
#include "plan/plan.hpp"
#include "plan/plan_json_power.hpp"
#include "settings/kept.hpp"
#include "settings/settings.hpp"
#include "settings/week_json_parts.hpp"
#include "units/clock.hpp"

namespace firstdraw::settings {
namespace {

using Json = nlohmann::json;
using plan::json_number;

Json number_or_null(const CostOfYear* cost, double CostOfYear::* part) {
  return cost == nullptr ? Json(nullptr) : json_number(cost->*part);
}

Json total_or_null(const CostOfYear* cost) {
  return cost == nullptr ? Json(nullptr) : json_number(cost->total);
}

Json days_json(std::uint8_t weekdays) {
  static constexpr std::array names{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  Json days = Json::array();
  for (std::size_t day = 0; day < names.size(); ++day)
    if ((weekdays >> day & 1U) != 0) days.push_back(names[day]);
  return days;
}

Json timetable_json(const Timetable& timetable) {
  return list_of(timetable.groups, [](const GroupTimetable& group) -> Json {
    return {{"group", group.group},
            {"entries", list_of(group.entries, [](const Entry& entry) -> Json {
               return {{"days", days_json(entry.weekdays)},
                       {"from", units::time_of_day_text(entry.begin_s)},
                       {"hold_c", entry.hold_c ? json_number(*entry.hold_c) : Json(nullptr)}};
             })}};
  });
}

Json season_json(const SeasonAnswer& season) {
  const CheapestWeek& cheapest = season.cheapest;
  return {{"name", season.season.name},
          {"from", fmt::format("{:02}-{:02}", season.season.from_month, season.season.from_day)},
          {"days", json_number(season.season.days)},
          {"possible", cheapest.plan.possible},
          {"settled", cheapest.settled},
          {"raised_k", json_number(cheapest.raised_k)},
          {"proof_rounds", season.proof_rounds},
          {"groups", timetable_json(season.timetable)}};
}

/// One list of all seasons' proofs, each item with its season.
template <class Items>
Json over_seasons(const WeekAnswer& week, Items items, auto make) {
  Json list = Json::array();
  for (const SeasonAnswer& season : week.seasons)
    for (const auto& item : season.proof.*items) {
      Json made = make(item);
      made["season"] = season.season.name;
      list.push_back(std::move(made));
    }
  return list;
}

Json comfort_json(const ComfortAnswer& answer) {
  return {{"fixture", answer.fixture},
          {"asked_frac", json_number(answer.asked_frac)},
          {"within_s", json_number(answer.within_s)},
          {"reached_frac", json_number(answer.reached_frac)},
          {"members_frac", json_number(answer.members_frac)},
          {"draws_per_day", json_number(answer.draws_per_day)},
          {"kept", kept_json(kept(answer))}};
}

Json run_json(const job::Job& job, const RunProof& run) {
  return {{"run", job.runs.at(draw::at(run.run)).id},
          {"lowest_c", json_number(run.lowest_c)},
          {"longest_below_s", json_number(run.longest_below_s)},
          {"longest_in_band_s", json_number(run.longest_in_band_s)},
          {"members_held_frac", json_number(run.members_held_frac)},
          {"log_reduction_per_week", json_number(run.log_reduction_per_week)},
          {"kept", kept(job, run)}};
}

Json scald_json(const TapScald& tap) {
  return {{"tap", tap.tap},
          {"hottest_c", json_number(tap.hottest_c)},
          {"limit_c", json_number(tap.limit_c)},
          {"valve", tap.valve},
          {"second_degree_s", json_number(tap.second_degree_s)},
          {"kept", kept_json(kept(tap))}};
}

Json group_json(const GroupProof& group) {
  return {{"group", group.group},
          {"energy_kwh_per_week", json_number(group.kwh_per_week)},
          {"on_frac", json_number(group.on_frac)},
          {"switchings_per_day", json_number(group.switchings_per_day)},
          {"lowest_reading_c", json_number(group.lowest_reading_c)},
          {"highest_reading_c", json_number(group.highest_reading_c)}};
}

Json cost_json(const CostOfYear& cost) {
  return {{"id", cost.id},
          {"name", cost.name},
          {"cost_per_year", json_number(cost.total)},
          {"energy_cost_per_year", json_number(cost.energy)},
          {"demand_cost_per_year", json_number(cost.demand)},
          {"energy_kwh_per_year", json_number(cost.kwh)},
          {"runs_kept_frac", json_number(cost.runs_kept_frac)},
          {"basis", cost.basis}};
}

void add_costs(Json& json, const WeekAnswer& week) {
  const CostOfYear* cost = week.cost("week");
  const CostOfYear* on = week.cost("always-on");
  json["cost_per_year"] = total_or_null(cost);
  json["cost_per_year_always_on"] = total_or_null(on);
  json["cost_per_year_return"] = total_or_null(week.cost("return"));
  json["cost_per_year_as_described"] = total_or_null(week.cost("as-described"));
  json["energy_kwh_per_year"] = number_or_null(cost, &CostOfYear::kwh);
  json["energy_kwh_per_year_always_on"] = number_or_null(on, &CostOfYear::kwh);
  json["demand_cost_per_year"] = number_or_null(cost, &CostOfYear::demand);
  const bool both = cost != nullptr && on != nullptr && on->total > 0;
  json["saving_frac"] = both ? json_number(1 - cost->total / on->total) : Json(nullptr);
  json["costs"] = list_of(week.costs, cost_json);
}

/// Without a week there is neither.
void add_model(Json& json, const WeekAnswer& week) {
  const double cost = week.model_cost_per_year, bound = week.bound_per_year;
  const bool known = cost > 0;
  json["model_cost_per_year"] = known ? json_number(cost) : Json(nullptr);
  json["bound_per_year"] = known ? json_number(bound) : Json(nullptr);
  json["gap_frac"] = known ? json_number((cost - bound) / cost) : Json(nullptr);
}

void add_proof(Json& json, const job::Job& job, const WeekAnswer& week) {
  json["seasons"] = list_of(week.seasons, season_json);
  json["demands"] = week.demands;
  json["comfort"] = over_seasons(week, &Proof::comfort, comfort_json);
  json["hygiene"] = over_seasons(week, &Proof::runs, [&](const RunProof& run) { return run_json(job, run); });
  json["scald"] = over_seasons(week, &Proof::scald, scald_json);
  json["groups"] = over_seasons(week, &Proof::groups, group_json);
}

}  // namespace

nlohmann::json to_json(const job::Job& job, const WeekAnswer& week) {
  Json json{{"site", {{"name", job.site.name}}},
            {"currency", job.economics.currency},
            {"zone", job.tariff.zone},
            {"year", week.inputs.year},
            {"confidence_frac", json_number(job.week.confidence_frac)},
            {"members", week.seasons.empty() ? 0 : week.seasons.front().proof.forecast.members},
            {"unmet", week.unmet},
            {"stopped", week.stopped}};
  add_costs(json, week);
  add_model(json, week);
  add_proof(json, job, week);
  add_parts(json, week);
  json["findings"] = plan::to_json(week.findings);
  json["assumptions"] = list_of(week.assumptions, [](const job::Assumption& assumption) -> Json {
    return {{"field", assumption.field}, {"value", assumption.value}, {"why", assumption.why}};
  });
  json["sources"] = list_of(week.sources, plan::citation_json);
  return json;
}

}  // namespace firstdraw::settings
