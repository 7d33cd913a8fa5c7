// Bars, columns and strips of shades.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/chart.hpp"
#include "paper/naming.hpp"

namespace firstdraw::paper {
namespace {

constexpr TextStyle title_style{8, 600, false, colours::accent};
constexpr TextStyle axis_style{6.5, 400, false, colours::quiet};
constexpr TextStyle name_style{6.5, 500};
constexpr Colour bar_fill{0.72, 0.83, 0.91};
const Pen grid_pen{{0.86, 0.88, 0.90}, 0.12, {}};
const Pen bar_pen{{0.00, 0.33, 0.53}, 0.15, {}};
const Pen limit_pen{colours::warning, 0.3, {1.6, 0.6, 0.3, 0.6}};
constexpr double title_mm = 4.4, limit_names_mm = 3.4, axis_mm = 8, bar_row_mm = 4.1;

TextStyle anchored(TextStyle style, Anchor anchor) {
  style.anchor = anchor;
  return style;
}

double widest_mm(Ink& ink, const auto& things, auto text) {
  double widest = 0;
  for (const auto& each : things) widest = std::max(widest, ink.label_width_mm(text(each), name_style));
  return widest;
}

void chart_title(Ink& ink, const Frame& frame, const std::string& title) {
  ink.label({frame.left_mm, frame.top_mm + 3.2}, fitted(ink, title, title_style, frame.width_mm()),
            title_style);
}

class Bars {
 public:
  Bars(Ink& ink, const Frame& frame, const SpreadBarChart& chart) : ink_(ink), whole_(frame), chart_(chart) {
    const double names_mm = std::min(48.0, widest_mm(ink, chart.bars, [](auto& bar) { return bar.name; }));
    const double texts_mm = std::min(40.0, widest_mm(ink, chart.bars, [](auto& bar) { return bar.text; }));
    plot_ = {frame.left_mm + names_mm + 2,
             frame.top_mm + title_mm + (chart.limits.empty() ? 0 : limit_names_mm),
             frame.right_mm - texts_mm - 4, frame.bottom_mm - axis_mm};
    double high = std::nan("");
    const auto reach = [&](double value) {
      if (std::isfinite(value)) high = std::isnan(high) ? value : std::max(high, value);
    };
    for (const SpreadBar& bar : chart.bars) reach(bar.p50), reach(bar.p95);
    for (const ChartLimit& limit : chart.limits) reach(limit.value * 1.05);
    axis_ = settle(chart.x, 0, high, std::max(3, static_cast<int>(plot_.width_mm() / 18)));
  }

  void draw() {
    chart_title(ink_, whole_, chart_.title);
    for (const Tick& tick : axis_.ticks) {
      ink_.line({x_mm(tick.at), plot_.top_mm}, {x_mm(tick.at), plot_.bottom_mm}, grid_pen);
      ink_.label({x_mm(tick.at), plot_.bottom_mm + 3}, tick.text, anchored(axis_style, Anchor::middle));
    }
    ink_.label({plot_.right_mm, plot_.bottom_mm + 6.2}, axis_.title, anchored(axis_style, Anchor::end));
    const double row_mm =
        plot_.height_mm() / static_cast<double>(std::max<std::size_t>(chart_.bars.size(), 1));
    for (std::size_t each = 0; each < chart_.bars.size(); ++each)
      bar(chart_.bars[each], plot_.top_mm + (static_cast<double>(each) + 0.5) * row_mm,
          std::min(row_mm, 6.0));
    limits();
  }

 private:
  double x_mm(double value) const {
    const double share = std::isfinite(value) ? axis_.share(value) : 1;
    return plot_.left_mm + std::clamp(share, 0.0, 1.0) * plot_.width_mm();
  }

  void limits() {
    for (const ChartLimit& limit : chart_.limits) {
      ink_.line({x_mm(limit.value), plot_.top_mm - 0.6}, {x_mm(limit.value), plot_.bottom_mm}, limit_pen);
      ink_.label({x_mm(limit.value), plot_.top_mm - 1.2}, limit.name, anchored(axis_style, Anchor::middle));
    }
  }

  void bar(const SpreadBar& bar, double y_mm, double row_mm) {
    const double half_mm = row_mm * 0.3, room_mm = plot_.left_mm - whole_.left_mm - 2;
    ink_.label({plot_.left_mm - 1.5, y_mm + 0.8}, fitted(ink_, bar.name, name_style, room_mm),
               anchored(name_style, Anchor::end));
    ink_.label({plot_.right_mm + 3, y_mm + 0.8},
               fitted(ink_, bar.text, name_style, whole_.right_mm - plot_.right_mm - 3), name_style);
    if (std::isnan(bar.p5) || std::isnan(bar.p95)) return;
    const double from_mm = x_mm(bar.p5), to_mm = x_mm(bar.p95);
    ink_.rectangle({from_mm, y_mm - half_mm}, std::max(to_mm - from_mm, 0.4), 2 * half_mm, bar_fill, bar_pen);
    if (!std::isfinite(bar.p95)) {
      const Point tip[] = {{to_mm, y_mm - half_mm}, {to_mm + 2, y_mm}, {to_mm, y_mm + half_mm}};
      ink_.area(tip, bar_pen.colour, std::nullopt);
    }
    if (std::isfinite(bar.p50))
      ink_.line({x_mm(bar.p50), y_mm - half_mm - 0.3}, {x_mm(bar.p50), y_mm + half_mm + 0.3},
                {colours::text, 0.7, {}});
  }

