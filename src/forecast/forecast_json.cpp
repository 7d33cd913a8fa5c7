// A forecast as JSON: schemas/forecast.schema.json. Keys carry units; what is not known or not finite is
// null; numbers have nine significant digits, series two decimals.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <span>

#include "forecast/forecast.hpp"
#include "plan/json_number.hpp"

namespace firstdraw::forecast {
namespace {

using Json = nlohmann::json;
using draw::at;

Json number(double value) { return plan::json_number(value); }

template <std::size_t n>
Json numbers(const std::array<double, n>& values) {
  Json list = Json::array();
  for (const double value : values) list.push_back(number(value));
  return list;
}

Json spread_json(const Spread& spread) {
  return {{"p5", number(spread.p5)}, {"p50", number(spread.p50)}, {"p95", number(spread.p95)}};
}

Json fault_json(const Fault& fault) {
  const auto help = std::ranges::find(fault_help(), fault.kind, &FaultHelp::kind);
  Json made = {{"kind", help->name}, {"place", fault.place}, {"value", number(fault.value)}};
  if (!fault.cable.empty()) {
    made["value"] = nullptr;
    made["cable"] = fault.cable;
  }
  return made;
}

Json options_json(const ForecastOptions& options) {
  Json faults = Json::array();
  for (const Fault& fault : options.faults) faults.push_back(fault_json(fault));
  return {{"days", number(options.days)},
          {"seed", options.seed},
          {"ensemble", options.ensemble},
          {"faults", faults},
          {"axial_mixing", options.axial_mixing},
          {"cold_start", options.cold_start},
          {"tapping", options.tapping.empty() ? Json(nullptr) : Json(options.tapping)},
          {"recorded_draws", options.recorded.size()},
          {"cell_m", number(options.cell_m)}};
}

Json since_open_json(const OutletAnswer& answer) {
  Json list = Json::array();
  for (std::size_t i = 0; i < answer.since_open_c.size(); ++i) {
    Json row = spread_json(answer.since_open_c[i]);
    row["after_s"] = draw::since_open_s[i];
    list.push_back(row);
  }
  return list;
}

Json outlet_json(const job::Job& job, const draw::Tap& tap, const OutletAnswer& answer) {
  const job::Outlet& outlet = job.outlets.at(at(answer.outlet));
  return {{"tap", answer.tap},
          {"outlet", outlet.id},
          {"fixture", outlet.fixture},
          {"room", outlet.room},
          {"hot_c", number(answer.hot_c)},
          {"hot_basis", tap.hot_basis},
          {"draws_per_day", number(answer.draws_per_day)},
          {"hot_at_once_frac", number(answer.hot_at_once_frac)},
          {"hot_in_10_s_frac", number(answer.hot_in_10_s_frac)},
          {"hot_in_30_s_frac", number(answer.hot_in_30_s_frac)},
          {"hot_after_s", spread_json(answer.hot_after_s)},
          {"end_c", spread_json(answer.end_c)},
          {"since_open_c", since_open_json(answer)},
          {"litres_per_day", number(answer.litres_per_day)},
          {"wasted_litres_per_day", number(answer.wasted_litres_per_day)},
          {"oldest_water_s", number(answer.oldest_water_s)}};
}

Json run_json(const job::Job& job, const RunAnswer& answer) {
  return {{"id", job.runs.at(at(answer.run)).id},
          {"min_c", number(answer.min_c)},
          {"mean_c", number(answer.mean_c)},
          {"max_c", number(answer.max_c)},
          {"band_hours_per_day", number(answer.band_hours_per_day)},
          {"longest_in_band_s", number(answer.longest_in_band_s)},
          {"longest_standing_s", number(answer.longest_standing_s)},
          {"log_reduction_per_day", number(answer.log_reduction_per_day)},
          {"log_reduction_low", number(answer.log_reduction_low)},
          {"log_reduction_high", number(answer.log_reduction_high)},
          {"inactivated", answer.inactivated},
          {"mean_age_s", number(answer.mean_age_s)},
          {"oldest_s", number(answer.oldest_s)},
          {"cable_kwh_per_day", number(answer.cable_kwh_per_day)},
          {"loss_kwh_per_day", number(answer.loss_kwh_per_day)}};
}

Json group_json(const std::string& id, const GroupAnswer& answer) {
  return {{"id", id},
          {"kwh_per_day", number(answer.kwh_per_day)},
          {"peak_kw", number(answer.peak_kw)},
          {"cycles_per_day", number(answer.cycles_per_day)},
          {"on_frac", number(answer.on_frac)},
          {"kwh_by_hour", numbers(answer.kwh_by_hour)},
          {"duration_curve_kw", numbers(answer.duration_curve_kw)},
          {"lowest_reading_c", number(answer.lowest_reading_c)},
          {"highest_reading_c", number(answer.highest_reading_c)}};
}

Json building_json(const BuildingAnswer& answer) {
  return {{"cable_kwh_per_day", number(answer.cable_kwh_per_day)},
          {"heater_kwh_per_day", number(answer.heater_kwh_per_day)},
          {"loss_kwh_per_day", number(answer.loss_kwh_per_day)},
          {"peak_kw", number(answer.peak_kw)},
          {"litres_per_day", number(answer.litres_per_day)},
          {"wasted_litres_per_day", number(answer.wasted_litres_per_day)},
          {"hot_at_once_frac", number(answer.hot_at_once_frac)},
          {"hot_in_10_s_frac", number(answer.hot_in_10_s_frac)},
          {"hot_in_30_s_frac", number(answer.hot_in_30_s_frac)},
          {"lowest_supply_c", number(answer.lowest_supply_c)},
          {"balance_residual_frac", number(answer.balance_residual_frac)}};
}

Json alternative_json(const Alternative& way) {
  return {{"id", way.id},
          {"name", way.name},
          {"cable_kwh_per_day", number(way.cable_kwh_per_day)},
          {"heater_kwh_per_day", number(way.heater_kwh_per_day)},
          {"pump_kwh_per_day", number(way.pump_kwh_per_day)},
          {"cost_per_year", number(way.cost_per_year)},
          {"hot_in_10_s_frac", number(way.hot_in_10_s_frac)},
          {"wasted_litres_per_day", number(way.wasted_litres_per_day)},
          {"basis", way.basis}};
}

Json or_null(const std::string& id) { return id.empty() ? Json(nullptr) : Json(id); }

Json advice_json(const std::vector<Advice>& all) {
  Json list = Json::array();
  for (const Advice& advice : all) {
    Json figures = Json::object();
    for (const auto& [name, value] : advice.figures) figures[name] = number(value);
    list.push_back({{"id", advice.id},
                    {"group", or_null(advice.group)},
                    {"run", or_null(advice.run)},
                    {"tap", or_null(advice.tap)},
                    {"better_run", or_null(advice.better_run)},
                    {"wrong", advice.wrong},
                    {"remedy", advice.remedy},
                    {"figures", figures}});
  }
  return list;
}

Json peak_json(const PeakCheck& peak) {
  return {{"simulated_l_per_s", number(peak.simulated_l_per_s)},
          {"simulated_p99_l_per_s", number(peak.simulated_p99_l_per_s)},
          {"fixture_units", number(peak.fixture_units)},
          {"fixture_unit_l_per_s", number(peak.fixture_unit_l_per_s)},
          {"basis", peak.basis}};
}

/// One column of a table laid out flat, row after row.
Json column(std::span<const float> values, std::size_t columns, std::size_t which) {
  Json list = Json::array();
  for (std::size_t i = which; i < values.size(); i += columns) {
    const double value = values[i];
    list.push_back(std::isfinite(value) ? Json(std::round(value * 100) / 100) : Json(nullptr));
  }
  return list;
}

Json series_json(const job::Job& job, const Forecast& forecast) {
  const draw::Scene& scene = forecast.scene;
  const draw::Records& records = forecast.records;
  Json runs = Json::array(), taps = Json::array(), groups = Json::array();
  for (std::size_t i = 0; i < scene.runs.size(); ++i) {
    if (scene.runs[i].job_run == draw::none) continue;
    runs.push_back({{"id", job.runs.at(at(scene.runs[i].job_run)).id},
                    {"water_c", column(records.run_c, scene.runs.size(), i)},
                    {"coldest_c", column(records.run_coldest_c, scene.runs.size(), i)}});
  }
  for (std::size_t i = 0; i < scene.taps.size(); ++i)
    taps.push_back({{"tap", scene.taps[i].id}, {"water_c", column(records.tap_c, scene.taps.size(), i)}});
  for (std::size_t i = 0; i < scene.groups.size(); ++i)
    groups.push_back({{"id", scene.groups[i].id},
                      {"reading_c", column(records.reading_c, scene.groups.size(), i)},
                      {"power_w", column(records.group_w, scene.groups.size(), i)}});
  return {{"time_s", records.time_s}, {"runs", runs}, {"taps", taps}, {"groups", groups}};
}

Json assumptions_json(const std::vector<job::Assumption>& assumptions) {
  Json list = Json::array();
  for (const job::Assumption& assumption : assumptions)
    list.push_back({{"field", assumption.field}, {"value", assumption.value}, {"why", assumption.why}});
  return list;
}

Json sources_json(const std::vector<rules::Citation>& sources) {
  Json list = Json::array();
  for (const rules::Citation& source : sources)
    list.push_back({{"document", source.document},
                    {"edition", source.edition},
                    {"clause", source.clause},
                    {"basis", source.basis}});
  return list;
}

Json answers_json(const job::Job& job, const Forecast& forecast) {
  Json taps = Json::array(), runs = Json::array(), groups = Json::array(), ways = Json::array();
  for (std::size_t i = 0; i < forecast.outlets.size(); ++i)
    taps.push_back(outlet_json(job, forecast.scene.taps.at(i), forecast.outlets[i]));
  for (const RunAnswer& run : forecast.runs) runs.push_back(run_json(job, run));
  for (std::size_t g = 0; g < forecast.groups.size(); ++g)
    groups.push_back(group_json(forecast.scene.groups.at(g).id, forecast.groups[g]));
  for (const Alternative& way : forecast.alternatives) ways.push_back(alternative_json(way));
  return {{"taps", taps}, {"runs", runs}, {"groups", groups}, {"alternatives", ways}};
}

}  // namespace

Json to_json(const job::Job& job, const Forecast& forecast) {
  Json json = answers_json(job, forecast);
  json["site"] = {{"name", job.site.name}, {"currency", job.economics.currency}};
  json["options"] = options_json(forecast.options);
  json["days"] = number(forecast.days);
  json["stopped"] = forecast.stopped;
  json["members"] = forecast.members;
  json["building"] = building_json(forecast.building);
  json["worst_tap"] =
      forecast.worst_tap == draw::none ? Json(nullptr) : Json(forecast.outlets[at(forecast.worst_tap)].tap);
  json["over_members"] = {{"hot_in_10_s_frac", spread_json(forecast.member_hot_in_10_s_frac)},
                          {"cable_kwh_per_day", spread_json(forecast.member_cable_kwh_per_day)},
                          {"coldest_c", spread_json(forecast.member_coldest_c)}};
  json["advice"] = advice_json(forecast.advice);
  json["peak"] = peak_json(forecast.peak);
  json["series"] = series_json(job, forecast);
  json["assumptions"] = assumptions_json(forecast.assumptions);
  json["sources"] = sources_json(forecast.sources);
  return json;
}

}  // namespace firstdraw::forecast
