// Labels of drawings that must stay inside their box.
#pragma once

#include <string_view>

#include "paper/ink.hpp"

namespace firstdraw::paper {

/// What is still read at arm's length in a dim room.
inline constexpr double least_label_pt = 6;

/// One line at most `width_mm` wide: in smaller type first, down to `least_label_pt`, then cut with an
/// ellipsis.
void fit_label(Ink& ink, Point at, std::string_view text, TextStyle style, double width_mm);

}  // namespace firstdraw::paper
