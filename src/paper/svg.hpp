// Drawings as SVG files, with text as text, a title for every thing, and the same bytes for the same drawing.
#pragma once

#include <string>

#include "paper/page.hpp"

namespace firstdraw::paper {

class Svg final : public Ink {
 public:
  /// `view`: what of the drawing's millimetres is shown.
  Svg(std::string_view title, const Frame& view, Typesetter& type);
  /// The whole file; nothing can be drawn after it.
  std::string finish();

  using Ink::line;
  void line(std::span<const Point> points, const Pen& pen) override;
  void area(std::span<const Point> outline, std::optional<Colour> fill,
            const std::optional<Pen>& pen) override;
  void circle(Point centre, double radius_mm, std::optional<Colour> fill,
              const std::optional<Pen>& pen) override;
  void label(Point at, std::string_view text, const TextStyle& style) override;
  double label_width_mm(std::string_view text, const TextStyle& style) override;
  void begin(std::string_view id, std::string_view title) override;
  void end() override;

 private:
  std::string text_;
  Typesetter& type_;
};

}  // namespace firstdraw::paper
