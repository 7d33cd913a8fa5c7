#include "desk/toml_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/columns.hpp"

namespace firstdraw::desk {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::vector<std::size_t> line_starts(std::string_view text) {
  std::vector<std::size_t> starts{text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0};
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n') starts.push_back(i + 1);
  return starts;
}

std::string inline_table(const std::vector<TomlPair>& pairs) {
  std::string out;
  for (const auto& [key, value] : pairs) out += fmt::format("{}{} = {}", out.empty() ? "" : ", ", key, value);
  return out.empty() ? "{}" : "{ " + out + " }";
}

/// One thing of a list in brackets or braces, with what must go when it goes.
struct Part {
  std::size_t begin = 0, end = 0;
};

/// What to cut to take one part out of a list.
TextSpan cut(const std::vector<Part>& parts, std::size_t index) {
  if (index > 0) return {parts[index - 1].end, parts[index].end};
  if (parts.size() > 1) return {parts[0].begin, parts[1].begin};
  return {parts[0].begin, parts[0].end};
}

}  // namespace

std::expected<TomlSheet, TomlSheet::Error> TomlSheet::parse(std::string text) {
  TomlSheet sheet;
  sheet.text_ = std::move(text);
  sheet.newline_ = sheet.text_.find("\r\n") == std::string::npos ? "\n" : "\r\n";
  try {
    sheet.reparse();
  } catch (const toml::parse_error& error) {
    const auto& begin = error.source().begin;
    return std::unexpected(Error{std::string(error.description()), static_cast<int>(begin.line),
                                 static_cast<int>(begin.column)});
  }
  return sheet;
}

void TomlSheet::reparse() {
  root_ = toml::parse(text_);
  lines_ = line_starts(text_);
}

void TomlSheet::splice(TextSpan span, const std::string& with) {
  text_.replace(span.begin, span.end - span.begin, with);
  reparse();
}

std::size_t TomlSheet::rows(const std::string& section) const {
  const auto* node = root_.get(section);
  if (!node) return 0;
  if (node->is_table()) return 1;
  const auto* array = node->as_array();
  return array ? array->size() : 0;
}

const toml::table* TomlSheet::table(const std::string& section, std::size_t row) const {
  const auto* node = root_.get(section);
  if (!node) return nullptr;
  if (const auto* table = node->as_table()) return row == 0 ? table : nullptr;
  const auto* array = node->as_array();
  const auto* item = array && row < array->size() ? array->get(row) : nullptr;
  return item ? item->as_table() : nullptr;
}

const toml::node* TomlSheet::value(const std::string& section, std::size_t row,
                                   const std::string& key) const {
  const auto* of = table(section, row);
  return of ? of->get(key) : nullptr;
}

std::vector<std::string> TomlSheet::keys(const std::string& section, std::size_t row) const {
  std::vector<std::string> names;
  if (const auto* of = table(section, row))
    for (const auto& [key, node] : *of) names.emplace_back(key.str());
  return names;
}

std::size_t TomlSheet::offset(const toml::source_position& position) const {
  if (position.line == 0 || position.line > lines_.size()) return text_.size();
  std::size_t at = lines_[position.line - 1];
  for (auto left = position.column - 1; left > 0 && at < text_.size(); --left) {
    ++at;
    while (at < text_.size() && continues(text_[at])) ++at;
  }
  return at;
}

TextSpan TomlSheet::span(const toml::node& node) const {
  return {offset(node.source().begin), offset(node.source().end)};
}

std::string TomlSheet::raw(const toml::node& node) const {
  const auto [begin, end] = span(node);
  return text_.substr(begin, end - begin);
}

bool TomlSheet::headed(const toml::table& table) const {
  const std::size_t at = offset(table.source().begin);
  return !table.is_inline() && at < text_.size() && text_[at] == '[';
}

std::size_t TomlSheet::line_begin(std::size_t at) const {
  const auto next = std::ranges::upper_bound(lines_, at);
  return next == lines_.begin() ? lines_.front() : *(next - 1);
}

std::size_t TomlSheet::line_end(std::size_t at) const {
  const auto end = text_.find('\n', at);
  return end == std::string::npos ? text_.size() : end + 1;
}

bool TomlSheet::comment_line(std::size_t at) const {
  const auto first = text_.find_first_not_of(" \t", at);
  return first != std::string::npos && text_[first] == '#';
}

std::size_t TomlSheet::last_end(const toml::table& table) const {
  std::size_t end = offset(table.source().begin);
  for (const auto& [key, node] : table) end = std::max(end, offset(node.source().end));
  return end;
}

TextSpan TomlSheet::extent(const toml::table& table) const {
  std::size_t begin = line_begin(offset(table.source().begin));
  while (begin > lines_.front() && comment_line(line_begin(begin - 1))) begin = line_begin(begin - 1);
  const std::size_t last = line_end(last_end(table));
  std::size_t end = last;
  while (end < text_.size() && comment_line(end)) end = line_end(end);
  const auto next = text_.find_first_not_of(" \t", end);
  const bool of_the_next = next != std::string::npos && text_[next] == '[';
  return {begin, of_the_next ? last : end};
}

TomlSheet::Lines TomlSheet::lines(const std::string& section, std::size_t row) const {
  const auto* of = table(section, row);
  if (!of) return {};
  auto last = of->source().begin.line;
  for (const auto& [key, node] : *of) last = std::max(last, node.source().end.line);
  return {static_cast<int>(of->source().begin.line), static_cast<int>(last)};
}

