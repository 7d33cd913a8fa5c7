#include "job/toml_file.hpp"

#include <fmt/format.h>

namespace firstdraw::job {

std::optional<toml::table> parse_toml(const Source& source, std::string_view name, Context& context) {
  const auto text = source.text(name, context);
  if (!text) return std::nullopt;
  try {
    return toml::parse(*text);
  } catch (const toml::parse_error& error) {
    const auto& begin = error.source().begin;
    context.problem({name, static_cast<int>(begin.line), static_cast<int>(begin.column)}, "",
                    fmt::format("is not TOML here: {}", error.description()),
                    "the rest of the file was not read");
    return std::nullopt;
  }
}

}  // namespace firstdraw::job
