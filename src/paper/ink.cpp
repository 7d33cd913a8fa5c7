#include "paper/ink.hpp"

#include <array>

namespace firstdraw::paper {

Pen circuit_pen(int index) {
  static constexpr std::array<Colour, 6> hues{{{0.00, 0.45, 0.70},
                                               {0.84, 0.37, 0.00},
                                               {0.00, 0.53, 0.39},
                                               {0.64, 0.28, 0.51},
                                               {0.10, 0.10, 0.10},
                                               {0.58, 0.41, 0.00}}};
  static const std::array<std::vector<double>, 4> dashes{{{}, {2.4, 0.8}, {1.0, 0.7}, {2.4, 0.7, 0.6, 0.7}}};
  const auto number = static_cast<std::size_t>(index < 0 ? 0 : index);
  return {hues[number % hues.size()], 0.62, dashes[(number / hues.size() + number) % dashes.size()]};
}

std::string fitted(Ink& ink, std::string_view text, const TextStyle& style, double width_mm) {
  std::string shown(text);
  while (!shown.empty() && ink.label_width_mm(shown, style) > width_mm) {
    std::string shorter =
        shown.ends_with("…") ? shown.substr(0, shown.size() - std::string_view("…").size()) : shown;
    while (!shorter.empty() && (static_cast<unsigned char>(shorter.back()) & 0xC0) == 0x80)
      shorter.pop_back();
    if (!shorter.empty()) shorter.pop_back();
    while (shorter.ends_with(' ')) shorter.pop_back();
    if (shorter.empty()) return "";
    shown = shorter + "…";
  }
  return shown;
}

}  // namespace firstdraw::paper
