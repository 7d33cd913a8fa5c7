#include "paper/fit_label.hpp"

#include <algorithm>

namespace firstdraw::paper {

void fit_label(Ink& ink, Point at, std::string_view text, TextStyle style, double width_mm) {
  const double wide_mm = ink.label_width_mm(text, style);
  if (wide_mm > width_mm)
    style.size_pt = std::min(style.size_pt, std::max(least_label_pt, style.size_pt * width_mm / wide_mm));
  ink.label(at, fitted(ink, text, style, width_mm), style);
}

}  // namespace firstdraw::paper
