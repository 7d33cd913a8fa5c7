#include "job/writers.hpp"

#include <fmt/format.h>

namespace firstdraw::job {

namespace {
std::string escaped(char c) {
  switch (c) {
    case '"':
      return "\\\"";
    case '\\':
      return "\\\\";
    case '\n':
      return "\\n";
    case '\t':
      return "\\t";
    case '\r':
      return "\\r";
    default: {
      const auto code = static_cast<unsigned char>(c);
      return code < 0x20 || code == 0x7f ? fmt::format("\\u{:04X}", code) : std::string(1, c);
    }
  }
}
}  // namespace

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) out += escaped(c);
  return out + '"';
}

std::string price_text(double value, std::string_view base_unit, Kind kind, units::System system) {
  std::string exact = fmt::format("{} per {}", exact_number(value), base_unit);
  const bool us = system == units::System::us;
  const std::string_view unit = us && kind == Kind::length   ? "ft"
                                : us && kind == Kind::volume ? "ft3"
                                                             : base_unit;
  const auto one = units::to_si(1, unit, kind), base = units::to_si(1, base_unit, kind);
  if (!one || !base || unit == base_unit) return exact;
  // Ten digits hide what the conversion left behind; only what reads back to the same double may be written.
  const std::string shorter = fmt::format("{:.10g} per {}", value * *one / *base, unit);
  const auto again = read_price(shorter, base_unit, kind);
  return again && *again == value ? shorter : exact;
}

void TomlWriter::put(std::string_view key, const std::string& value) {
  if (inline_) {
    out_ += fmt::format("{}{} = {}", out_.empty() ? "" : ", ", key, value);
  } else {
    out_ += fmt::format("{} = {}\n", key, value);
  }
}

void TomlWriter::number(std::string_view key, double value, const Range&, const Need<double>& need) {
  if (left_blank(value, need)) return;
  put(key, exact_number(value));
}

void TomlWriter::quantities(std::string_view key, const std::vector<double>& values, Kind kind, const Range&,
                            const Need<std::vector<double>>&) {
  std::vector<std::string> texts;
  for (const double value : values) texts.push_back(exact(value, kind));
  put(key, fmt::format("[{}]", fmt::join(texts, ", ")));
}

void TomlWriter::numbers(std::string_view key, const std::vector<double>& values, std::size_t) {
  if (values.empty()) return;
  std::vector<std::string> texts;
  for (const double value : values) texts.push_back(exact_number(value));
  put(key, fmt::format("[{}]", fmt::join(texts, ", ")));
}

void TomlWriter::references(std::string_view key, const std::vector<std::string>& values, Target,
                            std::string_view) {
  std::vector<std::string> texts;
  for (const auto& value : values) texts.push_back(toml_text(value));
  put(key, fmt::format("[{}]", fmt::join(texts, ", ")));
}

}  // namespace firstdraw::job
