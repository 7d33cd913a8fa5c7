#include "serve/view_json.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <ranges>
#include <unordered_map>

#include "draw/demand.hpp"
#include "paper/drawing.hpp"
#include "paper/naming.hpp"
#include "plan/finding_catalogue.hpp"
#include "plan/json_number.hpp"

namespace firstdraw::serve {
namespace {

using piping::at;
using Counts = std::unordered_map<std::string, int>;

JsonText number(double value) { return plan::nine_digits(value); }
JsonText text_or_null(const std::string& text) { return text.empty() ? JsonText() : JsonText(text); }
/// Null for none.
template <class Items>
JsonText id_of(const Items& items, int i) {
  return i == piping::none ? JsonText() : JsonText(items[at(i)].id);
}
/// What must be a number is 0 where there is none.
JsonText sure(double value) { return std::isfinite(value) ? number(value) : JsonText(0.0); }

/// Open findings by the place they stand at.
Counts open_at(const plan::Plan& plan, plan::Finding::PlaceKind kind) {
  Counts counts;
  for (const plan::Finding& finding : plan.findings)
    if (finding.place_kind == kind && !finding.accepted) ++counts[finding.place];
  return counts;
}
int count_at(const Counts& counts, const std::string& place) {
  const auto found = counts.find(place);
  return found == counts.end() ? 0 : found->second;
}

template <class Items>
auto indices(const Items& items) {
  return std::views::iota(std::size_t{0}, items.size());
}

// Tenths of a millimetre are finer than any screen.
double tenth(double value_mm) { return std::round(10 * value_mm) / 10; }
JsonText point_json(const paper::Point& point) {
  return JsonText::list(std::array{tenth(point.x_mm), tenth(point.y_mm)});
}

JsonText drawing_json(const job::Job& job, const plan::Plan& plan) {
  const paper::RiserDrawing drawing = paper::draw_riser(job, plan.network);
  const auto level_json = [](const paper::DrawnLevel& level) -> JsonText {
    return {{"id", level.id},
            {"name", level.name},
            {"top_mm", tenth(level.top_mm)},
            {"bottom_mm", tenth(level.bottom_mm)}};
  };
  const auto run_line = [&](const paper::DrawnRun& run) -> JsonText {
    return {{"id", job.runs[at(run.run)].id}, {"line", JsonText::list(run.line, point_json)}};
  };
  const auto outlet_place = [&](const paper::DrawnOutlet& outlet) -> JsonText {
    return {{"id", job.outlets[at(outlet.outlet)].id}, {"at", point_json(outlet.at)}};
  };
  const auto is_drawn = [&](std::size_t n) {
    return std::isfinite(drawing.nodes[n].x_mm) && std::isfinite(drawing.nodes[n].y_mm);
  };
  const auto node_place = [&](std::size_t n) -> JsonText {
    return {{"id", plan.network.node_ids[n]}, {"at", point_json(drawing.nodes[n])}};
  };
  return {{"width_mm", tenth(drawing.width_mm)},
          {"height_mm", tenth(drawing.height_mm)},
          {"levels", JsonText::list(drawing.levels, level_json)},
          {"runs", JsonText::list(drawing.runs, run_line)},
          {"outlets", JsonText::list(drawing.outlets, outlet_place)},
          {"nodes", JsonText::list(indices(drawing.nodes) | std::views::filter(is_drawn), node_place)}};
}

std::string insulation_text(const job::Job& job, const job::Run& run, const plan::RunPlan& held) {
  return paper::insulation_name(run.insulation) + " " +
         units::show(held.insulation.nominal_thickness_m, units::Kind::size, job.units);
}

JsonText run_json(const job::Job& job, const plan::Plan& plan, std::size_t i, const Counts& findings) {
  const job::Run& run = job.runs[i];
  const plan::RunPlan& held = plan.runs[i];
  const bool heated = held.cable != piping::none;
  const auto of_heated = [&](double value) { return heated ? number(value) : JsonText(); };
  return {{"id", run.id},
          {"from", run.from},
          {"to", run.to},
          {"level", run.level},
          {"space", run.space},
          {"group", text_or_null(run.group)},
          {"circuit", id_of(plan.circuits, held.circuit)},
          {"traced", run.traced},
          {"pipe", paper::pipe_name(run.pipe)},
          {"insulation", insulation_text(job, run, held)},
          {"cable", id_of(job.cables, held.cable)},
          {"passes", held.passes},
          {"run_class", held.run_class},
          {"length_m", sure(run.length_m)},
          {"cable_length_m", sure(held.cable_length_m)},
          {"loss_w_per_m", number(held.loss_w_per_m)},
          {"output_w_per_m", of_heated(held.output_w_per_m)},
          {"spare_frac", of_heated(held.spare_frac)},
          {"at_maintain_c", number(held.at_maintain_c)},
          {"worst_cold_c", number(held.worst_cold_c)},
          {"worst_hot_c", number(held.worst_hot_c)},
          {"stuck_on_c", number(held.stuck_on_c)},
          {"holds_prob", plan.options.samples > 0 ? of_heated(held.holds_prob) : JsonText()},
          {"warm_up_s", of_heated(held.warm_up_s)},
          {"energy_kwh_per_day", of_heated(held.energy_kwh_per_day)},
          {"voltage_frac", of_heated(held.voltage_frac)},
          {"findings", count_at(findings, run.id)}};
}

/// Usual flow at a fixture, m3/s: of the job's own draws where it gives them, else as published.
double usual_flow_m3_per_s(const job::Job& job, const job::Outlet& outlet) {
  for (const job::FixtureUse& use : job.fixture_uses)
    if (use.fixture == outlet.fixture && use.profile == outlet.profile && use.flow_m3_per_s > 0)
      return use.flow_m3_per_s;
  for (const draw::DrawKind& kind : draw::published_kinds())
    if (kind.fixture == outlet.fixture) return kind.mean_flow_m3_per_s;
  return 0;
}

/// Water in the traced pipe at an outlet's node: of the run that ends there, else of one that begins there.
double hot_at_node_c(const job::Job& job, const plan::Plan& plan, const std::string& node) {
  double beginning_c = std::numeric_limits<double>::quiet_NaN();
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    if (plan.runs[i].cable == piping::none) continue;
    if (job.runs[i].to == node) return plan.runs[i].at_maintain_c;
    if (job.runs[i].from == node && std::isnan(beginning_c)) beginning_c = plan.runs[i].at_maintain_c;
  }
  return beginning_c;
}

JsonText outlet_json(const job::Job& job, const plan::Plan& plan, const job::Outlet& outlet,
                     const Counts& findings) {
  constexpr double litres_per_m3 = 1000;
  const double volume_m3 = outlet.runout_pipe.bore_area_m2() * outlet.runout_length_m;
  const double flow = usual_flow_m3_per_s(job, outlet);
  return {{"id", outlet.id},
          {"node", outlet.node},
          {"fixture", outlet.fixture},
          {"count", outlet.count},
          {"room", outlet.room},
          {"runout", paper::pipe_name(outlet.runout_pipe)},
          {"runout_length_m", sure(outlet.runout_length_m)},
          {"runout_litres", sure(volume_m3 * litres_per_m3)},
          {"flush_s", flow > 0 ? number(volume_m3 / flow) : JsonText()},
          {"hot_c", number(hot_at_node_c(job, plan, outlet.node))},
          {"safe_outlet_valve", outlet.safe_outlet_valve},
          {"findings", count_at(findings, outlet.id)}};
}

JsonText group_json(const job::Job& job, const plan::Plan& plan, std::size_t g) {
  const job::ControlGroup& group = job.groups[g];
  const plan::GroupPlan& held = plan.groups[g];
  return {{"id", group.id},
          {"name", group.name.empty() ? group.id : group.name},
          {"maintain_c", sure(group.maintain_c)},
          {"setback_c", number(group.setback_c)},
          {"duty", number(held.duty)},
          {"power_w", number(held.power_w)},
          {"sensor_run", text_or_null(group.sensor_run)},
          {"coldest_run", id_of(job.runs, held.coldest_run)},
          {"hottest_run", id_of(job.runs, held.hottest_run)},
          {"holds_prob", plan.options.samples > 0 ? number(held.holds_prob) : JsonText()},
          {"energy_kwh_per_year", number(held.energy_kwh_per_year)},
          {"cost_per_year", number(held.cost_per_year)}};
}

/// Of like findings at one place the second has "#2": the same finding keeps its id while others come and go.
std::string finding_id(const plan::Finding& finding, Counts& seen) {
  const std::string id = finding.id + "@" + finding.place;
  const int times = ++seen[id];
  return times == 1 ? id : id + "#" + std::to_string(times);
}

JsonText finding_json(const plan::Finding& finding, Counts& seen) {
  using enum plan::Finding::PlaceKind;
  const auto place_of = [&](plan::Finding::PlaceKind kind) {
    return finding.place_kind == kind ? text_or_null(finding.place) : JsonText();
  };
  return {{"id", finding_id(finding, seen)},
          {"kind", finding.id},
          {"severity", plan::to_string(finding.severity)},
          {"accepted", finding.accepted},
          {"title", plan::catalogue_entry(finding.id).title},
          {"place", paper::place_name(finding)},
          {"message", finding.what},
          {"remedy", finding.todo},
          {"citation", finding.citation.text()},
          {"run", place_of(run)},
          {"outlet", place_of(outlet)},
          {"circuit", place_of(circuit)},
          {"group", place_of(group)},
          {"panel", place_of(panel)}};
}

JsonText totals_json(const plan::Plan& plan) {
  const plan::Totals& totals = plan.totals;
  return {{"traced_m", sure(totals.traced_m)},
          {"cable_m", sure(totals.cable_m)},
          {"working_w", sure(totals.working_w)},
          {"settled_w", sure(totals.settled_w)},
          {"energy_kwh_per_year", sure(totals.energy_kwh_per_year)},
          {"cost_per_year", sure(totals.cost_per_year)},
          {"all_hold_prob", plan.options.samples > 0 ? number(totals.all_hold_prob) : JsonText()},
          {"stops", totals.stops},
          {"fixes", totals.fixes},
          {"notes", totals.notes},
          {"accepted", totals.accepted}};
}

}  // namespace

