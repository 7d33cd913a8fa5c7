// Setting text: the typeface Inter with tabular figures, measured and drawn by Pango.
// Sizes in points, everything else in millimetres.
#pragma once

#include <cairo.h>
#include <pango/pango.h>

#include <expected>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>

#include "paper/ink.hpp"

namespace firstdraw::paper {

inline constexpr double mm_per_pt = 25.4 / 72;

/// A block of text in a column.
struct TextBlock {
  std::string_view text;
  TextStyle style;
  double width_mm = 0;
  int max_lines = 0;  // 0: as many as it takes; otherwise the last one ends with an ellipsis
};

class Typesetter {
 public:
  /// Fails with one sentence when the typeface is not installed.
  static std::expected<Typesetter, std::string> create();

  /// Width of one line.
  double width_mm(std::string_view text, const TextStyle& style);
  double line_height_mm(const TextStyle& style);
  /// Height of a block; words longer than the column are broken, nothing ever overhangs.
  double height_mm(const TextBlock& block);
  /// Top left at `at` in the millimetres of `cairo`'s user space.
  void draw(cairo_t* cairo, const TextBlock& block, Point at);
  /// One line, baseline at `at`.
  void draw_line(cairo_t* cairo, std::string_view text, const TextStyle& style, Point at);
  /// Width of the longest word, which a column should not be narrower than.
  double longest_word_mm(std::string_view text, const TextStyle& style);

 private:
  struct Release {
    void operator()(void* object) const;
  };
  template <class T>
  using Held = std::unique_ptr<T, Release>;

  explicit Typesetter(PangoFontMap* map);
  void style_layout(const TextStyle& style);
  void set_block(const TextBlock& block);
  bool surely_one_line(const TextBlock& block);

  Held<PangoFontMap> map_;
  Held<PangoContext> context_;
  Held<PangoLayout> layout_;
  double styled_size_ = 0;
  int styled_weight_ = 0;
  bool styled_italic_ = false;
  std::unordered_map<std::string, double> widths_;  // by style and text
  std::unordered_map<std::string, double> heights_;
};

/// Valid UTF-8 without control characters; line ends stay.
std::string clean_text(std::string_view text);

}  // namespace firstdraw::paper
