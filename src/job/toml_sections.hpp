// Walking the sections and lists of job.toml.
#pragma once

#include <fmt/format.h>

#include <optional>

#include "job/toml_reader.hpp"

namespace firstdraw::job {

inline constexpr std::string_view job_file = "job.toml";

inline Where place_of(const toml::source_region& source) {
  return {job_file, static_cast<int>(source.begin.line), static_cast<int>(source.begin.column)};
}

/// Calls `body` with the section's table; a missing section is read as an empty one, so that its needs are
/// named.
template <class Body>
void section(const toml::table& root, std::string_view name, Context& context, Body body) {
  static const toml::table nothing;
  const auto* node = root.get(name);
  const auto* table = node ? node->as_table() : &nothing;
  if (!table) {
    return context.problem(place_of(node->source()), std::string(name), "a section was expected",
                           fmt::format("write [{}]", name));
  }
  TomlReader reader(*table, job_file, std::string(name), context);
  body(reader);
  reader.finish();
}

/// A section that nothing is assumed about when it is missing.
template <class Body>
void section_if_there(const toml::table& root, std::string_view name, Context& context, Body body) {
  if (root.get(name)) section(root, name, context, body);
}

/// Calls `body` for every table of a list such as [[level]].
template <class T, class Body>
void list(const toml::table& root, std::string_view name, std::optional<Target> target,
          std::vector<T>& values, Context& context, Body body) {
  const auto* node = root.get(name);
  if (!node) return;
  const auto* array = node->as_array();
  if (!array) {
    if (target) context.trust(*target);
    return context.problem(place_of(node->source()), std::string(name), "a list of sections was expected",
                           fmt::format("write [[{}]]", name));
  }
  for (const auto& item : *array) {
    const auto* table = item.as_table();
    if (!table) {
      context.problem(place_of(item.source()), std::string(name), "a section was expected");
      continue;
    }
    TomlReader reader(*table, job_file, std::string(name), context);
    body(reader, values.emplace_back());
    reader.finish();
  }
}

}  // namespace firstdraw::job
