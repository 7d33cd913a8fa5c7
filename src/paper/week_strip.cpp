#include "paper/week_strip.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "paper/chart.hpp"

namespace firstdraw::paper {
namespace {

constexpr TextStyle title_style{7, 600, false, colours::accent};
constexpr TextStyle axis_style{6, 400, false, colours::quiet};
constexpr TextStyle day_style{5, 500, false, colours::text, Anchor::end};
constexpr double title_mm = 4, axis_mm = 3.2, names_mm = 7, day_s = 86400, quarter_s = 900;
constexpr std::size_t quarters = 96;
constexpr std::array<const char*, 7> day_names{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
const Pen block_pen{colours::quiet, 0.12, {}};

class Strip {
 public:
  Strip(Ink& ink, const Frame& frame, const WeekStrip& strip)
      : ink_(ink),
        strip_(strip),
        plot_{frame.left_mm + names_mm, frame.top_mm + title_mm, frame.right_mm - 1,
              frame.bottom_mm - axis_mm},
        row_mm_(plot_.height_mm() / 7) {
    for (std::size_t quarter = 0; quarter < 7 * quarters; ++quarter)
      held_c_.push_back(settings::set_point_c(*strip.timetable, static_cast<double>(quarter) * quarter_s));
    for (const auto& held : held_c_)
      if (held && std::isfinite(*held)) low_c_ = std::min(low_c_, *held), high_c_ = std::max(high_c_, *held);
    ink.label({frame.left_mm, frame.top_mm + 2.7}, fitted(ink, strip.title, title_style, frame.width_mm()),
              title_style);
  }

  void draw() {
    for (std::size_t day = 0; day < 7; ++day) {
      const double top_mm = plot_.top_mm + static_cast<double>(day) * row_mm_;
      ink_.label({plot_.left_mm - 1, top_mm + row_mm_ / 2 + 0.75}, day_names[day], day_style);
      for (std::size_t from = 0; from < quarters;) {
        std::size_t to = from + 1;
        while (to < quarters && held_c_[day * quarters + to] == held_c_[day * quarters + from]) ++to;
        block(held_c_[day * quarters + from], from, to, top_mm);
        from = to;
      }
    }
    for (int hour = 0; hour <= 24; hour += 6)
      ink_.label({x_mm(static_cast<double>(hour) * 3600), plot_.bottom_mm + 2.6},
                 fmt::format("{:02}:00", hour),
                 {axis_style.size_pt, 400, false, colours::quiet, hour == 24 ? Anchor::end : Anchor::middle});
  }

 private:
  double x_mm(double of_day_s) const { return plot_.left_mm + of_day_s / day_s * plot_.width_mm(); }

  void block(const std::optional<double>& held, std::size_t from, std::size_t to, double top_mm) {
    const double left_mm = x_mm(static_cast<double>(from) * quarter_s),
                 right_mm = x_mm(static_cast<double>(to) * quarter_s);
    const bool on = held && std::isfinite(*held);
    const Colour fill = on ? heat_colour(shade(*held)) : colours::white;
    ink_.rectangle({left_mm, top_mm}, right_mm - left_mm, row_mm_, fill, block_pen);
    const std::string text = on ? number(*held) : "off";
    const TextStyle style{5, on ? 500 : 400, false, ink_on(fill), Anchor::middle};
    if (ink_.label_width_mm(text, style) < right_mm - left_mm - 0.6)
      ink_.label({(left_mm + right_mm) / 2, top_mm + row_mm_ / 2 + 0.65}, text, style);
    else if (!on)
      ink_.line({left_mm, top_mm + row_mm_}, {right_mm, top_mm}, block_pen);
  }

  /// One set-point is pale, several reach up to a dark that still lets grey print tell them apart.
  double shade(double held_c) const {
    constexpr double palest = 0.12, darkest = 0.78;
    return high_c_ > low_c_ ? std::lerp(palest, darkest, (held_c - low_c_) / (high_c_ - low_c_)) : 0.3;
  }
  std::string number(double held_c) const {
    return units::show(held_c, units::Kind::temperature, strip_.system);
  }

  Ink& ink_;
  const WeekStrip& strip_;
  Frame plot_;
  double row_mm_;
  std::vector<std::optional<double>> held_c_;
  double low_c_ = INFINITY, high_c_ = -INFINITY;
};

}  // namespace

void draw_week_strip(Ink& ink, const Frame& frame, const WeekStrip& strip) {
  if (strip.timetable) Strip(ink, frame, strip).draw();
}

}  // namespace firstdraw::paper
