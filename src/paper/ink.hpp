// What every drawing is made with: lines, areas and short texts in millimetres. The PDF page and the SVG file
// both take it, so that a drawing is described once.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "paper/drawing.hpp"

namespace firstdraw::paper {

struct Colour {
  double red = 0, green = 0, blue = 0;  // 0..1
};

namespace colours {
inline constexpr Colour text{0.10, 0.12, 0.14};
inline constexpr Colour quiet{0.36, 0.40, 0.44};   // captions, units: 6:1 on white
inline constexpr Colour accent{0.09, 0.24, 0.36};  // headings and strong rules
inline constexpr Colour rule{0.70, 0.74, 0.77};
inline constexpr Colour zebra{0.957, 0.965, 0.972};
inline constexpr Colour band{0.925, 0.94, 0.955};
inline constexpr Colour warning{0.60, 0.16, 0.05};
inline constexpr Colour white{1, 1, 1};
}  // namespace colours

/// A rectangle to draw in.
struct Frame {
  double left_mm = 0, top_mm = 0, right_mm = 0, bottom_mm = 0;
  double width_mm() const { return right_mm - left_mm; }
  double height_mm() const { return bottom_mm - top_mm; }
};

struct Pen {
  Colour colour = colours::text;
  double width_mm = 0.2;
  std::vector<double> dash_mm;  // empty: solid
};

enum class Anchor { start, middle, end };

struct TextStyle {
  double size_pt = 8;
  int weight = 400;  // 400 regular, 500 medium, 600 semi-bold
  bool italic = false;
  Colour colour = colours::text;
  Anchor anchor = Anchor::start;
};

/// y grows downwards; the origin is the drawing's own.
class Ink {
 public:
  virtual ~Ink() = default;
  virtual void line(std::span<const Point> points, const Pen& pen) = 0;
  virtual void area(std::span<const Point> outline, std::optional<Colour> fill,
                    const std::optional<Pen>& pen) = 0;
  virtual void circle(Point centre, double radius_mm, std::optional<Colour> fill,
                      const std::optional<Pen>& pen) = 0;
  /// One line of text whose baseline starts, is centred or ends at `at`.
  virtual void label(Point at, std::string_view text, const TextStyle& style) = 0;
  virtual double label_width_mm(std::string_view text, const TextStyle& style) = 0;
  /// What follows belongs to one thing of the job, for those who read the file with a program or a screen
  /// reader.
  virtual void begin(std::string_view id, std::string_view title) = 0;
  virtual void end() = 0;

  void line(Point from, Point to, const Pen& pen) {
    const Point both[] = {from, to};
    line(both, pen);
  }
  void rectangle(Point top_left, double width_mm, double height_mm, std::optional<Colour> fill,
                 const std::optional<Pen>& pen) {
    const auto [x, y] = top_left;
    const Point corners[] = {{x, y}, {x + width_mm, y}, {x + width_mm, y + height_mm}, {x, y + height_mm}};
    area(corners, fill, pen);
  }
};

/// How circuit number `index` is drawn: six colours that colour-blind readers tell apart (after Okabe and
/// Ito, "Color Universal Design", 2002), each with four dash patterns, so that the first 24 differ in black
/// and white too when read with the label beside the line.
Pen circuit_pen(int index);

/// `text` cut with an ellipsis so that it is at most `width_mm` wide.
std::string fitted(Ink& ink, std::string_view text, const TextStyle& style, double width_mm);

}  // namespace firstdraw::paper
