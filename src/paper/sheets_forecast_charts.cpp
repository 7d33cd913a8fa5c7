// First draw: what the taps give, in charts.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>

#include "paper/chart.hpp"
#include "paper/forecast_words.hpp"

namespace firstdraw::paper {
namespace {

using draw::at;
using forecast::Forecast;
constexpr std::size_t most_bars = 30, most_lines = 6;
constexpr double footing_mm = 14;

Axis temperature_axis(const Pack& pack) {
  return {.title = "Water temperature", .kind = Kind::temperature, .system = pack.job.units};
}

template <class Chart>
void put(Book& book, const Chart& chart, double height_mm) {
  book.need(height_mm);
  const Frame& frame = book.frame();
  draw_chart(book, {frame.left_mm, book.y_mm(), frame.right_mm, book.y_mm() + height_mm - 3}, chart);
  book.skip(height_mm);
}

/// One thing's series out of what is laid out by record.
std::vector<double> series(const std::vector<float>& flat, std::size_t width, int index) {
  std::vector<double> values;
  for (std::size_t record = 0; (record + 1) * width <= flat.size(); ++record)
    values.push_back(static_cast<double>(flat[record * width + at(index)]));
  return values;
}

/// `same` temperatures once, with all their names.
class Limits {
 public:
  explicit Limits(const Show& show) : show_(show) {}
  void add(double temp_c, const std::string& name) {
    if (!std::isfinite(temp_c) || temp_c <= 0) return;
    std::string& names = named_[temp_c];
    if (names.find(name) == std::string::npos) names += (names.empty() ? "" : ", ") + name;
  }
  std::vector<ChartLimit> lines() const {
    std::vector<ChartLimit> all;
    for (const auto& [temp_c, names] : named_)
      all.push_back({temp_c, names + " " + show_.with_unit(temp_c, Kind::temperature)});
    return all;
  }

