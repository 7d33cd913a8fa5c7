#include "cli/simulate_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "cli/findings_text.hpp"
#include "cli/sections.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {
namespace {

using draw::at;
using forecast::Forecast;
using forecast::OutletAnswer;
using forecast::RunAnswer;
using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;
constexpr double litres_per_m3 = 1000;

/// What every section needs: the answers and how numbers are written for their job.
struct Sheet {
  const job::Job& job;
  const Forecast& forecast;
  const SimulateView& view;

  std::string show(double value_si, Kind kind) const { return units::show(value_si, kind, job.units); }
  std::string litres(double litres) const { return show(litres / litres_per_m3, Kind::volume); }
  Cell cell(double value_si, Kind kind) const { return {units::show_number(value_si, kind, job.units)}; }
  std::string unit(Kind kind) const { return std::string(units::display_unit(kind, job.units)); }
  const std::string& run_id(const RunAnswer& run) const { return job.runs.at(at(run.run)).id; }
  /// How many of `size` items to list.
  std::size_t listed(std::size_t size) const {
    return view.all ? size : std::min(size, static_cast<std::size_t>(std::max(0, view.worst)));
  }
};

std::string percent(double frac) { return std::isfinite(frac) ? fmt::format("{:.0f}", 100 * frac) : "–"; }

std::string decimals(double value, int places) {
  return std::isfinite(value) ? fmt::format("{:.{}f}", value, places) : "–";
}

/// Seconds until hot; draws that ended first have none.
std::string wait(double seconds) {
  if (std::isinf(seconds)) return "never";
  return std::isnan(seconds) ? "–" : fmt::format("{:.0f}", seconds);
}

std::string what_was_simulated(const Sheet& sheet) {
  const forecast::ForecastOptions& options = sheet.forecast.options;
  std::string text = fmt::format("{:.3g} days from Monday 00:00", sheet.forecast.days);
  if (options.cold_start) text += ", from a cold start";
  if (!options.recorded.empty()) {
    text += ", recorded draws";
  } else if (!options.tapping.empty()) {
    text += ", tapping profile " + options.tapping;
  } else {
    text += fmt::format(", seed {}", options.seed);
  }
  if (options.ensemble > 1)
    text += fmt::format("; {} within the tolerances",
                        plural(static_cast<std::size_t>(sheet.forecast.members), "building", "buildings"));
  if (sheet.forecast.stopped) text += ". Stopped before the end: a partial answer";
  return text;
}

std::string faults_in_words(const Sheet& sheet) {
  std::string text;
  for (const forecast::Fault& fault : sheet.forecast.options.faults) {
    const auto help = std::ranges::find(forecast::fault_help(), fault.kind, &forecast::FaultHelp::kind);
    text += fmt::format("{}{} at {}", text.empty() ? "" : "; ", help->name, fault.place);
  }
  return text;
}

std::string where(const job::Outlet& outlet) {
  return outlet.room.empty() ? outlet.fixture : outlet.fixture + ", " + outlet.room;
}

std::string worst_in_words(const Sheet& sheet) {
  if (sheet.forecast.worst_tap == draw::none) return "none: nothing was drawn";
  const OutletAnswer& worst = sheet.forecast.outlets[at(sheet.forecast.worst_tap)];
  const job::Outlet& outlet = sheet.job.outlets.at(at(worst.outlet));
  const double half_s = worst.hot_after_s.p50;
  return fmt::format("{} ({}): hot within 10 s in {} % of draws, {}", worst.tap, where(outlet),
                     percent(worst.hot_in_10_s_frac),
                     std::isinf(half_s) ? "half of them closed before it was hot"
                                        : fmt::format("half of them after {} s", wait(half_s)));
}

std::string over_members(const Sheet& sheet) {
  const Forecast& all = sheet.forecast;
  return fmt::format("hot within 10 s {} to {} %, cable {} to {} kWh a day, coldest heated water {} to {}",
                     percent(all.member_hot_in_10_s_frac.p5), percent(all.member_hot_in_10_s_frac.p95),
                     decimals(all.member_cable_kwh_per_day.p5, 1),
                     decimals(all.member_cable_kwh_per_day.p95, 1),
                     sheet.show(all.member_coldest_c.p5, Kind::temperature),
                     sheet.show(all.member_coldest_c.p95, Kind::temperature));
}

void add_key_figures(Page& page, const Sheet& sheet) {
  const forecast::BuildingAnswer& all = sheet.forecast.building;
  std::vector<std::pair<std::string, std::string>> facts{
      {"Simulated", what_was_simulated(sheet)},
      {"Hot water",
       fmt::format("within 1 s in {} %, 10 s in {} %, 30 s in {} % of the draws that last so long",
                   percent(all.hot_at_once_frac), percent(all.hot_in_10_s_frac),
                   percent(all.hot_in_30_s_frac))},
      {"Worst tap", worst_in_words(sheet)},
      {"Run off", fmt::format("{} a day before it was hot, of {} drawn",
                              sheet.litres(all.wasted_litres_per_day), sheet.litres(all.litres_per_day))},
      {"Cable", fmt::format("{} kWh a day, {} kW at most in a quarter hour",
                            decimals(all.cable_kwh_per_day, 1), decimals(all.peak_kw, 2))},
      {"Heater",
       fmt::format("{} kWh a day into the water; coldest supply {}", decimals(all.heater_kwh_per_day, 1),
                   sheet.show(all.lowest_supply_c, Kind::temperature))}};
  if (!sheet.forecast.options.faults.empty())
    facts.insert(facts.begin() + 1, {"Wrong", faults_in_words(sheet)});
  if (sheet.forecast.members > 1) facts.emplace_back("9 of 10 buildings", over_members(sheet));
  facts.emplace_back("Assumed", plural(sheet.forecast.assumptions.size(), "value", "values") +
                                    " (--show assumptions lists them)");
  page.heading(sheet.job.site.name.empty() ? "Simulation" : sheet.job.site.name);
  page.facts(facts);
}

std::vector<std::size_t> taps_worst_first(const Sheet& sheet) {
  const std::vector<OutletAnswer>& taps = sheet.forecast.outlets;
  std::vector<std::size_t> order(taps.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto badness = [&taps](std::size_t i) {
    const double hot = taps[i].hot_in_10_s_frac;
    return std::tuple(std::isnan(hot) ? 2.0 : hot, -taps[i].draws_per_day);
  };
  if (!sheet.view.all) std::ranges::stable_sort(order, {}, badness);
  order.resize(sheet.listed(order.size()));
  return order;
}

void add_taps(Page& page, const Sheet& sheet) {
  const std::string degree = sheet.unit(Kind::temperature);
  TextTable table({{"Tap", ""},
                   {"Fixture, room", "", prose},
                   {"Hot from", degree, number},
                   {"Draws a day", "", number},
                   {"Hot in 1 s", "%", number},
                   {"in 10 s", "%", number},
                   {"in 30 s", "%", number},
                   {"Half after", "s", number},
                   {"95 % after", "s", number},
                   {"At the end, 5 % below", degree, number},
                   {"Run off a day", sheet.unit(Kind::volume), number}});
  const std::vector<std::size_t> taps = taps_worst_first(sheet);
  for (const std::size_t i : taps) {
    const OutletAnswer& tap = sheet.forecast.outlets[i];
    const job::Outlet& outlet = sheet.job.outlets.at(at(tap.outlet));
    table.add_row({{tap.tap},
                   {where(outlet)},
                   sheet.cell(tap.hot_c, Kind::temperature),
                   {decimals(tap.draws_per_day, 1)},
                   {percent(tap.hot_at_once_frac)},
                   {percent(tap.hot_in_10_s_frac)},
                   {percent(tap.hot_in_30_s_frac)},
                   {wait(tap.hot_after_s.p50)},
                   {wait(tap.hot_after_s.p95)},
                   sheet.cell(tap.end_c.p5, Kind::temperature),
                   sheet.cell(tap.wasted_litres_per_day / litres_per_m3, Kind::volume)});
  }
  page.heading(sheet.view.all ? fmt::format("Taps: all {}", taps.size())
                              : fmt::format("Taps: the {} worst of {} (--all lists every one)", taps.size(),
                                            sheet.forecast.outlets.size()));
  page.table(table);
}

/// Longest in the growth band first, then the coldest.
std::vector<const RunAnswer*> runs_worst_first(const Sheet& sheet) {
  std::vector<const RunAnswer*> runs;
  for (const RunAnswer& run : sheet.forecast.runs) runs.push_back(&run);
  const auto badness = [](const RunAnswer* run) { return std::tuple(-run->band_hours_per_day, run->mean_c); };
  if (!sheet.view.all) std::ranges::stable_sort(runs, {}, badness);
  runs.resize(sheet.listed(runs.size()));
  return runs;
}

/// Beyond what a measurement can tell, only that it is more.
std::string tenfolds(double log_reduction) {
  constexpr double most = 20;
  return log_reduction > most ? fmt::format("> {:.0f}", most) : decimals(log_reduction, 1);
}

std::string log_range(const RunAnswer& run) {
  const std::string low = tenfolds(run.log_reduction_low), high = tenfolds(run.log_reduction_high);
  return low == high ? low : fmt::format("{} to {}", low, high);
}

void add_runs(Page& page, const Sheet& sheet) {
  const std::string degree = sheet.unit(Kind::temperature);
  TextTable table({{"Run", ""},
                   {"Coldest", degree, number},
                   {"Mean", degree, number},
                   {"Hottest", degree, number},
                   {"In growth band", "h a day", number},
                   {"without a break", "h", number},
                   {"Longest standing", "h", number},
                   {"Log reduction", "a day", number},
                   {"other sources", "a day", number}});
  const std::vector<const RunAnswer*> runs = runs_worst_first(sheet);
  for (const RunAnswer* run : runs) {
    table.add_row(
        {{sheet.run_id(*run)},
         sheet.cell(run->min_c, Kind::temperature),
         sheet.cell(run->mean_c, Kind::temperature),
         sheet.cell(run->max_c, Kind::temperature),
         {decimals(run->band_hours_per_day, 1), run->band_hours_per_day > 0 ? Style::yellow : Style::plain},
         {decimals(run->longest_in_band_s / draw::hour_s, 1)},
         {decimals(run->longest_standing_s / draw::hour_s, 1)},
         {tenfolds(run->log_reduction_per_day)},
         {log_range(*run)}});
  }
  page.heading(sheet.view.all
                   ? fmt::format("Runs: all {}", runs.size())
                   : fmt::format("Runs: the {} longest in the growth band of {} (--all lists every one)",
                                 runs.size(), sheet.forecast.runs.size()));
  page.table(table);
}

void add_groups(Page& page, const Sheet& sheet) {
  const std::string degree = sheet.unit(Kind::temperature);
  TextTable table({{"Group", ""},
                   {"Energy", "kWh a day", number},
                   {"Peak", "kW", number},
                   {"90 % below", "kW", number},
                   {"On", "%", number},
                   {"Cycles a day", "", number},
                   {"Lowest reading", degree, number},
                   {"Highest", degree, number}});
  for (std::size_t g = 0; g < sheet.forecast.groups.size(); ++g) {
    const forecast::GroupAnswer& group = sheet.forecast.groups[g];
    table.add_row({{sheet.forecast.scene.groups.at(g).id},
                   {decimals(group.kwh_per_day, 2)},
                   {decimals(group.peak_kw, 2)},
                   {decimals(group.duration_curve_kw[10], 2)},
                   {percent(group.on_frac)},
                   {decimals(group.cycles_per_day, 1)},
                   sheet.cell(group.lowest_reading_c, Kind::temperature),
                   sheet.cell(group.highest_reading_c, Kind::temperature)});
  }
  page.heading("Control groups");
  page.table(table);
}

void add_comparison(Page& page, const Sheet& sheet) {
  if (sheet.forecast.alternatives.empty()) return;
  TextTable table({{"Way", "", prose},
                   {"Cable", "kWh a day", number},
                   {"Heater", "kWh a day", number},
                   {"Pump", "kWh a day", number},
                   {"Cost a year", sheet.job.economics.currency, number},
                   {"Hot in 10 s", "%", number},
                   {"Run off a day", sheet.unit(Kind::volume), number},
                   {"How known", "", prose}});
  for (const forecast::Alternative& way : sheet.forecast.alternatives) {
    table.add_row({{way.name},
                   {decimals(way.cable_kwh_per_day, 1)},
                   {decimals(way.heater_kwh_per_day, 1)},
                   {decimals(way.pump_kwh_per_day, 1)},
                   {decimals(way.cost_per_year, 0)},
                   {percent(way.hot_in_10_s_frac)},
                   sheet.cell(way.wasted_litres_per_day / litres_per_m3, Kind::volume),
                   {way.basis}});
  }
  page.heading("Other ways of keeping the water hot");
  page.table(table);
}

void add_advice(Page& page, const Sheet& sheet) {
  page.heading("Advice");
  if (sheet.forecast.stopped) return page.paragraph("None: stopped before the end.");
  if (sheet.forecast.advice.empty()) return page.paragraph("Nothing in these days asks for a change.");
  std::vector<std::pair<std::string, std::string>> facts;
  for (const forecast::Advice& advice : sheet.forecast.advice)
    facts.emplace_back(forecast::place_of(advice), advice.wrong + " " + advice.remedy);
  page.facts(facts);
}

void add_flow(Page& page, const Sheet& sheet) {
  const forecast::PeakCheck& peak = sheet.forecast.peak;
  const auto flow = [&sheet](double l_per_s) {
    return sheet.show(l_per_s / litres_per_m3, Kind::volume_flow);
  };
  page.heading("Flow at the supply");
  page.facts({{"Largest drawn", fmt::format("{}; {} in 99 % of the time when anything flows",
                                            flow(peak.simulated_l_per_s), flow(peak.simulated_p99_l_per_s))},
              {"Fixture units",
               fmt::format("{:.1f}, which ask for {}", peak.fixture_units, flow(peak.fixture_unit_l_per_s))},
              {"Basis", peak.basis}});
}

std::string growth_in_words(const Sheet& sheet) {
  const rules::GrowthBand band = rules::growth_band();
  std::size_t lukewarm = 0;
  for (const RunAnswer& run : sheet.forecast.runs) lukewarm += run.band_hours_per_day > 0 ? 1 : 0;
  return fmt::format(
      "{} of {} {} time between {} and {}, where Legionella multiplies ({}). Log reductions are published "
      "figures for free bacteria in water: they leave out growth during hours in the band and say nothing "
      "about biofilm or amoebae, and heat tracing does not disinfect. The responsible person's water "
      "management plan decides.",
      lukewarm, plural(sheet.forecast.runs.size(), "run", "runs"), lukewarm == 1 ? "spends" : "spend",
      sheet.show(band.low_c, Kind::temperature), sheet.show(band.high_c, Kind::temperature),
      band.citation.text());
}

/// Taps without a safe-outlet valve that gave hotter water than their fixture allows.
std::size_t taps_that_scald(const Sheet& sheet) {
  std::size_t taps = 0;
  for (const OutletAnswer& tap : sheet.forecast.outlets) {
    const job::Outlet& outlet = sheet.job.outlets.at(at(tap.outlet));
    const rules::OutletLimit limit = rules::outlet_limit(sheet.job.requirements.rules, outlet.fixture,
                                                         sheet.job.requirements.building_kind);
    if (!outlet.safe_outlet_valve && tap.end_c.p95 > limit.water_c) ++taps;
  }
  return taps;
}

std::string scalding_in_words(const Sheet& sheet) {
  const rules::BurnTime& burn = rules::burn_times().back();
  const std::size_t taps = taps_that_scald(sheet);
  return fmt::format(
      "{} without a safe-outlet valve gave water hotter than the rules allow there. {} water burns adult "
      "skin in "
      "{} ({}); children and the elderly burn sooner.",
      taps == 0 ? "no tap" : plural(taps, "tap", "taps"), sheet.show(burn.water_c, Kind::temperature),
      sheet.show(burn.third_degree_s, Kind::duration), burn.citation.text());
}

const std::vector<Section<Sheet>>& sections() {
  static const std::vector<Section<Sheet>> all{
      {"key", true, add_key_figures},
      {"advice", true, add_advice},
      {"taps", true, add_taps},
      {"runs", true, add_runs},
      {"groups", true, add_groups},
      {"compare", true, add_comparison},
      {"flow", true, add_flow},
      {"assumptions", false,
       [](Page& page, const Sheet& sheet) { add_assumptions(page, sheet.forecast.assumptions); }},
  };
  return all;
}

}  // namespace

const std::vector<std::string>& simulate_sections() {
  static const std::vector<std::string> names = names_of(sections(), false);
  return names;
}

std::vector<std::string> usual_simulate_sections() { return names_of(sections(), true); }

void add_forecast(Page& page, const job::Job& job, const Forecast& forecast, const SimulateView& view) {
  const Sheet sheet{job, forecast, view};
  add_sections(page, sections(), sheet, view.sections);
  page.blank();
  page.paragraph(growth_in_words(sheet), "Hygiene: ", Style::yellow);
  page.paragraph(scalding_in_words(sheet), "Scalding: ", Style::yellow);
}

}  // namespace firstdraw::cli
