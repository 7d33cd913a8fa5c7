#include "store/archive_text.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <vector>

#include "store/pack.hpp"

namespace firstdraw::store {

namespace {

template <class Number>
void add_number(std::string& out, Number number) {
  std::array<char, 40> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), number).ptr;
  out.append(text.data(), end);
}

template <class Number>
bool read_number(std::string_view text, Number& number) {
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return !text.empty() && error == std::errc() && stop == text.data() + text.size();
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + '"';
}

/// The field at the start of `rest`, which is left behind it, at a comma or the end; nullopt: badly quoted.
std::optional<std::string> read_field(std::string_view& rest) {
  if (!rest.starts_with('"')) {
    const std::string field(rest.substr(0, rest.find(',')));
    rest.remove_prefix(field.size());
    return field.find('"') == std::string::npos ? std::optional(field) : std::nullopt;
  }
  std::string field;
  for (std::size_t i = 1; i < rest.size(); ++i) {
    if (rest[i] == '"' && (i + 1 == rest.size() || rest[i + 1] != '"')) {
      rest.remove_prefix(i + 1);
      return field;
    }
    if (rest[i] == '"') ++i;
    field += rest[i];
  }
  return std::nullopt;
}

std::optional<std::vector<std::string>> fields_of(std::string_view line) {
  std::vector<std::string> fields;
  while (true) {
    auto field = read_field(line);
    if (!field) return std::nullopt;
    fields.push_back(*std::move(field));
    if (line.empty()) return fields;
    if (line.front() != ',') return std::nullopt;
    line.remove_prefix(1);
  }
}

}  // namespace

void add_line(std::string& out, const Sample& sample) {
  add_number(out, sample.at_ms);
  out += ',';
  add_number(out, sample.value);
  out += '\n';
}

std::optional<Sample> read_sample(std::string_view line) {
  const std::size_t comma = line.find(',');
  Sample sample;
  if (comma == std::string_view::npos || !read_number(line.substr(0, comma), sample.at_ms) ||
      !read_number(line.substr(comma + 1), sample.value))
    return std::nullopt;
  const bool in_time = sample.at_ms <= latest_ms && sample.at_ms >= -latest_ms;
  return in_time && std::isfinite(sample.value) ? std::optional(sample) : std::nullopt;
}

std::string series_line(const SeriesInfo& info) {
  std::string line;
  add_number(line, info.id);
  for (const std::string* field : {&info.name, &info.quantity, &info.place}) line += ',' + quoted(*field);
  return line + '\n';
}

std::optional<SeriesInfo> read_series(std::string_view line) {
  const auto fields = fields_of(line);
  SeriesInfo info;
  if (!fields || fields->size() != 4 || !read_number(fields->front(), info.id)) return std::nullopt;
  info.name = (*fields)[1];
  info.quantity = (*fields)[2];
  info.place = (*fields)[3];
  return info;
}

bool Lines::feed(std::string_view bytes) {
  while (true) {
    const std::size_t end = bytes.find('\n');
    if (begun_.size() + std::min(end, bytes.size()) > longest_) return false;
    if (end == std::string_view::npos) break;
    if (begun_.empty()) {
      take_(bytes.substr(0, end));
    } else {
      begun_ += bytes.substr(0, end);
      take_(begun_);
      begun_.clear();
    }
    bytes.remove_prefix(end + 1);
  }
  begun_ += bytes;
  return true;
}

}  // namespace firstdraw::store
