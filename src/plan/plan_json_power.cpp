#include "plan/plan_json_power.hpp"

#include "plan/json_number.hpp"
#include "plan/plan_json_ids.hpp"

namespace firstdraw::plan {
namespace {

using Json = nlohmann::json;

Json number(double value) { return json_number(value); }
/// 0 stands for "not given".
Json if_given(double value) { return value > 0 ? number(value) : Json(nullptr); }

Json numbers(const std::vector<double>& values) {
  Json list = Json::array();
  for (const double value : values) list.push_back(number(value));
  return list;
}

Json wiring_json(const power::BranchWiring& wiring) {
  return {{"one_way_m", number(wiring.one_way_m)},
          {"conductor", wiring.conductor},
          {"earth", wiring.earth},
          {"conductor_before_drop", wiring.conductor_before_drop},
          {"ampacity_a", if_given(wiring.ampacity_a)},
          {"loop_ohm_per_m", if_given(wiring.loop_ohm_per_m)},
          {"conduit_kind", wiring.conduit_kind},
          {"conduit", wiring.conduit},
          {"conduit_metric", wiring.conduit_metric},
          {"fill_frac", if_given(wiring.fill_frac)},
          {"circuits_in_conduit", wiring.circuits_in_conduit},
          {"trouble", wiring.trouble}};
}

Json course_json(const std::vector<rules::LoadPoint>& course) {
  Json time_s = Json::array(), current_a = Json::array();
  for (const rules::LoadPoint& point : course) {
    time_s.push_back(number(point.time_s));
    current_a.push_back(number(point.current_a));
  }
  return {{"time_s", std::move(time_s)}, {"current_a", std::move(current_a)}};
}

const char* verdict_id(rules::TripVerdict verdict) {
  switch (verdict) {
    case rules::TripVerdict::held:
      return "held";
    case rules::TripVerdict::not_assured:
      return "not-assured";
    case rules::TripVerdict::must_trip:
      break;
  }
  return "must-trip";
}

Json point_json(const std::optional<rules::TripPoint>& point) {
  if (!point) return nullptr;
  return {{"multiple", number(point->multiple)},
          {"promise", point->promise == rules::TripPromise::hold ? "hold" : "trip"},
          {"time_s", number(point->time_s)},
          {"after_multiple", number(point->after_multiple)},
          {"after_s", number(point->after_s)},
          {"citation", citation_json(point->citation)}};
}

Json start_json(const power::StartVerdict& start) {
  if (start.course.empty()) return nullptr;
  return {{"verdict", verdict_id(start.check.verdict)},
          {"held_s", number(start.check.held_s)},
          {"trips_by_s", number(start.check.trips_by_s)},
          {"worst_multiple", number(start.check.worst_multiple)},
          {"decided_by", point_json(start.check.point)},
          {"decides", start.decides},
          {"modelled", start.modelled},
          {"model_off_frac", number(start.model_off_frac)},
          {"inrush_over_s", number(start.inrush_over_s)},
          {"delay_s", number(start.delay_s)},
          {"course", course_json(start.course)}};
}

/// What the ladder found; nothing where it found no steady state.
Json local_json(const Plan& plan, const power::Circuit& circuit) {
  if (!circuit.steady) return nullptr;
  return {{"feed_v", number(circuit.feed_v)},
          {"far_v", number(circuit.far_v)},
          {"far_node", node_of(plan, circuit.far_node)},
          {"end_v", numbers(circuit.end_v)},
          {"run_voltage_frac", numbers(circuit.voltage_frac)}};
}

Json supply_json(const power::PanelSupply& supply) {
  if (supply.conductor.empty() && supply.trouble.empty()) return nullptr;
  return {{"conductor", supply.conductor},         {"earth", supply.earth},
          {"drop_frac", number(supply.drop_frac)}, {"total_drop_frac", number(supply.total_drop_frac)},
          {"within_advice", supply.within_advice}, {"trouble", supply.trouble}};
}

Json sequence_json(const power::PanelLoad& panel) {
  return {{"together_peak_a", number(panel.together_peak_a)},
          {"peak_a", number(panel.peak_a)},
          {"start_limit_a", if_given(panel.start_limit_a)},
          {"within_limit", panel.within_limit},
          {"proven", panel.proven},
          {"bound_a", number(panel.bound_a)},
          {"piece_s", number(panel.piece_s)},
          {"line_a", numbers(panel.line_a)}};
}

}  // namespace

Json citation_json(const rules::Citation& citation) {
  return {{"document", citation.document},
          {"edition", citation.edition},
          {"clause", citation.clause},
          {"basis", citation.basis}};
}

Json circuit_json(const job::Job& job, const Plan& plan, const power::Circuit& circuit) {
  const auto if_steady = [&](double value) { return circuit.steady ? number(value) : Json(nullptr); };
  return {{"id", circuit.id},
          {"group", id_of(job.groups, circuit.group)},
          {"panel", id_of(job.panels, circuit.panel)},
          {"cable", id_of(job.cables, circuit.cable)},
          {"runs", ids_of(job.runs, circuit.runs)},
          {"feed_node", node_of(plan, circuit.feed_node)},
          {"tee_nodes", nodes_of(plan, circuit.tee_nodes)},
          {"end_nodes", nodes_of(plan, circuit.end_nodes)},
          {"fixed", circuit.fixed},
          {"cable_length_m", number(circuit.cable_length_m)},
          {"max_length_m", number(circuit.max_length_m)},
          {"length_listed", circuit.length_listed},
          {"breaker_a", number(circuit.breaker_a)},
          {"poles", circuit.poles},
          {"phase", circuit.phase},
          {"places", circuit.places},
          {"ground_fault", circuit.ground_fault},
          {"ground_fault_trip_a", number(circuit.ground_fault_trip_a)},
          {"working_a", if_steady(circuit.working_a)},
          {"working_w", if_steady(circuit.working_w)},
          {"settled_a", number(circuit.settled_a)},
          {"peak_a", number(circuit.peak_a)},
          {"leakage_a", number(circuit.leakage_a)},
          {"far_drop_frac", if_steady(circuit.far_drop_frac)},
          {"feeder_drop_frac", if_steady(circuit.feeder_drop_frac)},
          {"steady", circuit.steady},
          {"local", local_json(plan, circuit)},
          {"wiring", wiring_json(circuit.wiring)},
          {"start", start_json(circuit.start)},
          {"over_length", circuit.over_length},
          {"over_load", circuit.over_load}};
}

Json panel_json(const job::Job& job, const Plan& plan, const power::PanelLoad& panel) {
  return {{"id", id_of(job.panels, panel.panel)},
          {"circuits", ids_of(plan.circuits, panel.circuits)},
          {"poles", panel.poles},
          {"working_a", number(panel.working_a)},
          {"settled_a", number(panel.settled_a)},
          {"phase_a", numbers(panel.phase_a)},
          {"working_w", number(panel.working_w)},
          {"settled_w", number(panel.settled_w)},
          {"least_main_a", number(panel.least_main_a)},
          {"supply", supply_json(panel.supply)},
          {"starts", sequence_json(panel)}};
}

Json switching_json(const job::Job& job, const Plan& plan, const power::Switching& switching) {
  return {{"group", id_of(job.groups, switching.group)},
          {"panel", id_of(job.panels, switching.panel)},
          {"circuits", ids_of(plan.circuits, switching.circuits)},
          {"contactor", switching.contactor},
          {"poles", switching.poles},
          {"pole_a", number(switching.pole_a)},
          {"contacts_a", if_given(switching.contacts_a)}};
}

Json division_json(const power::Division& division) {
  return {{"cost", number(division.cost)},
          {"change_cost", number(division.change_cost)},
          {"lower_bound", number(division.lower_bound)},
          {"exact", division.exact},
          {"conflicts", division.conflicts}};
}

Json load_json(const LoadLine& line) {
  return {{"panel", line.panel},       {"circuit", line.circuit.empty() ? Json(nullptr) : Json(line.circuit)},
          {"quantity", line.quantity}, {"value", line.value},
          {"how", line.how},           {"citation", citation_json(line.citation)}};
}

}  // namespace firstdraw::plan
