#include "paper/cairo_ink.hpp"

#include <numbers>

namespace firstdraw::paper {

CairoInk::CairoInk(Typesetter& type, cairo_surface_t* surface) : type_(type) {
  if (surface) cairo_ = cairo_create(surface);
}

CairoInk::~CairoInk() {
  if (cairo_) cairo_destroy(cairo_);
}

void CairoInk::trace(std::span<const Point> points, bool closed) {
  cairo_new_path(cairo_);
  for (const Point& point : points) cairo_line_to(cairo_, point.x_mm, point.y_mm);
  if (closed) cairo_close_path(cairo_);
}

void CairoInk::paint(std::optional<Colour> fill, const std::optional<Pen>& pen) {
  if (fill) {
    cairo_set_source_rgb(cairo_, fill->red, fill->green, fill->blue);
    cairo_fill_preserve(cairo_);
  }
  if (pen) {
    cairo_set_source_rgb(cairo_, pen->colour.red, pen->colour.green, pen->colour.blue);
    cairo_set_line_width(cairo_, pen->width_mm);
    cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
    cairo_set_dash(cairo_, pen->dash_mm.data(), static_cast<int>(pen->dash_mm.size()), 0);
    cairo_stroke_preserve(cairo_);
  }
  cairo_new_path(cairo_);
}

void CairoInk::line(std::span<const Point> points, const Pen& pen) {
  if (!cairo_ || points.size() < 2) return;
  trace(points, false);
  paint(std::nullopt, pen);
}

void CairoInk::area(std::span<const Point> outline, std::optional<Colour> fill,
                    const std::optional<Pen>& pen) {
  if (!cairo_ || outline.empty()) return;
  trace(outline, true);
  paint(fill, pen);
}

void CairoInk::circle(Point centre, double radius_mm, std::optional<Colour> fill,
                      const std::optional<Pen>& pen) {
  if (!cairo_) return;
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x_mm, centre.y_mm, radius_mm, 0, 2 * std::numbers::pi);
  paint(fill, pen);
}

void CairoInk::label(Point at, std::string_view text, const TextStyle& style) {
  if (cairo_ && !text.empty()) type_.draw_line(cairo_, text, style, at);
}

double CairoInk::label_width_mm(std::string_view text, const TextStyle& style) {
  return type_.width_mm(text, style);
}

}  // namespace firstdraw::paper