std::string_view name_of(units::System units) { return units == units::System::us ? "us" : "metric"; }

JsonText circuit_json(const job::Job& job, const plan::Plan& plan, const power::Circuit& circuit,
                      const TestStates& tests) {
  constexpr double milli = 1000;
  const auto state = tests.find(circuit.id);
  const auto steady = [&](double value) { return circuit.steady ? number(value) : JsonText(); };
  return {{"id", circuit.id},
          {"group", id_of(job.groups, circuit.group)},
          {"panel", id_of(job.panels, circuit.panel)},
          {"runs", JsonText::list(circuit.runs, [&](int run) { return job.runs[at(run)].id; })},
          {"cable", id_of(job.cables, circuit.cable)},
          {"length_m", sure(circuit.cable_length_m)},
          {"voltage_v", sure(job.panels[at(circuit.panel)].voltage_v)},
          {"breaker_a", sure(circuit.breaker_a)},
          {"working_a", steady(circuit.working_a)},
          {"start_a", number(circuit.peak_a)},
          {"trip_ma", circuit.ground_fault ? number(milli * circuit.ground_fault_trip_a) : JsonText()},
          {"working_w", steady(circuit.working_w)},
          {"feed_node", paper::node_name(plan, circuit.feed_node)},
          {"tests", state == tests.end() ? JsonText("none") : JsonText(state->second)}};
}

