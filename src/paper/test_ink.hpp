// For the tests of drawings: keeps every label with the room it takes.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "paper/type.hpp"

namespace firstdraw::paper {

class LabelKeeper final : public Ink {
 public:
  struct Label {
    std::string text;
    double size_pt = 0;
    Frame room;  // from the baseline up to the height of capitals
  };

  explicit LabelKeeper(Typesetter& type) : type_(type) {}

  using Ink::line;
  void line(std::span<const Point>, const Pen&) override {}
  void area(std::span<const Point>, std::optional<Colour>, const std::optional<Pen>&) override {}
  void circle(Point, double, std::optional<Colour>, const std::optional<Pen>&) override {}
  void label(Point at, std::string_view text, const TextStyle& style) override {
    if (text.empty()) return;
    constexpr double capitals = 0.73;  // of the size, in this typeface
    const double width_mm = type_.width_mm(text, style);
    const double left = style.anchor == Anchor::start    ? at.x_mm
                        : style.anchor == Anchor::middle ? at.x_mm - width_mm / 2
                                                         : at.x_mm - width_mm;
    labels.push_back({std::string(text),
                      style.size_pt,
                      {left, at.y_mm - capitals * style.size_pt * mm_per_pt, left + width_mm, at.y_mm}});
  }
  double label_width_mm(std::string_view text, const TextStyle& style) override {
    return type_.width_mm(text, style);
  }
  void begin(std::string_view id, std::string_view) override { ids.emplace_back(id); }
  void end() override {}

  /// "text / text" of every two labels that lie on each other.
  std::vector<std::string> clashes() const {
    constexpr double touch_mm = 0.05;
    std::vector<std::string> found;
    for (std::size_t a = 0; a < labels.size(); ++a)
      for (std::size_t b = a + 1; b < labels.size(); ++b) {
        const Frame &one = labels[a].room, &other = labels[b].room;
        const double wide = std::min(one.right_mm, other.right_mm) - std::max(one.left_mm, other.left_mm);
        const double high = std::min(one.bottom_mm, other.bottom_mm) - std::max(one.top_mm, other.top_mm);
        if (wide > touch_mm && high > touch_mm) found.push_back(labels[a].text + " / " + labels[b].text);
      }
    return found;
  }
  std::size_t count_of(const std::string& text) const {
    return static_cast<std::size_t>(std::ranges::count(labels, text, &Label::text));
  }
  std::vector<std::string> outside(double width_mm, double height_mm) const {
    std::vector<std::string> found;
    for (const Label& each : labels)
      if (each.room.left_mm < -0.01 || each.room.right_mm > width_mm + 0.01 || each.room.top_mm < -0.01 ||
          each.room.bottom_mm > height_mm + 0.01)
        found.push_back(each.text);
    return found;
  }

  std::vector<Label> labels;
  std::vector<std::string> ids;

 private:
  Typesetter& type_;
};

}  // namespace firstdraw::paper