void TomlSheet::set(const std::string& section, std::size_t row, const TomlPair& pair) {
  const auto* of = table(section, row);
  if (!of) return;
  if (const auto* node = of->get(pair.key)) return splice(span(*node), pair.value);
  insert_pair(*of, section, pair);
}

void TomlSheet::insert_pair(const toml::table& of, const std::string& section, const TomlPair& pair) {
  const std::string line = fmt::format("{} = {}", pair.key, pair.value);
  if (of.is_inline()) {
    if (of.empty()) return splice(span(of), "{ " + line + " }");
    const std::size_t end = last_end(of);
    return splice({end, end}, ", " + line);
  }
  const std::size_t at = line_end(last_end(of));
  std::size_t begin = 0;  // of the last key's line
  for (const auto& [key, node] : of) begin = std::max(begin, line_begin(offset(key.source().begin)));
  const std::string indent = text_.substr(begin, text_.find_first_not_of(" \t", begin) - begin);
  const bool ended = at > 0 && text_[at - 1] == '\n';
  const std::string whole = (of.empty() ? "" : indent) + (headed(of) ? "" : section + ".") + line;
  splice({at, at}, ended ? whole + newline_ : newline_ + whole);
}

void TomlSheet::erase(const std::string& section, std::size_t row, const std::string& key) {
  const auto* of = table(section, row);
  const auto* node = of ? of->get(key) : nullptr;
  if (!node) return;
  if (!of->is_inline()) {
    const auto [begin, end] = span(*node);
    return splice({line_begin(offset(of->find(key)->first.source().begin)), line_end(end)}, "");
  }
  std::vector<Part> parts;
  for (const auto& [name, item] : *of) parts.push_back({offset(name.source().begin), span(item).end});
  std::ranges::sort(parts, {}, &Part::begin);
  const auto mine = std::ranges::find(parts, span(*node).end, &Part::end);
  splice(cut(parts, static_cast<std::size_t>(mine - parts.begin())), "");
}

std::optional<std::size_t> TomlSheet::usual_place(const std::string& section) const {
  std::optional<std::size_t> place;
  for (const TableKind& kind : table_kinds()) {
    if (kind.name == section) break;
    const std::size_t count = kind.csv ? 0 : rows(kind.name);
    const auto* last = count > 0 ? table(kind.name, count - 1) : nullptr;
    if (last && headed(*last)) place = std::max(place.value_or(0), extent(*last).end);
  }
  return place;
}

void TomlSheet::insert_block(std::size_t at, const std::string& heading, const std::vector<TomlPair>& pairs) {
  std::string block = heading + newline_;
  for (const auto& [key, value] : pairs) block += fmt::format("{} = {}{}", key, value, newline_);
  if (at > lines_.front() && text_[at - 1] != '\n') block = newline_ + block;
  const bool first = at <= lines_.front();
  splice({at, at}, first ? block + newline_ : newline_ + block);
}

void TomlSheet::add_section(const std::string& section, const std::vector<TomlPair>& pairs) {
  insert_block(usual_place(section).value_or(text_.size()), fmt::format("[{}]", section), pairs);
}

void TomlSheet::insert_row(const std::string& section, std::size_t at, const std::vector<TomlPair>& pairs) {
  const std::string heading = fmt::format("[[{}]]", section);
  const auto* node = root_.get(section);
  const auto* array = node ? node->as_array() : nullptr;
  const bool in_brackets =
      array && text_[span(*array).begin] == '[' && text_.substr(span(*array).begin, 2) != "[[";
  if (in_brackets) {
    const std::string row = inline_table(pairs);
    if (array->empty()) return splice(span(*array), "[" + row + "]");
    const auto place = span(*array->get(at > 0 ? at - 1 : 0));
    return at > 0 ? splice({place.end, place.end}, ", " + row)
                  : splice({place.begin, place.begin}, row + ", ");
  }
  if (!array || array->empty())
    return insert_block(usual_place(section).value_or(text_.size()), heading, pairs);
  if (at > 0) return insert_block(extent(*table(section, at - 1)).end, heading, pairs);
  const std::size_t begin = extent(*table(section, 0)).begin;
  std::string block = heading + newline_;
  for (const auto& [key, value] : pairs) block += fmt::format("{} = {}{}", key, value, newline_);
  splice({begin, begin}, block + newline_);
}

void TomlSheet::erase_row(const std::string& section, std::size_t row) {
  const auto* of = table(section, row);
  if (!of) return;
  if (of->is_inline()) {
    std::vector<Part> parts;
    for (const auto& item : *root_.get(section)->as_array())
      parts.push_back({span(item).begin, span(item).end});
    return splice(cut(parts, row), "");
  }
  auto [begin, end] = extent(*of);
  const auto blank = [&](std::size_t at) {
    const auto first = text_.find_first_not_of(" \t\r", at);
    return first == std::string::npos || text_[first] == '\n';
  };
  while (end < text_.size() && blank(end)) end = line_end(end);
  if (end >= text_.size())  // the last of the file: blank lines above it go instead
    while (begin > lines_.front() && blank(line_begin(begin - 1))) begin = line_begin(begin - 1);
  splice({begin, end}, "");
}

}  // namespace firstdraw::desk
