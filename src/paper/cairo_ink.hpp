// Ink on a cairo surface whose user space is in millimetres: a page or a bitmap.
#pragma once

#include <cairo.h>

#include "paper/type.hpp"

namespace firstdraw::paper {

class CairoInk : public Ink {
 public:
  /// Without a surface nothing is drawn, but texts can be measured.
  CairoInk(Typesetter& type, cairo_surface_t* surface);
  ~CairoInk() override;
  CairoInk(const CairoInk&) = delete;
  CairoInk& operator=(const CairoInk&) = delete;

  using Ink::line;
  void line(std::span<const Point> points, const Pen& pen) override;
  void area(std::span<const Point> outline, std::optional<Colour> fill,
            const std::optional<Pen>& pen) override;
  void circle(Point centre, double radius_mm, std::optional<Colour> fill,
              const std::optional<Pen>& pen) override;
  void label(Point at, std::string_view text, const TextStyle& style) override;
  double label_width_mm(std::string_view text, const TextStyle& style) override;
  void begin(std::string_view, std::string_view) override {}
  void end() override {}

 protected:
  Typesetter& type_;
  cairo_t* cairo_ = nullptr;

 private:
  void trace(std::span<const Point> points, bool closed);
  void paint(std::optional<Colour> fill, const std::optional<Pen>& pen);
};

}  // namespace firstdraw::paper
