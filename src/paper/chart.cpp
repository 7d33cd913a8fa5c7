// Lines and bands over two axes.
#include "paper/chart.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::paper {
namespace {

constexpr TextStyle title_style{8, 600, false, colours::accent};
constexpr TextStyle axis_style{6.5, 400, false, colours::quiet};
constexpr TextStyle name_style{6.5, 500};
constexpr Colour region_fill{0.975, 0.935, 0.86};
constexpr Colour good_fill{0.86, 0.925, 0.965}, bad_fill{0.975, 0.875, 0.80};
const Pen grid_pen{{0.86, 0.88, 0.90}, 0.12, {}};
const Pen frame_pen{colours::quiet, 0.2, {}};
const Pen hatch_pen{{0.90, 0.72, 0.60}, 0.12, {}};
const Pen limit_pen{colours::warning, 0.3, {1.6, 0.6, 0.3, 0.6}};
constexpr double row_mm = 3.1, sample_mm = 5, names_gap_mm = 1.8, longest_name_mm = 46;

Pen pen_of(int look, double width_mm) {
  Pen pen = circuit_pen(look);
  pen.width_mm = width_mm;
  return pen;
}

Colour paler(const Colour& colour) {
  constexpr double white = 0.78;
  return {std::lerp(colour.red, 1.0, white), std::lerp(colour.green, 1.0, white),
          std::lerp(colour.blue, 1.0, white)};
}

/// Least and largest of what is finite.
struct Extent {
  double low = std::nan(""), high = std::nan("");
  void add(double value) {
    if (!std::isfinite(value)) return;
    low = std::isnan(low) ? value : std::min(low, value);
    high = std::isnan(high) ? value : std::max(high, value);
  }
  void add(std::span<const double> values) {
    for (const double value : values) add(value);
  }
};

/// A name beside the plot, at the height of what it names.
struct SideName {
  double y_mm = 0;
  std::string text;
  std::optional<Pen> sample;
  std::optional<Colour> fill;
};

class Plot {
 public:
  Plot(Ink& ink, const Frame& frame, const LineChart& chart) : ink_(ink), chart_(chart), whole_(frame) {
    settle_axes();
    lay_out();
  }

  void draw() {
    regions();
    patches();
    rules();
    for (const ChartBand& each : chart_.bands) band(each);
    for (const ChartLine& each : chart_.lines) line(each);
    limits();
    marks();
    ink_.rectangle({plot_.left_mm, plot_.top_mm}, plot_.width_mm(), plot_.height_mm(), std::nullopt,
                   frame_pen);
    texts();
    side_names();
  }

 private:
  void settle_axes() {
    Extent xs, ys;
    for (const ChartLine& each : chart_.lines) xs.add(each.x), ys.add(each.y);
    for (const ChartBand& each : chart_.bands) xs.add(each.x), ys.add(each.low), ys.add(each.high);
    for (const ChartLimit& each : chart_.limits) ys.add(each.value);
    for (const ChartMark& each : chart_.marks) xs.add(each.x), ys.add(each.y);
    x_ = settle(chart_.x, xs.low, xs.high, std::max(3, static_cast<int>(whole_.width_mm() / 22)));
    y_ = settle(chart_.y, ys.low, ys.high, std::max(2, static_cast<int>(whole_.height_mm() / 10)));
  }

  void lay_out() {
    double ticks_mm = 0, names_mm = 0;
    if (!chart_.same_ticks_as.empty()) ticks_mm = ink_.label_width_mm(chart_.same_ticks_as, axis_style);
    for (const Tick& tick : y_.ticks)
      ticks_mm = std::max(ticks_mm, ink_.label_width_mm(tick.text, axis_style));
    const auto name = [&](const std::string& text) {
      if (!text.empty())
        names_mm = std::max(names_mm, sample_mm + names_gap_mm + 1.4 + ink_.label_width_mm(text, name_style));
    };
    for (const ChartLine& each : chart_.lines) name(each.name);
    for (const ChartBand& each : chart_.bands) name(each.name);
    for (const ChartLimit& each : chart_.limits) name(each.name);
    for (const ChartRegion& each : chart_.regions) name(each.name);
    for (const ChartMark& each : chart_.marks) name(each.name);
    name(chart_.same_room_as);
    const bool headed = !chart_.title.empty() || !y_.title.empty();
    plot_ = {whole_.left_mm + ticks_mm + 2, whole_.top_mm + (headed ? 5.2 : 1.2),
             whole_.right_mm - std::max(3.0, std::min(names_mm, longest_name_mm)),
             whole_.bottom_mm - (x_.title.empty() ? 4.2 : 7.4)};
  }

