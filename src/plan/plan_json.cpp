// The plan as JSON: schemas/plan.schema.json. Keys carry units; what is not known or not finite is null;
// numbers have nine significant digits, so that the text does not change with the last bit of a computation.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "plan/json_number.hpp"
#include "plan/plan.hpp"
#include "plan/plan_json_ids.hpp"
#include "plan/plan_json_power.hpp"

namespace firstdraw::plan {
namespace {

using Json = nlohmann::json;

Json number(double value) { return json_number(value); }

Json quantiles_json(const hold::Quantiles& water_c) {
  return {{"p5_c", number(water_c.p5)}, {"p50_c", number(water_c.p50)}, {"p95_c", number(water_c.p95)}};
}

Json insulation_json(const job::Run& run, const RunPlan& plan) {
  const physics::InsulationSize& size = plan.insulation;
  return {{"material", run.insulation},
          {"made_for", size.made_for},
          {"thickness_m", number(size.nominal_thickness_m)},
          {"bore_m", number(size.bore_m)},
          {"outer_diameter_m", number(size.outer_diameter_m)},
          {"chosen_by_plan", plan.thickness_chosen}};
}

Json pipe_json(const physics::Pipe& pipe) {
  return {{"material", pipe.material},
          {"type", pipe.type},
          {"size", pipe.size},
          {"outer_diameter_m", number(pipe.outer_diameter_m)},
          {"inner_diameter_m", number(pipe.inner_diameter_m())}};
}

Json run_json(const job::Job& job, const Plan& plan, std::size_t i) {
  const job::Run& run = job.runs[i];
  const RunPlan& held = plan.runs[i];
  const auto traced = [&](const Json& value) { return held.cable == piping::none ? Json(nullptr) : value; };
  return {{"id", run.id},
          {"from", run.from},
          {"to", run.to},
          {"level", run.level},
          {"space", run.space},
          {"group", run.group.empty() ? Json(nullptr) : Json(run.group)},
          {"traced", run.traced},
          {"run_class", held.run_class},
          {"pipe", pipe_json(run.pipe)},
          {"insulation", insulation_json(run, held)},
          {"cable", id_of(job.cables, held.cable)},
          {"cable_chosen_by_plan", held.cable_chosen},
          {"passes", held.passes},
          {"circuit", id_of(plan.circuits, held.circuit)},
          {"length_m", number(run.length_m)},
          {"loss_length_m", number(held.loss_length_m)},
          {"cable_length_m", number(held.cable_length_m)},
          {"loss_w_per_m", number(held.loss_w_per_m)},
          {"output_w_per_m", number(held.output_w_per_m)},
          {"spare_frac", number(held.spare_frac)},
          {"derating_frac", number(held.derating_frac)},
          {"at_maintain_c", number(held.at_maintain_c)},
          {"at_setback_c", number(held.at_setback_c)},
          {"worst_cold_c", number(held.worst_cold_c)},
          {"worst_hot_c", number(held.worst_hot_c)},
          {"stuck_on_c", number(held.stuck_on_c)},
          {"open_loop_c", number(held.open_loop_c)},
          {"open_loop_error_k_per_k", number(held.open_loop_error_k_per_k)},
          {"water", quantiles_json(held.water_c)},
          {"holds_prob", number(held.holds_prob)},
          {"first_to_fail_prob", number(held.first_to_fail_prob)},
          {"warm_up_s", number(held.warm_up_s)},
          {"energy_kwh_per_day", number(held.energy_kwh_per_day)},
          {"voltage_frac", traced(number(held.voltage_frac))},
          {"worst_voltage_frac", traced(number(held.worst_voltage_frac))}};
}

Json group_json(const job::Job& job, const Plan& plan, std::size_t g) {
  const job::ControlGroup& group = job.groups[g];
  const GroupPlan& held = plan.groups[g];
  return {{"id", group.id},
          {"panel", group.panel},
          {"control", group.kind == job::ControlKind::pipe_sensor ? "pipe-sensor" : "entered-ambient"},
          {"sensor_run", group.sensor_run.empty() ? Json(nullptr) : Json(group.sensor_run)},
          {"best_sensor_run", held.best_sensor_run.empty() ? Json(nullptr) : Json(held.best_sensor_run)},
          {"maintain_c", number(group.maintain_c)},
          {"setback_c", number(group.setback_c)},
          {"duty", number(held.duty)},
          {"setback_duty", number(held.setback_duty)},
          {"worst_duty", number(held.worst_duty)},
          {"power_w", number(held.power_w)},
          {"coldest_run", id_of(job.runs, held.coldest_run)},
          {"hottest_run", id_of(job.runs, held.hottest_run)},
          {"sensor_offset_k", number(held.sensor_offset_k)},
          {"holds_prob", number(held.holds_prob)},
          {"energy_kwh_per_day", number(held.energy_kwh_per_day)},
          {"energy_kwh_per_year", number(held.energy_kwh_per_year)},
          {"cost_per_year", number(held.cost_per_year)},
          {"heat_up_s", number(held.heat_up_s)}};
}

Json choice_json(const Choice& choice) {
  Json rejected = Json::array();
  for (const Choice::Rejected& other : choice.rejected)
    rejected.push_back(
        {{"option", other.option}, {"why", other.why}, {"lifetime_cost", number(other.lifetime_cost)}});
  return {{"run_class", choice.run_class},
          {"description", choice.description},
          {"runs", choice.runs},
          {"pipe_length_m", number(choice.pipe_length_m)},
          {"chosen", choice.chosen},
          {"lifetime_cost", number(choice.lifetime_cost)},
          {"rejected", std::move(rejected)}};
}

Json setting_json(const Setting& setting) {
  return {{"group", setting.group}, {"name", setting.name}, {"value", setting.value}, {"note", setting.note}};
}

Json material_json(const MaterialLine& line) {
  return {{"section", line.section}, {"item", line.item},
          {"detail", line.detail},   {"quantity", number(line.quantity)},
          {"unit", line.unit},       {"price", number(line.price)},
          {"basis", line.basis}};
}

Json assumption_json(const job::Assumption& assumption) {
  return {{"field", assumption.field}, {"value", assumption.value}, {"why", assumption.why}};
}

Json totals_json(const Totals& totals) {
  return {{"traced_m", number(totals.traced_m)},
          {"cable_m", number(totals.cable_m)},
          {"working_w", number(totals.working_w)},
          {"settled_w", number(totals.settled_w)},
          {"energy_kwh_per_day", number(totals.energy_kwh_per_day)},
          {"energy_kwh_per_year", number(totals.energy_kwh_per_year)},
          {"cost_per_year", number(totals.cost_per_year)},
          {"all_hold_prob", number(totals.all_hold_prob)},
          {"stops", totals.stops},
          {"fixes", totals.fixes},
          {"notes", totals.notes},
          {"accepted", totals.accepted}};
}

Json site_json(const job::Job& job) {
  return {{"name", job.site.name},
          {"project_number", job.site.project_number},
          {"revision", job.site.revision},
          {"date", job.site.date},
          {"rules", job.requirements.rules == rules::RuleSet::us ? "us" : "intl"},
          {"currency", job.economics.currency}};
}

template <class Items, class ToJson>
Json list_of(const Items& items, const ToJson& to_json_item) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(to_json_item(item));
  return list;
}

template <class ToJson>
Json list_by_index(std::size_t size, const ToJson& to_json_at) {
  Json list = Json::array();
  for (std::size_t i = 0; i < size; ++i) list.push_back(to_json_at(i));
  return list;
}

}  // namespace

