#include "forecast/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "rules/cited_row.hpp"
#include "tables/table.hpp"

namespace firstdraw::forecast {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr double w_to_kwh_per_day = 24e-3, days_per_year = 365;

const tables::Row& published(std::string_view id) {
  static const std::vector<tables::Row> rows = tables::table("return_line").rows();
  const auto found = std::ranges::find(rows, id, [](const tables::Row& row) { return row.text("id"); });
  if (found == rows.end()) throw std::logic_error("return_line.csv has no row " + std::string(id));
  return *found;
}

double figure(std::string_view id) { return published(id).number("value"); }

bool heated(const plan::Plan& plan, std::size_t run) {
  return plan.network.reached[run] && plan.runs[run].cable != piping::none;
}

/// The run's loss with water as the supply delivers it: the plan's is at the temperature its group holds.
double supply_loss_w(const job::Job& job, const plan::Plan& plan, std::size_t i) {
  const job::Run& run = job.runs[i];
  const auto group = std::ranges::find(job.groups, run.group, &job::ControlGroup::id);
  const double air_c = job::air_around(job, run).usual_c;
  const double held_k = group == job.groups.end() ? 0 : group->maintain_c - air_c;
  const double scale = held_k > 0 ? (job.supply.delivered_c - air_c) / held_k : 1;
  return plan.runs[i].loss_w_per_m * plan.runs[i].loss_length_m * scale;
}

double return_loss_w(const job::Run& run) {
  const bool vertical = run.orientation == physics::Orientation::vertical;
  return run.length_m * figure(vertical ? "loss-vertical" : "loss-horizontal");
}

double cost_per_year(const job::Job& job, const Alternative& way) {
  const double kwh_per_day = way.cable_kwh_per_day + way.heater_kwh_per_day + way.pump_kwh_per_day;
  return kwh_per_day * days_per_year * job.economics.energy_price_per_kwh;
}

Alternative simulated(const job::Job& job, const Tally& tally, std::string id, std::string name,
                      std::string basis) {
  const BuildingAnswer building = building_answer(tally);
  Alternative way;
  way.id = std::move(id);
  way.name = std::move(name);
  way.basis = std::move(basis);
  way.cable_kwh_per_day = building.cable_kwh_per_day;
  way.heater_kwh_per_day = building.heater_kwh_per_day;
  way.hot_in_10_s_frac = building.hot_in_10_s_frac;
  way.wasted_litres_per_day = building.wasted_litres_per_day;
  way.cost_per_year = cost_per_year(job, way);
  return way;
}

Alternative with_return(const job::Job& job, const ReturnLine& line, const Alternative& traced) {
  Alternative way;
  way.id = "return";
  way.name = "Pumped return line, no heating cable";
  way.basis =
      "estimated, not simulated: heat for the water drawn as with heating cable, and the losses of both "
      "pipes all year";
  way.heater_kwh_per_day =
      traced.heater_kwh_per_day + (line.supply_loss_w + line.return_loss_w) * w_to_kwh_per_day;
  way.pump_kwh_per_day = line.pump_w * w_to_kwh_per_day;
  way.hot_in_10_s_frac = unknown;
  way.wasted_litres_per_day = unknown;
  way.cost_per_year = cost_per_year(job, way);
  return way;
}

}  // namespace

ReturnLine return_line(const job::Job& job, const plan::Plan& plan, double water_j_per_m3_k) {
  ReturnLine line;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    if (!heated(plan, i)) continue;
    line.pipe_m += job.runs[i].length_m;
    line.supply_loss_w += supply_loss_w(job, plan, i);
    line.return_loss_w += return_loss_w(job.runs[i]);
  }
  line.flow_m3_per_s =
      (line.supply_loss_w + line.return_loss_w) / (water_j_per_m3_k * figure("temperature-drop"));
  line.pump_w = figure("pump-head") * line.flow_m3_per_s / figure("pump-efficiency");
  return line;
}

std::vector<Alternative> alternatives(const job::Job& job, const ReturnLine& line, const Tally& traced,
                                      const Tally* untraced) {
  std::vector<Alternative> ways;
  ways.push_back(simulated(job, traced, "traced", "Heating cable as planned", "simulated, nominal building"));
  if (untraced != nullptr)
    ways.push_back(simulated(job, *untraced, "untraced", "The same pipes without heating cable",
                             "simulated with the same draws"));
  ways.push_back(with_return(job, line, ways.front()));
  return ways;
}

std::vector<job::Assumption> comparison_assumptions(const job::Job& job, const ReturnLine& line) {
  return {
      {"compare.price",
       fmt::format("{:g} {} per kWh", job.economics.energy_price_per_kwh, job.economics.currency),
       "the job names one price of energy: the heater's heat is priced like the cable's electricity. Where "
       "the "
       "heater burns fuel or is a heat pump, ways that need more heater heat cost less than shown"},
      {"compare.year", "365 days like those simulated", "losses and use are taken to be the same all year"},
      {"compare.return_length", units::show(line.pipe_m, units::Kind::length, job.units),
       "a return pipe is taken to run back beside every heated run, as long as that run"},
      {"compare.return_loss",
       fmt::format("{:g} W/m horizontal, {:g} W/m vertical", figure("loss-horizontal"),
                   figure("loss-vertical")),
       "measured on circulation pipe with 40 mm of insulation in a basement and in a shaft (" +
           rules::citation_of(published("loss-horizontal")).text() + ")"},
      {"compare.pump", fmt::format("{:.0f} W, always on", line.pump_w),
       fmt::format("flow for a drop of {:g} K from the heater and back, head {:g} Pa, efficiency {:g}",
                   figure("temperature-drop"), figure("pump-head"), figure("pump-efficiency"))},
  };
}

std::vector<rules::Citation> comparison_sources() {
  std::vector<rules::Citation> sources;
  for (const std::string_view id : {"loss-horizontal", "temperature-drop", "pump-head"})
    sources.push_back(rules::citation_of(published(id)));
  return sources;
}

}  // namespace firstdraw::forecast