  double x_mm(double x) const { return plot_.left_mm + x_.share(x) * plot_.width_mm(); }
  double y_mm(double y) const { return plot_.bottom_mm - y_.share(y) * plot_.height_mm(); }
  double within_x_mm(double x) const {
    return x <= x_.low ? plot_.left_mm : std::min(x_mm(x), plot_.right_mm);
  }
  double within_mm(double y) const { return std::clamp(y_mm(y), plot_.top_mm, plot_.bottom_mm); }

  void regions() {
    for (const ChartRegion& region : chart_.regions) {
      const double top = within_mm(region.high), bottom = within_mm(region.low);
      if (bottom - top < 0.1) continue;
      ink_.rectangle({plot_.left_mm, top}, plot_.width_mm(), bottom - top, region_fill, std::nullopt);
      names_.push_back({(top + bottom) / 2, region.name, std::nullopt, region_fill});
    }
  }

  void patches() {
    for (const ChartPatch& patch : chart_.patches) {
      const Frame area = area_of(patch);
      if (area.width_mm() < 0.1 || area.height_mm() < 0.1) continue;
      const bool good = patch.look == ChartPatch::Look::good;
      ink_.rectangle({area.left_mm, area.top_mm}, area.width_mm(), area.height_mm(),
                     good ? good_fill : bad_fill, frame_pen);
      if (!good) hatch(area);
    }
    for (const ChartPatch& patch : chart_.patches) patch_name(patch);
  }

  Frame area_of(const ChartPatch& patch) const {
    return {within_x_mm(patch.x_low), within_mm(patch.y_high), within_x_mm(patch.x_high),
            within_mm(patch.y_low)};
  }

  // At the edge that is the patch's own: good ones end at the top, bad ones begin at the bottom.
  void patch_name(const ChartPatch& patch) {
    const Frame area = area_of(patch);
    const bool good = patch.look == ChartPatch::Look::good;
    TextStyle style = name_style;
    style.anchor = good ? Anchor::start : Anchor::end;
    if (area.height_mm() < row_mm || ink_.label_width_mm(patch.name, style) > area.width_mm() - 1.5) return;
    ink_.label(
        {good ? area.left_mm + 1 : area.right_mm - 0.7, good ? area.top_mm + 2.6 : area.bottom_mm - 0.9},
        patch.name, style);
  }

  void hatch(const Frame& area) {
    constexpr double every_mm = 3;
    const double rise = area.height_mm();
    for (double x = area.left_mm - rise + every_mm; x < area.right_mm; x += every_mm) {
      const double from = std::max(x, area.left_mm), to = std::min(x + rise, area.right_mm);
      if (to > from)
        ink_.line({from, area.bottom_mm - (from - x)}, {to, area.bottom_mm - (to - x)}, hatch_pen);
    }
  }

  void rules() {
    for (const Tick& tick : x_.ticks)
      if (tick.at >= x_.low && tick.at <= x_.high)
        ink_.line({x_mm(tick.at), plot_.top_mm}, {x_mm(tick.at), plot_.bottom_mm}, grid_pen);
    for (const Tick& tick : y_.ticks)
      ink_.line({plot_.left_mm, y_mm(tick.at)}, {plot_.right_mm, y_mm(tick.at)}, grid_pen);
  }

