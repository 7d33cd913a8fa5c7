// Text being written for the terminal: headings, paragraphs and tables, wrapped to its width.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/terminal.hpp"
#include "cli/text.hpp"
#include "cli/text_table.hpp"

namespace firstdraw::cli {

class Page {
 public:
  Page(int width, bool colour) : width_(width), colour_(colour) {}

  void blank();
  /// A blank line (unless the page is empty) and the heading.
  void heading(std::string_view text);
  /// Wrapped text; the first line starts with `lead`, the others are indented below it.
  void paragraph(std::string_view text, std::string_view lead = "", Style lead_style = Style::plain);
  /// A line as it is, for commands to copy.
  void verbatim(std::string_view line);
  /// Names on the left, values wrapped on the right, or below where the names leave too little room.
  void facts(const std::vector<std::pair<std::string, std::string>>& facts);
  void table(const TextTable& table);
  /// The one yellow paragraph of a page on which someone might build.
  void caution(std::string_view text);

  const std::string& text() const { return text_; }

 private:
  int width_;
  bool colour_;
  std::string text_;
};

}  // namespace firstdraw::cli
