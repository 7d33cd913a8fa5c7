#include "cli/page.hpp"

#include <algorithm>

namespace firstdraw::cli {
namespace {

constexpr int widest_prose = 110;  // longer lines are hard to read

}  // namespace

void Page::blank() {
  if (!text_.empty()) text_ += '\n';
}

void Page::heading(std::string_view text) {
  blank();
  for (const std::string& line : wrap(printable(text), width_))
    text_ += paint(line, Style::bold, colour_) + '\n';
}

void Page::paragraph(std::string_view text, std::string_view lead, Style lead_style) {
  const int indent = display_width(lead);
  const int width = std::max(1, std::min(width_, widest_prose) - indent);
  bool first = true;
  for (const std::string& line : wrap(printable(text), width)) {
    text_ += first ? paint(lead, lead_style, colour_) : pad_right("", indent);
    text_ += line + '\n';
    first = false;
  }
}

void Page::facts(const std::vector<std::pair<std::string, std::string>>& facts) {
  int widest = 0;
  for (const auto& [name, value] : facts) widest = std::max(widest, display_width(name));
  const bool below = 2 * widest > width_;
  for (const auto& [name, value] : facts) {
    if (below) verbatim(name);
    paragraph(value, below ? "      " : pad_right(name, widest + 2), Style::cyan);
  }
}

void Page::verbatim(std::string_view line) { text_ += paint(printable(line), Style::cyan, colour_) + '\n'; }

void Page::table(const TextTable& table) { text_ += table.render(width_, colour_); }

void Page::caution(std::string_view text) {
  blank();
  paragraph(text, "Caution: ", Style::yellow);
}

}  // namespace firstdraw::cli