  void texts() {
    TextStyle number = axis_style;
    number.anchor = Anchor::end;
    for (const Tick& tick : y_.ticks) ink_.label({plot_.left_mm - 1, y_mm(tick.at) + 0.8}, tick.text, number);
    number.anchor = Anchor::middle;
    for (const Tick& tick : x_.ticks) {
      const double half_mm = ink_.label_width_mm(tick.text, number) / 2;
      const double middle_mm =
          std::clamp(x_mm(tick.text_at), whole_.left_mm + half_mm, whole_.right_mm - half_mm);
      ink_.label({middle_mm, plot_.bottom_mm + 3}, tick.text, number);
    }
    number.anchor = Anchor::end;
    ink_.label({plot_.right_mm, plot_.bottom_mm + 6.2}, x_.title, number);
    const double unit_mm = ink_.label_width_mm(y_.title, axis_style) + 4, y = whole_.top_mm + 3.2;
    const std::string title = fitted(ink_, chart_.title, title_style, whole_.width_mm() - unit_mm);
    ink_.label({whole_.left_mm, y}, title, title_style);
    const double title_mm = title.empty() ? 0 : ink_.label_width_mm(title, title_style) + 3;
    ink_.label({whole_.left_mm + title_mm, y}, y_.title, axis_style);
  }

  /// What of a polyline lies within the plot, in pieces.
  void clipped_line(std::span<const Point> points, const Pen& pen) {
    std::vector<Point> piece;
    const auto flush = [&] {
      if (piece.size() > 1) ink_.line(piece, pen);
      piece.clear();
    };
    for (std::size_t each = 1; each < points.size(); ++each) {
      Point from = points[each - 1], to = points[each];
      if (!clip(from, to)) {
        flush();
        continue;
      }
      if (piece.empty() || std::hypot(piece.back().x_mm - from.x_mm, piece.back().y_mm - from.y_mm) > 1e-6) {
        flush();
        piece.push_back(from);
      }
      piece.push_back(to);
    }
    flush();
  }

  // Liang and Barsky 1984.
  bool clip(Point& from, Point& to) const {
    const double dx = to.x_mm - from.x_mm, dy = to.y_mm - from.y_mm;
    double begin = 0, end = 1;
    const auto side = [&](double direction, double room) {
      if (direction == 0) return room >= 0;
      const double t = room / direction;
      (direction < 0 ? begin : end) = direction < 0 ? std::max(begin, t) : std::min(end, t);
      return begin <= end;
    };
    if (!side(-dx, from.x_mm - plot_.left_mm) || !side(dx, plot_.right_mm - from.x_mm) ||
        !side(-dy, from.y_mm - plot_.top_mm) || !side(dy, plot_.bottom_mm - from.y_mm))
      return false;
    const Point origin = from;
    from = {origin.x_mm + begin * dx, origin.y_mm + begin * dy};
    to = {origin.x_mm + end * dx, origin.y_mm + end * dy};
    return true;
  }

  /// Of many points on the same hair's breadth the first, lowest, highest and last: the line looks the same.
  static std::vector<Point> thinned(const std::vector<Point>& points) {
    constexpr double hair_mm = 0.12;
    std::vector<Point> kept;
    for (std::size_t first = 0; first < points.size();) {
      std::size_t next = first + 1, low = first, high = first;
      for (; next < points.size() && points[next].x_mm - points[first].x_mm < hair_mm; ++next) {
        if (points[next].y_mm < points[low].y_mm) low = next;
        if (points[next].y_mm > points[high].y_mm) high = next;
      }
      std::size_t last_kept = points.size();
      for (const std::size_t each : {first, std::min(low, high), std::max(low, high), next - 1})
        if (each != last_kept) kept.push_back(points[last_kept = each]);
      first = next;
    }
    return kept;
  }

  void line(const ChartLine& each) {
    const Pen pen = pen_of(each.look, each.width_mm);
    std::vector<Point> points;
    double end_mm = std::nan("");
    const auto flush = [&] {
      clipped_line(thinned(points), pen);
      points.clear();
    };
    for (std::size_t i = 0; i < std::min(each.x.size(), each.y.size()); ++i) {
      if (!std::isfinite(each.y[i]) || !std::isfinite(each.x[i])) {
        flush();
        continue;
      }
      const Point at{x_mm(each.x[i]), y_mm(each.y[i])};
      if (each.steps && !points.empty()) points.push_back({at.x_mm, points.back().y_mm});
      points.push_back(at);
      if (each.x[i] <= x_.high) end_mm = within_mm(each.y[i]);
    }
    flush();
    if (!each.name.empty() && !std::isnan(end_mm)) names_.push_back({end_mm, each.name, pen, std::nullopt});
  }