JsonText view_json(const Looked& looked, const TestStates& tests) {
  const job::Job& job = looked.job();
  const plan::Plan& plan = looked.plan();
  const Counts at_runs = open_at(plan, plan::Finding::PlaceKind::run);
  Counts seen;
  const Counts at_outlets = open_at(plan, plan::Finding::PlaceKind::outlet);
  return {
      {"revision", looked.revision},
      {"sampled", looked.sampled},
      {"units", name_of(job.units)},
      {"currency", job.economics.currency},
      {"site", job.site.name},
      {"drawing", drawing_json(job, plan)},
      {"runs",
       JsonText::list(indices(job.runs), [&](std::size_t i) { return run_json(job, plan, i, at_runs); })},
      {"outlets",
       JsonText::list(indices(job.outlets),
                      [&](std::size_t i) { return outlet_json(job, plan, job.outlets[i], at_outlets); })},
      {"groups",
       JsonText::list(indices(job.groups), [&](std::size_t g) { return group_json(job, plan, g); })},
      {"circuits",
       JsonText::list(indices(plan.circuits),
                      [&](std::size_t c) { return circuit_json(job, plan, plan.circuits[c], tests); })},
      {"findings", JsonText::list(indices(plan.findings),
                                  [&](std::size_t f) { return finding_json(plan.findings[f], seen); })},
      {"totals", totals_json(plan)},
  };
}

}  // namespace firstdraw::serve
