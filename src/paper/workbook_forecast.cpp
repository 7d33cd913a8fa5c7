// The forecast's tables in the workbook: taps, runs, energy by hour of the week.
#include <fmt/format.h>

#include "paper/forecast_words.hpp"
#include "paper/workbook.hpp"
#include "paper/workbook_writer.hpp"

namespace firstdraw::paper {
namespace {

using draw::at;
constexpr const char *whole = "0", *one = "0.0", *two = "0.00", *share = "0.0 %";
constexpr double litres_per_m3 = 1000;

/// P5, P50 and P95 of a temperature.
void add_spread(std::vector<Cell>& row, const Show& show, const forecast::Spread& water_c) {
  for (const double each_c : {water_c.p5, water_c.p50, water_c.p95})
    row.emplace_back(show.value(each_c, Kind::temperature));
}

void add_spread_fields(std::vector<Field>& fields, const std::string& what, const std::string& unit) {
  for (const char* part : {"P5", "P50", "P95"}) fields.push_back({headed(what + ", " + part, unit), 10, one});
}

std::vector<Field> tap_fields(const Show& show) {
  const std::string degree = show.unit(Kind::temperature), volume = show.unit(Kind::volume);
  std::vector<Field> fields{{"Tap", 16},
                            {"Outlet", 14},
                            {"Fixture", 16},
                            {"Room", 18},
                            {headed("Hot from", degree), 9, one},
                            {"Draws a day", 9, one},
                            {"Hot within 1 s", 9, share},
                            {"Hot within 10 s, of draws that last so long", 14, share},
                            {"Hot within 30 s, of draws that last so long", 14, share},
                            {"Hot after, P5 (s; empty: never)", 12, one},
                            {"Hot after, P50 (s; empty: never)", 12, one},
                            {"Hot after, P95 (s; empty: never)", 12, one},
                            {headed("Drawn a day", volume), 10, two},
                            {headed("Run off before hot, a day", volume), 12, two},
                            {"Oldest water (h)", 10, one}};
  add_spread_fields(fields, "At the end", degree);
  for (const double since_s : draw::since_open_s)
    add_spread_fields(fields, fmt::format("{:g} s after opening", since_s), degree);
  return fields;
}

void taps(WorkbookWriter& writer, const job::Job& job, const forecast::Forecast& forecast) {
  const Show show(job);
  std::vector<std::vector<Cell>> rows;
  for (const forecast::OutletAnswer& tap : forecast.outlets) {
    const job::Outlet& outlet = job.outlets.at(at(tap.outlet));
    std::vector<Cell> row{tap.tap,
                          outlet.id,
                          outlet.fixture,
                          outlet.room,
                          show.value(tap.hot_c, Kind::temperature),
                          tap.draws_per_day,
                          tap.hot_at_once_frac,
                          tap.hot_in_10_s_frac,
                          tap.hot_in_30_s_frac,
                          tap.hot_after_s.p5,
                          tap.hot_after_s.p50,
                          tap.hot_after_s.p95,
                          show.value(tap.litres_per_day / litres_per_m3, Kind::volume),
                          show.value(tap.wasted_litres_per_day / litres_per_m3, Kind::volume),
                          tap.oldest_water_s / draw::hour_s};
    add_spread(row, show, tap.end_c);
    for (const forecast::Spread& water_c : tap.since_open_c) add_spread(row, show, water_c);
    rows.push_back(std::move(row));
  }
  writer.sheet("First draw taps", tap_fields(show), rows);
}

void runs(WorkbookWriter& writer, const job::Job& job, const forecast::Forecast& forecast) {
  const Show show(job);
  const std::string degree = show.unit(Kind::temperature);
  const std::vector<Field> fields{{"Run", 14},
                                  {headed("Coldest", degree), 9, one},
                                  {headed("Mean", degree), 9, one},
                                  {headed("Hottest", degree), 9, one},
                                  {"In growth band (h a day)", 11, two},
                                  {"Longest in growth band (h)", 12, two},
                                  {"Longest standing (h)", 11, two},
                                  {"Tenfold reductions a day", 12, two},
                                  {"Lowest of all published sets", 13, two},
                                  {"Highest of all published sets", 13, two},
                                  {"Mean age (h)", 10, two},
                                  {"Oldest water (h)", 10, two},
                                  {"Cable (kWh a day)", 10, two},
                                  {"Loss (kWh a day)", 10, two}};
  std::vector<std::vector<Cell>> rows;
  for (const forecast::RunAnswer& run : forecast.runs)
    rows.push_back({job.runs.at(at(run.run)).id, show.value(run.min_c, Kind::temperature),
                    show.value(run.mean_c, Kind::temperature), show.value(run.max_c, Kind::temperature),
                    run.band_hours_per_day, run.longest_in_band_s / draw::hour_s,
                    run.longest_standing_s / draw::hour_s, run.log_reduction_per_day, run.log_reduction_low,
                    run.log_reduction_high, run.mean_age_s / draw::hour_s, run.oldest_s / draw::hour_s,
                    run.cable_kwh_per_day, run.loss_kwh_per_day});
  writer.sheet("First draw runs", fields, rows);
}

void hours(WorkbookWriter& writer, const job::Job& job, const forecast::Forecast& forecast) {
  std::vector<Field> fields{{"Hour of the week, from Monday 00:00", 14, whole}};
  for (const job::ControlGroup& group : job.groups)
    fields.push_back({"Group " + group.id + " (kWh)", 12, two});
  std::vector<std::vector<Cell>> rows;
  for (std::size_t hour = 0; hour < 168; ++hour) {
    std::vector<Cell> row{static_cast<double>(hour)};
    for (const forecast::GroupAnswer& group : forecast.groups) row.emplace_back(group.kwh_by_hour[hour]);
    rows.push_back(std::move(row));
  }
  writer.sheet("First draw hours", fields, rows);
}

}  // namespace

void write_forecast(WorkbookWriter& writer, const job::Job& job, const forecast::Forecast& forecast) {
  taps(writer, job, forecast);
  runs(writer, job, forecast);
  hours(writer, job, forecast);
}

}  // namespace firstdraw::paper
