#include "desk/toml_value.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "job/values.hpp"
#include "job/writers.hpp"

namespace firstdraw::desk {

namespace {

using Written = std::expected<std::string, std::string>;

bool digits(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

/// TOML writes a digit on both sides of the point, and no zeros before a number.
std::string toml_number(std::string text) {
  const std::string sign = text.starts_with('-') ? "-" : "";
  if (text.starts_with('-') || text.starts_with('+')) text.erase(0, 1);
  while (text.size() > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9') text.erase(0, 1);
  if (text.starts_with('.')) text.insert(0, 1, '0');
  const auto point = text.find('.');
  const bool bare_point =
      point != std::string::npos && (point + 1 == text.size() || !digits(text.substr(point + 1, 1)));
  if (bare_point) text.insert(point + 1, 1, '0');
  return sign + text;
}

Written number(const std::string& typed) {
  const auto read = job::read_number(typed, job::range::any);
  if (!read) return std::unexpected(read.error());
  return toml_number(trimmed(typed));
}

Written integer(const std::string& typed) {
  const auto read = job::read_integer(typed, job::range::any);
  if (!read) return std::unexpected(read.error());
  return std::to_string(*read);
}

Written flag(const std::string& typed) {
  const auto read = job::read_flag(typed);
  if (!read) return std::unexpected(read.error());
  return *read ? "true" : "false";
}

/// Text over several lines, between three quotes.
std::string lines(const std::string& text, bool on_a_line_of_its_own) {
  std::string out = on_a_line_of_its_own || text.starts_with('\n') ? "\"\"\"\n" : "\"\"\"";
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool would_close = text[i] == '"' && (i + 1 == text.size() || text.substr(i + 1, 2) == "\"\"");
    if (text[i] == '\n') {
      out += '\n';
    } else if (text[i] == '"' && !would_close) {
      out += '"';
    } else {
      const std::string escaped = job::toml_text(std::string_view(text).substr(i, 1));
      out += escaped.substr(1, escaped.size() - 2);
    }
  }
  return out + "\"\"\"";
}

bool plain(std::string_view text) {
  return std::ranges::none_of(
      text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f || c == '\''; });
}

/// In the kind of quotes that stand there.
std::string in_quotes(const std::string& text, const std::string& old) {
  const bool literal = old.starts_with('\'') && !old.starts_with("'''");
  if (literal && plain(text)) return "'" + text + "'";
  if (text.find('\n') != std::string::npos) return lines(text, old.starts_with("\"\"\"\n"));
  return job::toml_text(text);
}

struct Item {
  std::string shown;
  TextSpan span;  // within the list
};

std::vector<Item> items_of(const TomlSheet& sheet, const toml::array& array, std::size_t from) {
  std::vector<Item> items;
  for (const auto& node : array) {
    const auto [begin, end] = sheet.span(node);
    items.push_back({shown(sheet, node), {begin - from, end - from}});
  }
  return items;
}

struct Piece {
  TextSpan span;
  std::string with;
};

/// What to replace in a list that stands there so that it holds `items`. The same things at both ends stay.
std::vector<Piece> changes(const std::vector<Item>& old, const std::vector<std::string>& typed,
                           const std::vector<std::string>& raw) {
  std::size_t front = 0, back = 0;
  const std::size_t common = std::min(old.size(), typed.size());
  while (front < common && old[front].shown == typed[front]) ++front;
  while (back < common - front && old[old.size() - 1 - back].shown == typed[typed.size() - 1 - back]) ++back;
  const std::size_t old_end = old.size() - back, new_end = typed.size() - back;
  std::vector<Piece> pieces;
  std::size_t i = front;
  for (; i < old_end && i < new_end; ++i) pieces.push_back({old[i].span, raw[i]});
  std::string more;
  for (std::size_t j = i; j < new_end; ++j) more += i > 0 ? ", " + raw[j] : raw[j] + ", ";
  const std::size_t place = i > 0 ? old[i - 1].span.end : old[0].span.begin;
  if (!more.empty()) pieces.push_back({{place, place}, more});
  const bool others_follow = old_end < old.size();
  if (i < old_end && others_follow) pieces.push_back({{old[i].span.begin, old[old_end].span.begin}, ""});
  if (i < old_end && !others_follow) pieces.push_back({{old[i - 1].span.end, old[old_end - 1].span.end}, ""});
  return pieces;
}

Written list(const Column& column, const std::string& typed, const TomlSheet& sheet, const toml::node* old) {
  const auto items = split_list(typed);
  std::vector<std::string> raw;
  for (const auto& item : items) {
    const Written one = column.measures == "number" ? number(item) : Written(job::toml_text(item));
    if (!one) return one;
    raw.push_back(*one);
  }
  const auto* array = old ? old->as_array() : nullptr;
  if (!array || array->empty() || items.empty()) return fmt::format("[{}]", fmt::join(raw, ", "));
  std::string text = sheet.raw(*array);
  auto pieces = changes(items_of(sheet, *array, sheet.span(*array).begin), items, raw);
  for (auto piece = pieces.rbegin(); piece != pieces.rend(); ++piece)
    text.replace(piece->span.begin, piece->span.end - piece->span.begin, piece->with);
  return text;
}

}  // namespace

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

std::vector<std::string> split_list(const std::string& typed) {
  const char separator = typed.find(';') != std::string::npos ? ';' : ',';
  std::vector<std::string> items;
  for (std::size_t from = 0; from <= typed.size();) {
    const std::size_t to = std::min(typed.find(separator, from), typed.size());
    if (std::string item = trimmed(std::string_view(typed).substr(from, to - from)); !item.empty())
      items.push_back(std::move(item));
    from = to + 1;
  }
  return items;
}

std::string join_list(const std::vector<std::string>& items) {
  const bool commas =
      std::ranges::any_of(items, [](const auto& item) { return item.find(',') != std::string::npos; });
  std::string joined = fmt::format("{}", fmt::join(items, commas ? "; " : ", "));
  return commas && items.size() == 1 ? joined + ";" : joined;
}

std::string shown(const TomlSheet& sheet, const toml::node& node) {
  if (const auto* text = node.as_string()) return text->get();
  const auto* array = node.as_array();
  if (!array) return sheet.raw(node);
  std::vector<std::string> items;
  for (const auto& item : *array) items.push_back(shown(sheet, item));
  return join_list(items);
}

std::expected<std::string, std::string> toml_value(const Column& column, const std::string& typed,
                                                   const TomlSheet& sheet, const toml::node* old) {
  if (column.kind == "number") return number(typed);
  if (column.kind == "integer") return integer(typed);
  if (column.kind == "flag") return flag(typed);
  if (column.kind == "list") return list(column, typed, sheet, old);
  const bool bare = column.measures == "fraction" && old && old->is_number();
  if (const auto share = bare ? number(typed) : Written(std::unexpected(""))) return *share;
  return in_quotes(typed, old && old->is_string() ? sheet.raw(*old) : "");
}

}  // namespace firstdraw::desk