 private:
  const Show& show_;
  std::map<double, std::string> named_;
};

ChartRegion growth_region() {
  const rules::GrowthBand band = rules::growth_band();
  return {band.low_c, band.high_c, "growth band"};
}

LineChart tap_week(const Pack& pack, int tap) {
  const draw::Scene& scene = pack.forecast->scene;
  const draw::Records& records = pack.forecast->records;
  const int upstream = scene.runs.at(at(scene.taps.at(at(tap)).run)).upstream;
  LineChart chart{.title = "Coldest tap on opening: " + tap_name(pack.job, pack.forecast->outlets[at(tap)]),
                  .x = {.scale = Axis::Scale::week},
                  .y = temperature_axis(pack)};
  chart.lines.push_back({.name = "in the pipe at the tap",
                         .x = records.time_s,
                         .y = series(records.tap_c, scene.taps.size(), tap),
                         .look = 0,
                         .width_mm = 0.25});
  if (upstream != draw::none)
    chart.lines.push_back({.name = "coldest in run " + scene.runs[at(upstream)].id,
                           .x = records.time_s,
                           .y = series(records.run_coldest_c, scene.runs.size(), upstream),
                           .look = 1,
                           .width_mm = 0.35});
  Limits limits(pack.show);
  limits.add(pack.forecast->outlets[at(tap)].hot_c, "counts as hot");
  chart.limits = limits.lines();
  chart.regions = {growth_region()};
  return chart;
}

/// Groups with a sensor, those with the lowest readings first.
std::vector<int> groups_by_reading(const Pack& pack) {
  std::vector<int> groups;
  for (std::size_t each = 0; each < pack.forecast->groups.size(); ++each)
    if (pack.forecast->scene.groups.at(each).sensor_run != draw::none)
      groups.push_back(static_cast<int>(each));
  std::ranges::stable_sort(groups, {},
                           [&](int group) { return pack.forecast->groups[at(group)].lowest_reading_c; });
  return groups;
}

LineChart sensor_week(const Pack& pack, int index) {
  const job::ControlGroup& group = pack.job.groups.at(at(index));
  LineChart chart{.title = "Sensor of group " + group_name(pack.job, index),
                  .x = {.scale = Axis::Scale::week},
                  .y = {.title = "Reading", .kind = Kind::temperature, .system = pack.job.units}};
  chart.lines.push_back({.name = "reading",
                         .x = pack.forecast->records.time_s,
                         .y = series(pack.forecast->records.reading_c, pack.forecast->groups.size(), index),
                         .look = 0,
                         .width_mm = 0.25});
  Limits limits(pack.show);
  limits.add(group.maintain_c, "maintain");
  limits.add(group.low_alarm_c, "low alarm");
  limits.add(group.high_alarm_c, "high alarm");
  chart.limits = limits.lines();
  chart.regions = {growth_region()};
  return chart;
}

/// In how many taps half of the draws are hot after so long.
ColumnChart wait_distribution(const Forecast& forecast) {
  static constexpr std::array<double, 7> ends_s{1, 5, 10, 20, 30, 60, 1e9};
  ColumnChart chart{.title = "All taps by the wait of half of their draws",
                    .what = "number of taps",
                    .names = {"at once", "to 5 s", "to 10 s", "to 20 s", "to 30 s", "to 60 s", "over 60 s",
                              "never while open", "not used"},
                    .values = std::vector<double>(9)};
  for (const forecast::OutletAnswer& outlet : forecast.outlets) {
    const double wait_s = outlet.hot_after_s.p50;
    const auto end = std::ranges::find_if(ends_s, [&](double end_s) { return wait_s <= end_s; });
    const std::size_t column =
        !(outlet.draws_per_day > 0) ? 8 : static_cast<std::size_t>(end - ends_s.begin());
    ++chart.values[column];
  }
  return chart;
}

SpreadBarChart slowest(const Pack& pack, const std::vector<int>& taps) {
  SpreadBarChart chart{.title = taps.size() > most_bars
                                    ? fmt::format("The {} slowest of {} taps", most_bars, taps.size())
                                    : "Every tap that is used, slowest first",
                       .x = {.title = "From opening until hot", .unit = "s"},
                       .bars = {},
                       .limits = {{10, "10 s"}, {30, "30 s"}}};
  for (std::size_t each = 0; each < std::min(taps.size(), most_bars); ++each) {
    const forecast::OutletAnswer& tap = pack.forecast->outlets[at(taps[each])];
    const forecast::Spread& wait_s = tap.hot_after_s;
    chart.bars.push_back({tap_name(pack.job, tap), wait_s.p5, wait_s.p50, wait_s.p95, wait_spread(wait_s)});
  }
  return chart;
}

HeatStrip week_strip(const Forecast& forecast) {
  HeatStrip strip{.title = "Heating cable by hour of the week, all groups",
                  .what = "kWh in the hour",
                  .rows = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"},
                  .columns = {},
                  .values = std::vector<double>(168)};
  for (int hour = 0; hour < 24; ++hour) strip.columns.push_back(fmt::format("{}", hour));
  double highest = 0;
  for (std::size_t hour = 0; hour < 168; ++hour) {
    for (const forecast::GroupAnswer& group : forecast.groups) strip.values[hour] += group.kwh_by_hour[hour];
    if (std::isfinite(strip.values[hour])) highest = std::max(highest, strip.values[hour]);
  }
  strip.decimals = highest >= 20 ? 0 : highest >= 2 ? 1 : 2;
  return strip;
}

/// kW by hour of an average day: of the hours that were simulated.
std::vector<double> average_day_kw(const forecast::GroupAnswer& group) {
  std::vector<double> kw;
  for (std::size_t hour = 0; hour <= 24; ++hour) {
    double sum = 0, days = 0;
    for (std::size_t day = 0; day < 7; ++day)
      if (const double kwh = group.kwh_by_hour[day * 24 + hour % 24]; std::isfinite(kwh)) sum += kwh, ++days;
    kw.push_back(days > 0 ? sum / days : std::nan(""));
  }
  return kw;
}

std::vector<int> hungriest_groups(const Forecast& forecast) {
  std::vector<int> groups(forecast.groups.size());
  std::iota(groups.begin(), groups.end(), 0);
  std::ranges::stable_sort(groups, std::greater<>(),
                           [&](int group) { return forecast.groups[at(group)].kwh_per_day; });
  if (groups.size() > most_lines) groups.resize(most_lines);
  return groups;
}

std::string of_groups(const Forecast& forecast) {
  return forecast.groups.size() > most_lines
             ? fmt::format(", the {} groups of {} that use most", most_lines, forecast.groups.size())
             : ", by group";
}

LineChart average_day(const Pack& pack) {
  LineChart chart{.title = "Average day" + of_groups(*pack.forecast),
                  .x = {.title = "Hour of the day", .step = 3, .low = 0, .high = 24},
                  .y = {.title = "Mean power", .unit = "kW", .low = 0}};
  int look = 0;
  for (const int group : hungriest_groups(*pack.forecast)) {
    std::vector<double> hours(25);
    std::iota(hours.begin(), hours.end(), 0.0);
    chart.lines.push_back({.name = pack.job.groups.at(at(group)).id,
                           .x = hours,
                           .y = average_day_kw(pack.forecast->groups[at(group)]),
                           .look = look++,
                           .steps = true});
  }
  return chart;
}

LineChart duration_curve(const Pack& pack) {
  LineChart chart{.title = "How long each power is exceeded" + of_groups(*pack.forecast),
                  .x = {.title = "Share of the time", .unit = "%", .low = 0, .high = 100},
                  .y = {.title = "Power, quarter-hour means", .unit = "kW", .low = 0}};
  int look = 0;
  for (const int group : hungriest_groups(*pack.forecast)) {
    const auto& curve = pack.forecast->groups[at(group)].duration_curve_kw;
    std::vector<double> shares(curve.size());
    std::iota(shares.begin(), shares.end(), 0.0);
    chart.lines.push_back({.name = pack.job.groups.at(at(group)).id,
                           .x = shares,
                           .y = {curve.begin(), curve.end()},
                           .look = look++});
  }
  return chart;
}

LineChart since_opening(const Pack& pack, const std::string& which, int tap) {
  const forecast::OutletAnswer& outlet = pack.forecast->outlets[at(tap)];
  LineChart chart{.title = which + ": " + tap_name(pack.job, outlet),
                  .x = {.title = "Since opening", .scale = Axis::Scale::elapsed, .low = 0},
                  .y = temperature_axis(pack)};
  ChartBand band{.name = "5 to 95 of 100", .look = 0};
  ChartLine middle{.name = "half of the draws", .look = 0, .width_mm = 0.5};
  for (std::size_t each = 0; each < draw::since_open_s.size(); ++each) {
    const forecast::Spread& water_c = outlet.since_open_c[each];
    band.x.push_back(draw::since_open_s[each]);
    band.low.push_back(water_c.p5);
    band.high.push_back(water_c.p95);
    middle.y.push_back(water_c.p50);
  }
  middle.x = band.x;
  double last_s = 10;
  for (std::size_t each = 0; each < band.x.size(); ++each)
    if (std::isfinite(middle.y[each])) last_s = std::max(last_s, band.x[each]);
  chart.x.high = last_s;
  chart.bands = {std::move(band)};
  chart.lines = {std::move(middle)};
  chart.limits = {{outlet.hot_c, "counts as hot " + pack.show.with_unit(outlet.hot_c, Kind::temperature)}};
  chart.regions = {growth_region()};
  return chart;
}

}  // namespace

void forecast_week(Book& book, const Pack& pack) {
  constexpr std::size_t most_sensors = 3;
  const int tap = coldest_tap(*pack.forecast);
  if (tap == draw::none || pack.forecast->records.time_s.empty()) return;
  std::vector<int> groups = groups_by_reading(pack);
  std::string subtitle =
      fmt::format("A value every {}; what happens between them is not drawn.",
                  pack.show.with_unit(pack.forecast->options.record_every_s, Kind::duration));
  if (groups.empty()) subtitle += " No group has a sensor: all run on the entered ambient.";
  if (groups.size() > most_sensors) {
    subtitle += fmt::format(" Of {} groups with a sensor the {} with the lowest readings.", groups.size(),
                            most_sensors);
    groups.resize(most_sensors);
  }
  sheet(book, "First draw: the week", subtitle, Book::Way::wide);
  const double room_mm = book.room_mm() - footing_mm;
  const double tap_mm = room_mm * (groups.size() > 1 ? 0.4 : 0.5);
  put(book, tap_week(pack, tap), tap_mm);
  for (const int group : groups)
    put(book, sensor_week(pack, group), (room_mm - tap_mm) / static_cast<double>(groups.size()));
  footing(book, pack);
}

void forecast_waits(Book& book, const Pack& pack) {
  const std::vector<int> taps = slowest_first(*pack.forecast);
  if (taps.empty()) return;
  sheet(book, "First draw: time until hot",
        "Bar: 5 to 95 of 100 draws; dark mark: half of the draws. An arrow or “never”: the draws ended "
        "first. Every tap is "
        "in the workbook.");
  const SpreadBarChart chart = slowest(pack, taps);
  put(book, chart, bar_chart_height_mm(chart) + 3);
  book.skip(3);
  put(book, wait_distribution(*pack.forecast), std::min(52.0, book.room_mm() - footing_mm));
  footing(book, pack);
}

void forecast_energy(Book& book, const Pack& pack) {
  if (pack.forecast->groups.empty()) return;
  sheet(book, "First draw: energy by hour", "A dash: an hour that was not simulated.");
  const double room_mm = book.room_mm() - footing_mm;
  put(book, week_strip(*pack.forecast), room_mm * 0.36);
  put(book, average_day(pack), room_mm * 0.32);
  put(book, duration_curve(pack), room_mm * 0.32);
  footing(book, pack);
}

void forecast_openings(Book& book, const Pack& pack) {
  const int worst = pack.forecast->worst_tap, typical = typical_tap(*pack.forecast);
  if (worst == draw::none || typical == draw::none) return;
  sheet(book, "First draw: at the tap after opening",
        "Draws that were still open: the longer, the fewer. Lines end where no draw lasted so long.");
  const double height_mm = std::min(105.0, (book.room_mm() - footing_mm) / 2);
  put(book, since_opening(pack, "Worst tap", worst), height_mm);
  if (typical != worst) put(book, since_opening(pack, "A tap in the middle of the list", typical), height_mm);
  footing(book, pack);
}

}  // namespace firstdraw::paper
