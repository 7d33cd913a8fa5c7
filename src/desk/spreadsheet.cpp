#include "desk/spreadsheet.hpp"

#include <optional>

namespace firstdraw::desk {

namespace {

bool ends_cell(char c) { return c == '\t' || c == '\n' || c == '\r'; }

/// Text of a quoted cell and how many bytes it takes; none when its quote does not close before a cell's end.
std::optional<std::pair<std::string, std::size_t>> quoted(std::string_view text) {
  std::string cell;
  for (std::size_t i = 1; i < text.size(); ++i) {
    if (text[i] != '"') {
      cell += text[i];
    } else if (i + 1 < text.size() && text[i + 1] == '"') {
      cell += text[i++];
    } else {
      const bool closes = i + 1 == text.size() || ends_cell(text[i + 1]);
      return closes ? std::optional(std::pair(cell, i + 1)) : std::nullopt;
    }
  }
  return std::nullopt;
}

std::size_t line_end_size(std::string_view text) {
  if (text.starts_with("\r\n")) return 2;
  return text.starts_with('\n') || text.starts_with('\r') ? 1 : 0;
}

}  // namespace

std::vector<std::vector<std::string>> clipboard_cells(std::string_view text) {
  std::vector<std::vector<std::string>> rows;
  if (text.empty()) return rows;
  rows.emplace_back();
  while (true) {
    std::string cell;
    if (const auto whole = text.starts_with('"') ? quoted(text) : std::nullopt) {
      cell = whole->first;
      text.remove_prefix(whole->second);
    } else {
      const auto end = std::min(text.find_first_of("\t\r\n"), text.size());
      cell = text.substr(0, end);
      text.remove_prefix(end);
    }
    rows.back().push_back(std::move(cell));
    if (text.starts_with('\t')) {
      text.remove_prefix(1);
      continue;
    }
    text.remove_prefix(line_end_size(text));
    if (text.empty()) return rows;
    rows.emplace_back();
  }
}

}  // namespace firstdraw::desk