nlohmann::json to_json(const job::Job& job, const Plan& plan) {
  Json json;
  json["site"] = site_json(job);
  json["runs"] = list_by_index(job.runs.size(), [&](std::size_t i) { return run_json(job, plan, i); });
  json["groups"] = list_by_index(job.groups.size(), [&](std::size_t g) { return group_json(job, plan, g); });
  json["circuits"] =
      list_of(plan.circuits, [&](const auto& circuit) { return circuit_json(job, plan, circuit); });
  json["panels"] = list_of(plan.panels, [&](const auto& panel) { return panel_json(job, plan, panel); });
  json["switching"] =
      list_of(plan.switching, [&](const auto& switching) { return switching_json(job, plan, switching); });
  json["division"] = division_json(plan.division);
  json["load"] = list_of(plan.load, load_json);
  json["choices"] = list_of(plan.choices, choice_json);
  json["settings"] = list_of(plan.settings, setting_json);
  json["materials"] = list_of(plan.materials, material_json);
  json["findings"] = to_json(plan.findings);
  json["assumptions"] = list_of(plan.assumptions, assumption_json);
  json["sources"] = list_of(plan.sources, citation_json);
  json["totals"] = totals_json(plan.totals);
  json["uncertainty"] = {{"samples", plan.options.samples}, {"seed", plan.options.seed}};
  return json;
}

}  // namespace firstdraw::plan
