#include "job/writers.hpp"

#include <fmt/format.h>

#include "job/values.hpp"

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

std::string price_text(double value, std::string_view base_unit) {
  return fmt::format("{} per {}", exact_number(value), base_unit);
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

void TomlWriter::references(std::string_view key, const std::vector<std::string>& values, Target,
                            std::string_view) {
  std::vector<std::string> texts;
  for (const auto& value : values) texts.push_back(toml_text(value));
  put(key, fmt::format("[{}]", fmt::join(texts, ", ")));
}

}  // namespace firstdraw::job
