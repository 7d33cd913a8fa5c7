// First draw: what the taps give, in figures.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/forecast_words.hpp"

namespace firstdraw::paper {
namespace {

using draw::at;
using forecast::Forecast;
constexpr double litres_per_m3 = 1000;
constexpr std::size_t listed_taps = 15, listed_runs = 15;

Column number(const char* title, const std::string& unit = "") { return {title, unit, Anchor::end}; }

void figures(Book& book, const Pack& pack) {
  const forecast::BuildingAnswer& all = pack.forecast->building;
  key_figures(book,
              {{"Draws hot within 1 s", percent(all.hot_at_once_frac)},
               {"Draws hot within 10 s, of those that last so long", percent(all.hot_in_10_s_frac)},
               {"Draws hot within 30 s, of those that last so long", percent(all.hot_in_30_s_frac)},
               {"Hot water drawn a day", litres_text(pack.show, all.litres_per_day)},
               {"Run off a day before it was hot", litres_text(pack.show, all.wasted_litres_per_day)},
               {"Coldest water from the supply", pack.show.with_unit(all.lowest_supply_c, Kind::temperature)},
               {"Heating cable a day", count(all.cable_kwh_per_day, 1) + " kWh"},
               {"Heat into water at the heater, a day", count(all.heater_kwh_per_day, 1) + " kWh"},
               {"Heating cable, highest quarter hour", count(all.peak_kw, 2) + " kW"}});
}

void over_members(Book& book, const Pack& pack) {
  const Forecast& all = *pack.forecast;
  if (all.members < 2) return;
  heading(book, "Nine of ten buildings");
  facts(book,
        {{"Hot within 10 s",
          percent(all.member_hot_in_10_s_frac.p5) + " to " + percent(all.member_hot_in_10_s_frac.p95)},
         {"Heating cable a day", count(all.member_cable_kwh_per_day.p5, 1) + " to " +
                                     count(all.member_cable_kwh_per_day.p95, 1) + " kWh"},
         {"Coldest heated water", pack.show.with_unit(all.member_coldest_c.p5, Kind::temperature) + " to " +
                                      pack.show.with_unit(all.member_coldest_c.p95, Kind::temperature)}});
}

Table slow_taps(const Pack& pack) {
  Table table;
  table.columns = {{"Tap", ""},
                   number("Hot from", pack.show.unit(Kind::temperature)),
                   number("Draws a day"),
                   number("Within 1 s"),
                   number("Within 10 s"),
                   number("Within 30 s"),
                   number("Hot after, 5 of 100"),
                   number("Hot after, half"),
                   number("Hot after, 95 of 100"),
                   number("Run off a day", pack.show.unit(Kind::volume))};
  table.size_pt = 7;
  const std::vector<int> taps = slowest_first(*pack.forecast);
  for (std::size_t each = 0; each < std::min(taps.size(), listed_taps); ++each) {
    const forecast::OutletAnswer& tap = pack.forecast->outlets[at(taps[each])];
    table.rows.push_back(
        {Row::Kind::plain,
         {tap_name(pack.job, tap), pack.show.number(tap.hot_c, Kind::temperature),
          count(tap.draws_per_day, 1), percent(tap.hot_at_once_frac), percent(tap.hot_in_10_s_frac),
          percent(tap.hot_in_30_s_frac), wait_text(tap.hot_after_s.p5), wait_text(tap.hot_after_s.p50),
          wait_text(tap.hot_after_s.p95),
          pack.show.number(tap.wasted_litres_per_day / litres_per_m3, Kind::volume)}});
  }
  return table;
}

void taps(Book& book, const Pack& pack) {
  heading(book, "Slowest taps", 40);
  paragraph(
      book,
      fmt::format(
          "“never”: the draw ended before the water was hot. Shares are of the draws that last so long. "
          "All {} taps are in the workbook, sheet First draw taps.",
          pack.forecast->outlets.size()),
      small_style);
  flow(book, slow_taps(pack));
}

std::vector<const forecast::RunAnswer*> longest_in_band(const Forecast& forecast) {
  std::vector<const forecast::RunAnswer*> runs;
  for (const forecast::RunAnswer& run : forecast.runs) runs.push_back(&run);
  std::ranges::stable_sort(runs, std::greater<>(), &forecast::RunAnswer::band_hours_per_day);
  return runs;
}

/// Beyond what any count of bacteria can show, numbers say nothing more.
std::string tenfold(double reductions) {
  constexpr double enough = 20;
  return reductions > enough ? "over 20" : count(reductions, 1);
}

std::string tenfolds(const forecast::RunAnswer& run) {
  const std::string low = tenfold(run.log_reduction_low), high = tenfold(run.log_reduction_high);
  return low == high ? low : tenfold(run.log_reduction_per_day) + " (" + low + " to " + high + ")";
}

void runs(Book& book, const Pack& pack) {
  const rules::GrowthBand band = rules::growth_band();
  heading(book, "Pipes longest in the growth band", 40);
  paragraph(
      book,
      fmt::format("Growth band: {} to {} ({}). Hours by the run's mean water, one end may be colder; the "
                  "longest stretch by its coldest place. Tenfold reductions of Legionella a day from "
                  "published survival "
                  "in water, over all sets; biofilm protects, so this is no proof of safety.",
                  pack.show.with_unit(band.low_c, Kind::temperature),
                  pack.show.with_unit(band.high_c, Kind::temperature), citation_text(band.citation)),
      small_style);
  const std::string degree = pack.show.unit(Kind::temperature);
  Table table;
  table.columns = {{"Run", ""},
                   number("In the band", "h a day"),
                   number("Longest without a break", "h"),
                   number("Coldest", degree),
                   number("Mean", degree),
                   number("Hottest", degree),
                   number("Longest standing", "h"),
                   number("Oldest water", "h"),
                   number("Tenfold reductions", "a day")};
  table.size_pt = 7;
  const auto ranked = longest_in_band(*pack.forecast);
  for (std::size_t each = 0; each < std::min(ranked.size(), listed_runs); ++each) {
    const forecast::RunAnswer& run = *ranked[each];
    const auto degrees = [&](double water_c) { return pack.show.number(water_c, Kind::temperature); };
    const auto in_hours = [](double duration_s) { return count(duration_s / draw::hour_s, 1); };
    table.rows.push_back(
        {Row::Kind::plain,
         {run_name(pack.job.runs.at(at(run.run))), count(run.band_hours_per_day, 1),
          in_hours(run.longest_in_band_s), degrees(run.min_c), degrees(run.mean_c), degrees(run.max_c),
          in_hours(run.longest_standing_s), in_hours(run.oldest_s), tenfolds(run)}});
  }
  flow(book, table);
}

void alternatives(Book& book, const Pack& pack) {
  if (pack.forecast->alternatives.empty()) return;
  heading(book, "Three ways to have hot water", 40);
  paragraph(book,
            "The same draws. Heat for the water itself is in every row. One price of energy for all: where "
            "the heater "
            "burns fuel or is a heat pump, rows with more heater heat cost less than shown.",
            small_style);
  Table table;
  table.columns = {{"Way", ""},
                   number("Cable", "kWh a day"),
                   number("Heater", "kWh a day"),
                   number("Pump", "kWh a day"),
                   number("Cost a year", pack.job.economics.currency),
                   number("Hot within 10 s"),
                   number("Run off a day", pack.show.unit(Kind::volume)),
                   {"Basis", ""}};
  table.size_pt = 7;
  for (const forecast::Alternative& way : pack.forecast->alternatives)
    table.rows.push_back(
        {Row::Kind::plain,
         {way.name, count(way.cable_kwh_per_day, 1), count(way.heater_kwh_per_day, 1),
          count(way.pump_kwh_per_day, 1), count(way.cost_per_year), percent(way.hot_in_10_s_frac),
          pack.show.number(way.wasted_litres_per_day / litres_per_m3, Kind::volume), way.basis}});
  flow(book, table);
}

void advice(Book& book, const Pack& pack) {
  if (pack.forecast->advice.empty()) return;
  heading(book, "What the simulation advises", 40);
  std::vector<std::string> items;
  for (const forecast::Advice& advice : pack.forecast->advice)
    items.push_back(forecast::place_of(advice) + ": " + advice.wrong + " " + advice.remedy);
  bullets(book, items);
}

void peak(Book& book, const Pack& pack) {
  const forecast::PeakCheck& peak = pack.forecast->peak;
  const auto flow_text = [&](double l_per_s) {
    return pack.show.with_unit(l_per_s / litres_per_m3, Kind::volume_flow);
  };
  heading(book, "Peak flow at the supply", 20);
  facts(book, {{"Highest in the simulation", flow_text(peak.simulated_l_per_s)},
               {"Exceeded 1 % of the time something flows", flow_text(peak.simulated_p99_l_per_s)},
               {"By fixture units", fmt::format("{} ({} units)", flow_text(peak.fixture_unit_l_per_s),
                                                count(peak.fixture_units, 1))},
               {"Basis", peak.basis}});
}

}  // namespace

void forecast_summary(Book& book, const Pack& pack) {
  part(book, "First draw");
  paragraph(book, "What water each tap gives when it is opened: the planned network lived through in time.");
  facts(book, {{"Simulated", what_was_simulated(*pack.forecast)},
               {"Draws", where_draws_come_from(pack.job, *pack.forecast)}});
  figures(book, pack);
  caution(
      book, "A simulation of an assumed week is no proof",
      "Real people draw otherwise. The untraced pipe to each tap cools between draws, and where it stands in "
      "the growth band Legionella can multiply whatever the main holds. Water that is hot enough for hygiene "
      "scalds. The building's water management plan decides on flushing, temperatures and sampling; measure "
      "at every tap before hand-over.");
  over_members(book, pack);
  advice(book, pack);
  taps(book, pack);
  alternatives(book, pack);
  runs(book, pack);
  peak(book, pack);
}

void first_draw(Book& book, const Pack& pack) {
  if (!pack.forecast) return;
  forecast_summary(book, pack);
  forecast_week(book, pack);
  forecast_waits(book, pack);
  forecast_energy(book, pack);
  forecast_openings(book, pack);
  forecast_riser_sheets(book, pack);
}

}  // namespace firstdraw::paper
