// The plan as JSON: schemas/plan.schema.json. Keys carry units; what is not known or not finite is null;
// numbers have nine significant digits, so that the text does not change with the last bit of a computation.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "plan/json_number.hpp"
#include "plan/plan.hpp"

namespace firstdraw::plan {
namespace {

using Json = nlohmann::json;

using piping::at;

Json number(double value) { return json_number(value); }

/// Id of the item, null for none.
template <class Items>
Json id_of(const Items& items, int i) {
  return i == piping::none ? Json(nullptr) : Json(items[at(i)].id);
}

template <class Items>
Json ids_of(const Items& items, const std::vector<int>& indices) {
  Json list = Json::array();
  for (const int i : indices) list.push_back(id_of(items, i));
  return list;
}

Json node_of(const Plan& plan, int node) {
  return node == piping::none ? Json(nullptr) : Json(plan.network.node_ids[at(node)]);
}

Json nodes_of(const Plan& plan, const std::vector<int>& nodes) {
  Json list = Json::array();
  for (const int node : nodes) list.push_back(node_of(plan, node));
  return list;
}

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
          {"energy_kwh_per_day", number(held.energy_kwh_per_day)}};
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

Json circuit_json(const job::Job& job, const Plan& plan, const power::Circuit& circuit) {
  return {{"id", circuit.id},
          {"group", id_of(job.groups, circuit.group)},
          {"panel", id_of(job.panels, circuit.panel)},
          {"cable", id_of(job.cables, circuit.cable)},
          {"runs", ids_of(job.runs, circuit.runs)},
          {"feed_node", node_of(plan, circuit.feed_node)},
          {"tee_nodes", nodes_of(plan, circuit.tee_nodes)},
          {"end_nodes", nodes_of(plan, circuit.end_nodes)},
          {"cable_length_m", number(circuit.cable_length_m)},
          {"max_length_m", number(circuit.max_length_m)},
          {"length_listed", circuit.length_listed},
          {"breaker_a", number(circuit.breaker_a)},
          {"poles", circuit.poles},
          {"phase", circuit.phase},
          {"ground_fault", circuit.ground_fault},
          {"ground_fault_trip_a", number(circuit.ground_fault_trip_a)},
          {"working_a", number(circuit.working_a)},
          {"settled_a", number(circuit.settled_a)},
          {"peak_a", number(circuit.peak_a)},
          {"leakage_a", number(circuit.leakage_a)},
          {"far_drop_frac", number(circuit.far_drop_frac)},
          {"feeder_drop_frac", number(circuit.feeder_drop_frac)},
          {"conductor", circuit.wiring.conductor},
          {"earth", circuit.wiring.earth},
          {"over_length", circuit.over_length},
          {"over_load", circuit.over_load}};
}

Json panel_json(const job::Job& job, const Plan& plan, const power::PanelLoad& panel) {
  Json phases = Json::array();
  for (const double a : panel.phase_a) phases.push_back(number(a));
  return {{"id", id_of(job.panels, panel.panel)},
          {"circuits", ids_of(plan.circuits, panel.circuits)},
          {"poles", panel.poles},
          {"working_a", number(panel.working_a)},
          {"settled_a", number(panel.settled_a)},
          {"phase_a", std::move(phases)},
          {"working_w", number(panel.working_w)},
          {"settled_w", number(panel.settled_w)}};
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

Json source_json(const rules::Citation& citation) {
  return {{"document", citation.document},
          {"edition", citation.edition},
          {"clause", citation.clause},
          {"basis", citation.basis}};
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
  json["choices"] = list_of(plan.choices, choice_json);
  json["settings"] = list_of(plan.settings, setting_json);
  json["materials"] = list_of(plan.materials, material_json);
  json["findings"] = to_json(plan.findings);
  json["assumptions"] = list_of(plan.assumptions, assumption_json);
  json["sources"] = list_of(plan.sources, source_json);
  json["totals"] = totals_json(plan.totals);
  json["uncertainty"] = {{"samples", plan.options.samples}, {"seed", plan.options.seed}};
  return json;
}

}  // namespace firstdraw::plan
