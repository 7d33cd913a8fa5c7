// Bars made of parts: sums by row.
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "paper/chart.hpp"

namespace firstdraw::paper {
namespace {

constexpr TextStyle title_style{8, 600, false, colours::accent};
constexpr TextStyle axis_style{6.5, 400, false, colours::quiet};
constexpr TextStyle name_style{6.5, 500};
constexpr double title_mm = 4.4, legend_mm = 4.6, axis_mm = 8, bar_row_mm = 7, hatch_mm = 1.1;
constexpr std::array<Colour, 3> fills{{{0.72, 0.83, 0.91}, {0.97, 0.90, 0.78}, {1, 1, 1}}};
const Pen edge_pen{colours::text, 0.15, {}};
const Pen hatch_pen{colours::text, 0.12, {}};
const Pen grid_pen{{0.86, 0.88, 0.90}, 0.12, {}};

TextStyle anchored(TextStyle style, Anchor anchor) {
  style.anchor = anchor;
  return style;
}

class Stacks {
 public:
  Stacks(Ink& ink, const Frame& frame, const StackedBarChart& chart)
      : ink_(ink), whole_(frame), chart_(chart) {
    double names_mm = 0, texts_mm = 0, high = 0, low = 0;
    for (const StackedBar& bar : chart.bars) {
      names_mm = std::max(names_mm, ink.label_width_mm(bar.name, name_style));
      texts_mm = std::max(texts_mm, ink.label_width_mm(bar.text, name_style));
      high = std::max(high, end_of(bar));
      for (const double part : bar.parts)
        if (std::isfinite(part)) low = std::min(low, part);
    }
    plot_ = {frame.left_mm + std::min(names_mm, frame.width_mm() * 0.3) + 2,
             frame.top_mm + title_mm + legend_mm,
             frame.right_mm - std::min(texts_mm, frame.width_mm() * 0.3) - 3, frame.bottom_mm - axis_mm};
    axis_ = settle(chart.x, low, high > low ? high : low + 1,
                   std::max(3, static_cast<int>(plot_.width_mm() / 20)));
  }

  void draw() {
    ink_.label({whole_.left_mm, whole_.top_mm + 3.2},
               fitted(ink_, chart_.title, title_style, whole_.width_mm()), title_style);
    legend();
    for (const Tick& tick : axis_.ticks) {
      ink_.line({x_mm(tick.at), plot_.top_mm}, {x_mm(tick.at), plot_.bottom_mm}, grid_pen);
      ink_.label({x_mm(tick.at), plot_.bottom_mm + 3}, tick.text, anchored(axis_style, Anchor::middle));
    }
    ink_.label({plot_.right_mm, plot_.bottom_mm + 6.2}, axis_.title, anchored(axis_style, Anchor::end));
    const double row_mm =
        plot_.height_mm() / static_cast<double>(std::max<std::size_t>(chart_.bars.size(), 1));
    for (std::size_t each = 0; each < chart_.bars.size(); ++each)
      bar(chart_.bars[each], plot_.top_mm + (static_cast<double>(each) + 0.5) * row_mm,
          std::min(row_mm, 9.0));
  }

 private:
  static double end_of(const StackedBar& bar) {
    double sum = 0;
    for (const double part : bar.parts)
      if (std::isfinite(part)) sum += std::max(part, 0.0);
    return sum;
  }
  double x_mm(double value) const {
    return plot_.left_mm + std::clamp(axis_.share(value), 0.0, 1.0) * plot_.width_mm();
  }

  void filled(const Frame& box, std::size_t part) {
    ink_.rectangle({box.left_mm, box.top_mm}, box.width_mm(), box.height_mm(), fills.at(part % fills.size()),
                   edge_pen);
    if (part % fills.size() != 1) return;
    const double rise = box.height_mm();
    for (double x = box.left_mm - rise + hatch_mm; x < box.right_mm; x += hatch_mm) {
      const double from = std::max(x, box.left_mm), to = std::min(x + rise, box.right_mm);
      if (to > from) ink_.line({from, box.bottom_mm - (from - x)}, {to, box.bottom_mm - (to - x)}, hatch_pen);
    }
  }

  void legend() {
    double left_mm = plot_.left_mm;
    const double top_mm = whole_.top_mm + title_mm + 0.6;
    for (std::size_t part = 0; part < chart_.parts.size(); ++part) {
      filled({left_mm, top_mm, left_mm + 5, top_mm + 2.4}, part);
      ink_.label({left_mm + 6, top_mm + 2}, chart_.parts[part], name_style);
      left_mm += 11 + ink_.label_width_mm(chart_.parts[part], name_style);
    }
  }

  void bar(const StackedBar& bar, double y_mm, double row_mm) {
    const double half_mm = row_mm * 0.34;
    ink_.label({plot_.left_mm - 1.5, y_mm + 0.8},
               fitted(ink_, bar.name, name_style, plot_.left_mm - whole_.left_mm - 2),
               anchored(name_style, Anchor::end));
    double from = 0;
    for (std::size_t part = 0; part < bar.parts.size(); ++part) {
      if (!std::isfinite(bar.parts[part]) || bar.parts[part] == 0) continue;
      const double to = from + bar.parts[part];
      filled({x_mm(std::min(from, to)), y_mm - half_mm, x_mm(std::max(from, to)), y_mm + half_mm}, part);
      from = std::max(from, to);
    }
    ink_.label({plot_.right_mm + 2, y_mm + 0.8},
               fitted(ink_, bar.text, name_style, whole_.right_mm - plot_.right_mm - 2), name_style);
  }

  Ink& ink_;
  Frame whole_, plot_;
  const StackedBarChart& chart_;
  SettledAxis axis_;
};

}  // namespace

double bar_chart_height_mm(const StackedBarChart& chart) {
  return title_mm + legend_mm + axis_mm + bar_row_mm * static_cast<double>(chart.bars.size());
}

void draw_chart(Ink& ink, const Frame& frame, const StackedBarChart& chart) {
  Stacks(ink, frame, chart).draw();
}

}  // namespace firstdraw::paper