  void band(const ChartBand& each) {
    const Colour fill = paler(circuit_pen(each.look).colour);
    std::vector<Point> upper, lower;
    double middle_mm = std::nan("");
    const auto flush = [&] {
      upper.insert(upper.end(), lower.rbegin(), lower.rend());
      if (upper.size() > 2) ink_.area(upper, fill, std::nullopt);
      upper.clear();
      lower.clear();
    };
    for (std::size_t i = 0; i < each.x.size(); ++i) {
      if (!std::isfinite(each.low[i]) || !std::isfinite(each.high[i])) {
        flush();
        continue;
      }
      const double x = std::clamp(x_mm(each.x[i]), plot_.left_mm, plot_.right_mm);
      upper.push_back({x, within_mm(each.high[i])});
      lower.push_back({x, within_mm(each.low[i])});
      middle_mm = (upper.back().y_mm + lower.back().y_mm) / 2;
    }
    flush();
    if (!each.name.empty() && !std::isnan(middle_mm))
      names_.push_back({middle_mm + 0.01, each.name, std::nullopt, fill});
  }

  void limits() {
    for (const ChartLimit& limit : chart_.limits) {
      if (limit.value < y_.low || limit.value > y_.high) continue;
      const double y = y_mm(limit.value);
      ink_.line({plot_.left_mm, y}, {plot_.right_mm, y}, limit_pen);
      names_.push_back({y, limit.name, limit_pen, std::nullopt});
    }
  }

  void marks() {
    const Pen pen{colours::text, 0.3, {}};
    for (const ChartMark& mark : chart_.marks) {
      if (!std::isfinite(mark.x) || !std::isfinite(mark.y)) continue;
      const Point at{within_x_mm(mark.x), within_mm(mark.y)};
      ink_.circle(at, mark.chosen ? 1.3 : 0.8, mark.chosen ? colours::text : colours::white, pen);
      if (!mark.name.empty()) names_.push_back({at.y_mm, mark.name, std::nullopt, std::nullopt});
    }
  }

  // From the top down, each below the one before; what does not fit at the bottom pushes back up.
  void spread_names() {
    std::ranges::stable_sort(names_, {}, &SideName::y_mm);
    double next_mm = plot_.top_mm + row_mm / 2;
    for (SideName& name : names_) next_mm = (name.y_mm = std::max(name.y_mm, next_mm)) + row_mm;
    double last_mm = plot_.bottom_mm + 1;
    for (auto name = names_.rbegin(); name != names_.rend(); ++name)
      last_mm = (name->y_mm = std::min(name->y_mm, last_mm)) - row_mm;
  }

  void side_names() {
    std::vector<double> own_mm;
    std::ranges::stable_sort(names_, {}, &SideName::y_mm);
    for (const SideName& name : names_) own_mm.push_back(name.y_mm);
    spread_names();
    const double x = plot_.right_mm + names_gap_mm, room_mm = whole_.right_mm - x - sample_mm - 0.9;
    for (std::size_t each = 0; each < names_.size(); ++each) {
      const SideName& name = names_[each];
      ink_.line({plot_.right_mm, own_mm[each]}, {x, name.y_mm}, {colours::quiet, 0.1, {}});
      if (name.fill)
        ink_.rectangle({x, name.y_mm - 1.1}, sample_mm, 2.2, name.fill, Pen{colours::rule, 0.1, {}});
      if (name.sample) ink_.line({x, name.y_mm}, {x + sample_mm, name.y_mm}, *name.sample);
      ink_.label({x + sample_mm + 1, name.y_mm + 0.8}, fitted(ink_, name.text, name_style, room_mm),
                 name_style);
    }
  }

  Ink& ink_;
  const LineChart& chart_;
  Frame whole_, plot_;
  SettledAxis x_, y_;
  std::vector<SideName> names_;
};

}  // namespace

void draw_chart(Ink& ink, const Frame& frame, const LineChart& chart) { Plot(ink, frame, chart).draw(); }

}  // namespace firstdraw::paper
