#include "cli/simulate_files.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <vector>

#include "tables/csv.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {
namespace {

using draw::at;
using forecast::Forecast;
using units::Kind;
using Cells = std::vector<std::string>;

constexpr double litres_per_m3 = 1000;

std::string cell(double value) { return std::isfinite(value) ? fmt::format("{:.6g}", value) : ""; }

/// One file in the making, with its job's units.
class Sheet {
 public:
  Sheet(const job::Job& job, const Cells& headings) : units_(job.units), text_(tables::csv_line(headings)) {}
  void add(const Cells& cells) { text_ += tables::csv_line(cells); }
  std::string show(double value_si, Kind kind) const {
    return std::isfinite(value_si) ? cell(units::from_si(value_si, units::display_unit(kind, units_), kind))
                                   : "";
  }
  std::string degree(double temp_c) const { return show(temp_c, Kind::temperature); }
  std::string litres(double litres) const { return show(litres / litres_per_m3, Kind::volume); }
  std::string text() const { return text_; }

 private:
  units::System units_;
  std::string text_;
};

std::string with_unit(const job::Job& job, std::string_view name, Kind kind) {
  return fmt::format("{} ({})", name, units::display_unit(kind, job.units));
}

std::string outlets_csv(const job::Job& job, const Forecast& forecast) {
  const auto degree = [&job](std::string_view name) { return with_unit(job, name, Kind::temperature); };
  Sheet sheet(job, {"tap", "outlet", "fixture", "room", degree("hot from"), "draws (per day)",
                    "hot at once (share)", "hot in 10 s (share)", "hot in 30 s (share)", "hot after P5 (s)",
                    "hot after P50 (s)", "hot after P95 (s)", degree("end P5"), degree("end P50"),
                    degree("end P95"), with_unit(job, "drawn per day", Kind::volume),
                    with_unit(job, "run off per day", Kind::volume), "oldest water (h)"});
  for (const forecast::OutletAnswer& tap : forecast.outlets) {
    const job::Outlet& outlet = job.outlets.at(at(tap.outlet));
    sheet.add({tap.tap, outlet.id, outlet.fixture, outlet.room, sheet.degree(tap.hot_c),
               cell(tap.draws_per_day), cell(tap.hot_at_once_frac), cell(tap.hot_in_10_s_frac),
               cell(tap.hot_in_30_s_frac), cell(tap.hot_after_s.p5), cell(tap.hot_after_s.p50),
               cell(tap.hot_after_s.p95), sheet.degree(tap.end_c.p5), sheet.degree(tap.end_c.p50),
               sheet.degree(tap.end_c.p95), sheet.litres(tap.litres_per_day),
               sheet.litres(tap.wasted_litres_per_day), cell(tap.oldest_water_s / draw::hour_s)});
  }
  return sheet.text();
}

std::string runs_csv(const job::Job& job, const Forecast& forecast) {
  const auto degree = [&job](std::string_view name) { return with_unit(job, name, Kind::temperature); };
  Sheet sheet(job, {"run", degree("coldest"), degree("mean"), degree("hottest"), "in growth band (h per day)",
                    "longest in growth band (h)", "longest standing (h)", "log reduction (per day)",
                    "log reduction, lowest set (per day)", "log reduction, highest set (per day)",
                    "mean age (h)", "oldest (h)", "cable (kWh per day)", "loss (kWh per day)"});
  for (const forecast::RunAnswer& run : forecast.runs) {
    sheet.add({job.runs.at(at(run.run)).id, sheet.degree(run.min_c), sheet.degree(run.mean_c),
               sheet.degree(run.max_c), cell(run.band_hours_per_day),
               cell(run.longest_in_band_s / draw::hour_s), cell(run.longest_standing_s / draw::hour_s),
               cell(run.log_reduction_per_day), cell(run.log_reduction_low), cell(run.log_reduction_high),
               cell(run.mean_age_s / draw::hour_s), cell(run.oldest_s / draw::hour_s),
               cell(run.cable_kwh_per_day), cell(run.loss_kwh_per_day)});
  }
  return sheet.text();
}

/// "energy Mon 06:00 (kWh)": of the hour that begins then, in an average week.
std::string hour_heading(std::size_t hour_of_week) {
  constexpr std::array<std::string_view, 7> days{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  return fmt::format("energy {} {:02}:00 (kWh)", days.at(hour_of_week / 24), hour_of_week % 24);
}

std::string groups_csv(const job::Job& job, const Forecast& forecast) {
  Cells headings{"group",
                 "energy (kWh per day)",
                 "peak (kW)",
                 "cycles (per day)",
                 "on (share)",
                 with_unit(job, "lowest reading", Kind::temperature),
                 with_unit(job, "highest reading", Kind::temperature)};
  for (std::size_t hour = 0; hour < 168; ++hour) headings.push_back(hour_heading(hour));
  Sheet sheet(job, headings);
  for (std::size_t g = 0; g < forecast.groups.size(); ++g) {
    const forecast::GroupAnswer& group = forecast.groups[g];
    Cells cells{
        forecast.scene.groups.at(g).id,       cell(group.kwh_per_day), cell(group.peak_kw),
        cell(group.cycles_per_day),           cell(group.on_frac),     sheet.degree(group.lowest_reading_c),
        sheet.degree(group.highest_reading_c)};
    for (const double kwh : group.kwh_by_hour) cells.push_back(cell(kwh));
    sheet.add(cells);
  }
  return sheet.text();
}

std::string draws_csv(const job::Job& job, const Forecast& forecast) {
  const auto degree = [&job](std::string_view name) { return with_unit(job, name, Kind::temperature); };
  Sheet sheet(job, {"time (s)", "tap", with_unit(job, "flow", Kind::volume_flow), "duration (s)",
                    with_unit(job, "drawn", Kind::volume), degree("opening"), degree("after 10 s"),
                    degree("after 30 s"), degree("end"), "hot after (s)",
                    with_unit(job, "run off", Kind::volume), "age at the end (h)"});
  for (const draw::DrawRecord& draw : forecast.draws) {
    const double flow_m3_per_s = draw.litres / litres_per_m3 / draw.duration_s;
    sheet.add({fmt::format("{:.2f}", draw.open_s), forecast.scene.taps.at(at(draw.tap)).id,
               sheet.show(flow_m3_per_s, Kind::volume_flow), cell(draw.duration_s), sheet.litres(draw.litres),
               sheet.degree(draw.opening_c), sheet.degree(draw.after_10_s_c), sheet.degree(draw.after_30_s_c),
               sheet.degree(draw.end_c), cell(draw.hot_after_s), sheet.litres(draw.litres_wasted),
               cell(draw.age_s / draw::hour_s)});
  }
  return sheet.text();
}

Cells series_headings(const job::Job& job, const draw::Scene& scene) {
  Cells headings{"time (h)"};
  for (const draw::SceneRun& run : scene.runs)
    headings.push_back(with_unit(
        job, fmt::format("{} {}", run.job_run == draw::none ? "runout" : "run", run.id), Kind::temperature));
  for (const draw::SceneGroup& group : scene.groups) {
    headings.push_back(with_unit(job, fmt::format("sensor {}", group.id), Kind::temperature));
    headings.push_back(fmt::format("power {} (W)", group.id));
  }
  return headings;
}

/// Mean water of every run, reading and power of every group at each record.
std::string series_csv(const job::Job& job, const Forecast& forecast) {
  const draw::Records& records = forecast.records;
  const std::size_t runs = forecast.scene.runs.size(), groups = forecast.scene.groups.size();
  Sheet sheet(job, series_headings(job, forecast.scene));
  for (std::size_t row = 0; row < records.time_s.size(); ++row) {
    Cells cells{cell(records.time_s[row] / draw::hour_s)};
    for (std::size_t i = 0; i < runs; ++i) cells.push_back(sheet.degree(records.run_c.at(row * runs + i)));
    for (std::size_t g = 0; g < groups; ++g) {
      cells.push_back(sheet.degree(records.reading_c.at(row * groups + g)));
      cells.push_back(cell(records.group_w.at(row * groups + g)));
    }
    sheet.add(cells);
  }
  return sheet.text();
}

}  // namespace

std::map<std::string, std::string> simulate_files(const job::Job& job, const Forecast& forecast) {
  return {{"outlets.csv", outlets_csv(job, forecast)},
          {"runs.csv", runs_csv(job, forecast)},
          {"groups.csv", groups_csv(job, forecast)},
          {"draws.csv", draws_csv(job, forecast)},
          {"series.csv", series_csv(job, forecast)}};
}

}  // namespace firstdraw::cli
