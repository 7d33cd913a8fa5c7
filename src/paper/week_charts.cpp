#include "paper/week_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/forecast_words.hpp"

namespace firstdraw::paper {
namespace {

using draw::at;
using settings::SeasonAnswer;
constexpr TextStyle side_style{6.5, 500};
constexpr double day_s = 86400, week_s = 7 * day_s, quarter_s = 900, days_a_week = 7;

Axis week_axis() { return {.scale = Axis::Scale::week, .low = 0, .high = week_s}; }

/// One thing's series out of what is laid out by record.
std::vector<double> series(const std::vector<float>& flat, std::size_t width, std::size_t index) {
  std::vector<double> values;
  for (std::size_t record = 0; (record + 1) * width <= flat.size(); ++record)
    values.push_back(static_cast<double>(flat[record * width + index]));
  return values;
}

/// What holds until the next step, drawn to the end of the week.
void close_week(ChartLine& line) {
  if (line.y.empty()) return;
  line.x.push_back(week_s);
  line.y.push_back(line.y.back());
}

ChartLine set_points(const settings::GroupTimetable& timetable) {
  ChartLine line{.name = "set-point", .look = 4, .width_mm = 0.5, .steps = true};
  bool ever_off = false;
  for (double time_s = 0; time_s < week_s; time_s += quarter_s) {
    const auto held_c = settings::set_point_c(timetable, time_s);
    ever_off = ever_off || !held_c;
    line.x.push_back(time_s);
    line.y.push_back(held_c.value_or(std::nan("")));
  }
  close_week(line);
  if (ever_off) line.name += " (gap: off)";
  return line;
}

/// Coldest water in any of the group's heated pipes at each record.
ChartLine coldest_pipe(const forecast::Forecast& forecast, int group) {
  const std::vector<draw::SceneRun>& runs = forecast.scene.runs;
  const std::vector<float>& flat = forecast.records.run_coldest_c;
  ChartLine line{.name = "coldest heated pipe", .look = 1, .width_mm = 0.35};
  for (std::size_t record = 0; (record + 1) * runs.size() <= flat.size(); ++record) {
    double coldest_c = std::nan("");
    for (std::size_t run = 0; run < runs.size(); ++run)
      if (runs[run].group == group)
        coldest_c = std::fmin(coldest_c, static_cast<double>(flat[record * runs.size() + run]));
    line.y.push_back(coldest_c);
  }
  line.x = forecast.records.time_s;
  return line;
}

/// The group that heats the pipe a tap hangs on, or the first heated one above it.
int group_above(const draw::Scene& scene, int run) {
  while (run != draw::none && scene.runs.at(at(run)).group == draw::none) run = scene.runs[at(run)].upstream;
  return run == draw::none ? draw::none : scene.runs[at(run)].group;
}

/// Of the group's taps that are drawn from, the one that opens coldest.
int coldest_tap_of(const forecast::Forecast& forecast, int group) {
  int coldest = draw::none;
  for (std::size_t tap = 0; tap < std::min(forecast.outlets.size(), forecast.scene.taps.size()); ++tap) {
    if (!(forecast.outlets[tap].draws_per_day > 0)) continue;
    if (group_above(forecast.scene, forecast.scene.taps[tap].run) != group) continue;
    const auto opening_c = [&](std::size_t which) {
      return forecast.outlets[which].since_open_c.front().p50;
    };
    if (coldest == draw::none || opening_c(tap) < opening_c(at(coldest))) coldest = static_cast<int>(tap);
  }
  return coldest;
}

ChartRegion growth_region() {
  const rules::GrowthBand band = rules::growth_band();
  return {band.low_c, band.high_c, "growth band"};
}

/// Low enough for the growth band to be seen, not so low that the lines are pressed flat.
void show_the_band(LineChart& chart) {
  constexpr double seen_k = 5, headroom_k = 1.5;
  double lowest_c = std::numeric_limits<double>::infinity(), highest_c = -lowest_c;
  for (const ChartLine& line : chart.lines)
    for (const double value : line.y)
      if (std::isfinite(value)) lowest_c = std::min(lowest_c, value), highest_c = std::max(highest_c, value);
  if (const double edge_c = rules::growth_band().high_c - seen_k; lowest_c > edge_c) chart.y.low = edge_c;
  // A line along the upper edge is easily taken for the frame.
  if (std::isfinite(highest_c)) chart.y.high = highest_c + headroom_k;
}

std::string of_group(const Pack& pack, const SeasonAnswer& season, int group) {
  const std::string text = "Group " + group_name(pack.job, group);
  return pack.week->seasons.size() > 1 ? "Season " + season.season.name + ": " + text : text;
}

/// A curve that is flat to a twentieth is drawn from zero: its scale would show cents.
void no_false_precision(LineChart& chart, const ChartLine& cost, const ChartLine& bound) {
  constexpr double flat_frac = 0.05;
  double low = INFINITY, high = -INFINITY;
  for (const ChartLine* line : {&cost, &bound})
    for (const double value : line->y)
      if (std::isfinite(value)) low = std::min(low, value), high = std::max(high, value);
  if (high > 0 && high - low < flat_frac * high) chart.y.low = 0, chart.y.high = 1.2 * high;
}

LineChart frontier(const Pack& pack, const std::vector<settings::FrontierPoint>& curve, double scale) {
  LineChart chart{.y = {.title = "Heating cable, a year", .unit = pack.job.economics.currency}};
  ChartLine cost{.name = "cheapest found", .look = 0, .width_mm = 0.5};
  ChartLine bound{.name = "never less than", .look = 1, .width_mm = 0.35};
  for (const settings::FrontierPoint& point : curve) {
    const double x = point.asked * scale;
    cost.x.push_back(x);
    bound.x.push_back(x);
    cost.y.push_back(point.possible ? point.cost_per_year : std::nan(""));
    bound.y.push_back(point.possible ? point.bound_per_year : std::nan(""));
    if (!point.possible) continue;
    chart.marks.push_back({x, point.cost_per_year, point.chosen,
                           point.chosen ? "asked by this job: " + yearly(pack, point.cost_per_year) : ""});
  }
  chart.lines = {std::move(cost), std::move(bound)};
  no_false_precision(chart, chart.lines.front(), chart.lines.back());
  return chart;
}

}  // namespace

std::vector<int> charted_groups(const Pack& pack) {
  std::vector<int> groups;
  const auto kwh = [&](int group) {
    const auto& answers = pack.week->seasons.front().proof.forecast.groups;
    return at(group) < answers.size() ? answers[at(group)].kwh_per_day : 0;
  };
  int hungriest = draw::none;
  for (int group = 0; group < std::ssize(pack.job.groups); ++group) {
    if (hungriest == draw::none || kwh(group) > kwh(hungriest)) hungriest = group;
    const std::string& id = pack.job.groups[at(group)].id;
    const bool changes = std::ranges::any_of(pack.week->seasons, [&](const SeasonAnswer& season) {
      const settings::GroupTimetable* timetable = timetable_in(season, id);
      return timetable && !timetable->constant();
    });
    if (changes) groups.push_back(group);
  }
  if (groups.empty() && hungriest != draw::none) groups.push_back(hungriest);
  return groups;
}

LineChart price_chart(const Pack& pack, const SeasonAnswer& season) {
  LineChart chart{.title = "Price of a kWh, mean of the season",
                  .x = week_axis(),
                  .y = {.unit = pack.job.economics.currency + "/kWh", .low = 0}};
  ChartLine line{.name = "price", .look = 4, .width_mm = 0.35, .steps = true};
  const std::vector<double>& prices = season.season.prices.per_kwh;
  const double weeks = season.season.days / days_a_week;
  const double step_s = prices.empty() ? week_s : week_s / static_cast<double>(prices.size());
  for (std::size_t step = 0; step < prices.size() && weeks > 0; ++step) {
    line.x.push_back(static_cast<double>(step) * step_s);
    line.y.push_back(prices[step] / weeks);
  }
  if (std::ranges::any_of(line.y, [](double price) { return price < 0; })) chart.y.low = std::nan("");
  close_week(line);
  chart.lines = {std::move(line)};
  return chart;
}

LineChart group_week_chart(const Pack& pack, const SeasonAnswer& season, int group) {
  const forecast::Forecast& forecast = season.proof.forecast;
  LineChart chart{.title = of_group(pack, season, group),
                  .x = week_axis(),
                  .y = {.title = "Temperature", .kind = Kind::temperature, .system = pack.job.units}};
  if (const int tap = coldest_tap_of(forecast, group); tap != draw::none)
    chart.lines.push_back({.name = "in the pipe at tap " + forecast.outlets[at(tap)].tap,
                           .x = forecast.records.time_s,
                           .y = series(forecast.records.tap_c, forecast.scene.taps.size(), at(tap)),
                           .look = 2,
                           .width_mm = 0.2});
  if (!forecast.scene.runs.empty()) chart.lines.push_back(coldest_pipe(forecast, group));
  if (at(group) < forecast.scene.groups.size() && forecast.scene.groups[at(group)].sensor_run != draw::none)
    chart.lines.push_back({.name = "sensor reading",
                           .x = forecast.records.time_s,
                           .y = series(forecast.records.reading_c, forecast.scene.groups.size(), at(group)),
                           .look = 0,
                           .width_mm = 0.3});
  if (const settings::GroupTimetable* timetable = timetable_in(season, pack.job.groups.at(at(group)).id))
    chart.lines.push_back(set_points(*timetable));
  chart.regions = {growth_region()};
  show_the_band(chart);
  return chart;
}

void draw_group_week(Ink& ink, const Frame& frame, const Pack& pack, const SeasonAnswer& season, int group) {
  constexpr double price_share = 0.24, least_price_mm = 20, gap_mm = 2;
  const double price_mm = std::max(least_price_mm, frame.height_mm() * price_share);
  LineChart price = price_chart(pack, season);
  LineChart week = group_week_chart(pack, season, group);
  // The same room for names beside both, so that the hours lie above each other.
  for (const ChartLine& line : week.lines)
    if (ink.label_width_mm(line.name, side_style) > ink.label_width_mm(price.same_room_as, side_style))
      price.same_room_as = line.name;
  price.same_ticks_as = week.same_ticks_as = "00000";
  draw_chart(ink, {frame.left_mm, frame.top_mm, frame.right_mm, frame.top_mm + price_mm - gap_mm}, price);
  draw_chart(ink, {frame.left_mm, frame.top_mm + price_mm, frame.right_mm, frame.bottom_mm}, week);
}

LineChart comfort_frontier_chart(const Pack& pack) {
  LineChart chart = frontier(pack, pack.week->comfort_curve, 100);
  chart.title = "What comfort costs";
  chart.x = {.title = "Share of the comfort asked for: 0 none, 100 all of it", .unit = "%"};
  return chart;
}

LineChart band_frontier_chart(const Pack& pack) {
  LineChart chart = frontier(pack, pack.week->band_curve, 1);
  chart.title = "What a longest stay in the growth band costs, were no temperature asked for at all times";
  chart.x = {.title = "Longest stay below the upper end of the growth band, on end", .unit = "h", .low = 0};
  return chart;
}

std::string impossible_points(const std::vector<settings::FrontierPoint>& curve, const std::string& unit,
                              double scale) {
  std::string text;
  for (const settings::FrontierPoint& point : curve)
    if (!point.possible)
      text +=
          (text.empty() ? "not possible at " : ", ") + fmt::format("{:.3g} {}", point.asked * scale, unit);
  return text;
}

StackedBarChart cost_chart(const Pack& pack) {
  StackedBarChart chart{.title = "What a year costs",
                        .x = {.title = "A year", .unit = pack.job.economics.currency},
                        .parts = {"energy", "demand (highest power)"}};
  for (const settings::CostOfYear& cost : pack.week->costs)
    chart.bars.push_back({cost.name, {cost.energy, cost.demand}, yearly(pack, cost.total)});
  return chart;
}

}  // namespace firstdraw::paper
