#include "paper/svg.hpp"

#include <fmt/format.h>

#include <cmath>

namespace firstdraw::paper {
namespace {

std::string escaped(std::string_view text) {
  std::string safe;
  for (const char letter : clean_text(text)) {
    switch (letter) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      default:
        safe += letter;
    }
  }
  return safe;
}

std::string hex(const Colour& colour) {
  const auto byte = [](double part) { return static_cast<int>(std::lround(part * 255)); };
  return fmt::format("#{:02x}{:02x}{:02x}", byte(colour.red), byte(colour.green), byte(colour.blue));
}

// Ids may hold what XML names may not.
std::string safe_id(std::string_view id) {
  std::string safe;
  for (const char letter : id) {
    const bool plain = (letter >= '0' && letter <= '9') || (letter >= 'A' && letter <= 'Z') ||
                       (letter >= 'a' && letter <= 'z') || letter == '-';
    safe += plain ? std::string(1, letter) : fmt::format("_{:02x}", static_cast<unsigned char>(letter));
  }
  return safe;
}

std::string stroke(const std::optional<Pen>& pen) {
  if (!pen) return "";
  std::string dashes;
  for (double dash : pen->dash_mm) dashes += fmt::format("{}{:.2f}", dashes.empty() ? "" : " ", dash);
  return fmt::format(" stroke=\"{}\" stroke-width=\"{:.3f}\"{}", hex(pen->colour), pen->width_mm,
                     dashes.empty() ? "" : " stroke-dasharray=\"" + dashes + "\"");
}

std::string points_text(std::span<const Point> points) {
  std::string text;
  for (const Point& point : points)
    text += fmt::format("{}{:.2f},{:.2f}", text.empty() ? "" : " ", point.x_mm, point.y_mm);
  return text;
}

std::string fill_of(std::optional<Colour> fill) { return fill ? hex(*fill) : "none"; }

}  // namespace

Svg::Svg(std::string_view title, const Frame& view, Typesetter& type) : type_(type) {
  text_ = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
      "width=\"{0:.2f}mm\" "
      "height=\"{1:.2f}mm\" viewBox=\"{2:.2f} {3:.2f} {0:.2f} {1:.2f}\" font-family=\"Inter, Arial, "
      "sans-serif\" "
      "stroke-linejoin=\"round\">\n<title>{4}</title>\n",
      view.width_mm(), view.height_mm(), view.left_mm, view.top_mm, escaped(title));
}

std::string Svg::finish() { return std::move(text_) + "</svg>\n"; }

void Svg::line(std::span<const Point> points, const Pen& pen) {
  text_ += fmt::format("<polyline fill=\"none\" points=\"{}\"{}/>\n", points_text(points), stroke(pen));
}

void Svg::area(std::span<const Point> outline, std::optional<Colour> fill, const std::optional<Pen>& pen) {
  text_ += fmt::format("<polygon fill=\"{}\" points=\"{}\"{}/>\n", fill_of(fill), points_text(outline),
                       stroke(pen));
}

void Svg::circle(Point centre, double radius_mm, std::optional<Colour> fill, const std::optional<Pen>& pen) {
  text_ += fmt::format("<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"{:.2f}\" fill=\"{}\"{}/>\n", centre.x_mm,
                       centre.y_mm, radius_mm, fill_of(fill), stroke(pen));
}

void Svg::label(Point at, std::string_view text, const TextStyle& style) {
  if (text.empty()) return;
  const char* anchor = style.anchor == Anchor::start    ? "start"
                       : style.anchor == Anchor::middle ? "middle"
                                                        : "end";
  text_ += fmt::format(
      "<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:.3f}\" font-weight=\"{}\" text-anchor=\"{}\" "
      "fill=\"{}\">{}</text>\n",
      at.x_mm, at.y_mm, style.size_pt * mm_per_pt, style.weight, anchor, hex(style.colour), escaped(text));
}

double Svg::label_width_mm(std::string_view text, const TextStyle& style) {
  return type_.width_mm(text, style);
}

void Svg::begin(std::string_view id, std::string_view title) {
  text_ += fmt::format("<g id=\"{}\"><title>{}</title>\n", safe_id(id), escaped(title));
}

void Svg::end() { text_ += "</g>\n"; }

}  // namespace firstdraw::paper