  Ink& ink_;
  Frame whole_, plot_;
  const SpreadBarChart& chart_;
  SettledAxis axis_;
};

}  // namespace

double bar_chart_height_mm(const SpreadBarChart& chart) {
  return title_mm + (chart.limits.empty() ? 0 : limit_names_mm) + axis_mm +
         bar_row_mm * static_cast<double>(chart.bars.size());
}

void draw_chart(Ink& ink, const Frame& frame, const SpreadBarChart& chart) { Bars(ink, frame, chart).draw(); }

void draw_chart(Ink& ink, const Frame& frame, const ColumnChart& chart) {
  chart_title(ink, frame, chart.title);
  ink.label({frame.left_mm, frame.top_mm + title_mm + 2.2}, chart.what, axis_style);
  const Frame plot{frame.left_mm, frame.top_mm + title_mm + 7, frame.right_mm, frame.bottom_mm - 4.5};
  double highest = 0;
  for (const double value : chart.values) highest = std::max(highest, value);
  const double pitch_mm =
      plot.width_mm() / static_cast<double>(std::max<std::size_t>(chart.values.size(), 1));
  for (std::size_t each = 0; each < chart.values.size(); ++each) {
    const double tall_mm = highest > 0 ? plot.height_mm() * chart.values[each] / highest : 0;
    const double left_mm = plot.left_mm + (static_cast<double>(each) + 0.12) * pitch_mm;
    if (tall_mm > 0)
      ink.rectangle({left_mm, plot.bottom_mm - tall_mm}, 0.76 * pitch_mm, tall_mm, bar_fill, bar_pen);
    const double middle_mm = left_mm + 0.38 * pitch_mm;
    ink.label({middle_mm, plot.bottom_mm - tall_mm - 0.8}, count(chart.values[each]),
              anchored(name_style, Anchor::middle));
    ink.label({middle_mm, plot.bottom_mm + 3.2}, fitted(ink, chart.names[each], axis_style, pitch_mm),
              anchored(axis_style, Anchor::middle));
  }
  ink.line({plot.left_mm, plot.bottom_mm}, {plot.right_mm, plot.bottom_mm}, {colours::quiet, 0.2, {}});
}

void draw_chart(Ink& ink, const Frame& frame, const HeatStrip& chart) {
  chart_title(ink, frame, chart.title);
  const double names_mm = widest_mm(ink, chart.rows, [](auto& name) { return name; }) + 2;
  const Frame plot{frame.left_mm + names_mm, frame.top_mm + title_mm + 3.6, frame.right_mm,
                   frame.bottom_mm - 12};
  double highest = chart.darkest_at_least;
  for (const double value : chart.values)
    if (std::isfinite(value)) highest = std::max(highest, value);
  const double wide_mm = plot.width_mm() / static_cast<double>(chart.columns.size());
  const double tall_mm = plot.height_mm() / static_cast<double>(chart.rows.size());
  for (std::size_t column = 0; column < chart.columns.size(); ++column)
    ink.label({plot.left_mm + (static_cast<double>(column) + 0.5) * wide_mm, plot.top_mm - 1},
              chart.columns[column], anchored(axis_style, Anchor::middle));
  for (std::size_t row = 0; row < chart.rows.size(); ++row) {
    const double top_mm = plot.top_mm + static_cast<double>(row) * tall_mm;
    ink.label({plot.left_mm - 1.5, top_mm + tall_mm / 2 + 0.8}, chart.rows[row],
              anchored(name_style, Anchor::end));
    for (std::size_t column = 0; column < chart.columns.size(); ++column) {
      const double value = chart.values[row * chart.columns.size() + column];
      const Point corner{plot.left_mm + static_cast<double>(column) * wide_mm, top_mm};
      const Colour fill =
          std::isfinite(value) ? heat_colour(highest > 0 ? value / highest : 0) : colours::white;
      ink.rectangle(corner, wide_mm, tall_mm, fill, Pen{colours::white, 0.15, {}});
      const TextStyle number{5.5, 400, false, ink_on(fill), Anchor::middle};
      const std::string text = std::isfinite(value) ? count(value, chart.decimals) : "–";
      if (ink.label_width_mm(text, number) < wide_mm - 0.6)
        ink.label({corner.x_mm + wide_mm / 2, top_mm + tall_mm / 2 + 0.7}, text, number);
    }
  }
  draw_heat_scale(ink, {plot.left_mm, plot.bottom_mm + 2, plot.left_mm + 70, frame.bottom_mm}, chart.what,
                  {0, highest});
}

void draw_heat_scale(Ink& ink, const Frame& frame, const std::string& title, const HeatScale& scale) {
  constexpr int steps = 40;
  ink.label({frame.left_mm, frame.top_mm + 2.4}, title, axis_style);
  const double pitch_mm = frame.width_mm() / steps;
  for (int step = 0; step < steps; ++step)
    ink.rectangle({frame.left_mm + step * pitch_mm, frame.top_mm + 3.4}, pitch_mm + 0.02, 2.6,
                  heat_colour((step + 0.5) / steps), std::nullopt);
  ink.rectangle({frame.left_mm, frame.top_mm + 3.4}, frame.width_mm(), 2.6, std::nullopt,
                Pen{colours::quiet, 0.12, {}});
  if (scale.high <= scale.low) return;
  const double step = scale.step > 0 ? scale.step : nice_step(scale.high - scale.low, 6);
  for (double at = std::ceil(scale.low / step - 1e-9) * step; at <= scale.high + step * 1e-6; at += step)
    ink.label(
        {frame.left_mm + (at - scale.low) / (scale.high - scale.low) * frame.width_mm(), frame.top_mm + 8.9},
        tick_text(at, step), anchored(axis_style, Anchor::middle));
}

}  // namespace firstdraw::paper
