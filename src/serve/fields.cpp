#include "serve/fields.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "units/quantity.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

job::Diagnostic problem(std::string field, std::string message, std::string hint = "") {
  job::Diagnostic out;
  out.field = std::move(field);
  out.message = std::move(message);
  out.hint = std::move(hint);
  return out;
}

constexpr std::size_t deepest = 16;

/// Deeper nesting than any body of ours has is refused before it is built.
bool too_deep(std::string_view text) {
  std::size_t depth = 0;
  bool in_text = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (in_text) {
      if (c == '\\') ++i;
      if (c == '"') in_text = false;
    } else if (c == '"') {
      in_text = true;
    } else if (c == '{' || c == '[') {
      if (++depth > deepest) return true;
    } else if ((c == '}' || c == ']') && depth > 0) {
      --depth;
    }
  }
  return false;
}

}  // namespace

Read<json> read_object(std::string_view text) {
  if (too_deep(text))
    return std::unexpected(std::vector{problem("", fmt::format("nested deeper than {}", deepest))});
  try {
    json object = json::parse(text.begin(), text.end());
    if (object.is_object()) return object;
    return std::unexpected(std::vector{problem("", "a JSON object was expected")});
  } catch (const json::exception& error) {
    return std::unexpected(std::vector{problem("", fmt::format("this is no JSON: {}", error.what()))});
  }
}

Fields::Fields(const json& object, std::string place, std::vector<job::Diagnostic>& problems)
    : object_(object), place_(std::move(place)), problems_(problems) {}

std::string Fields::field(const char* key) const { return place_.empty() ? key : place_ + "." + key; }

void Fields::complain(const char* key, std::string message, std::string hint) {
  problems_.push_back(problem(field(key), std::move(message), std::move(hint)));
}

const json* Fields::find(const char* key, bool required) {
  asked_.emplace_back(key);
  const auto found = object_.find(key);
  if (found != object_.end()) return &*found;
  if (required) complain(key, "is missing");
  return nullptr;
}

std::optional<std::string> Fields::maybe_text(const char* key) {
  const json* value = find(key, false);
  if (value == nullptr) return std::nullopt;
  if (!value->is_string()) {
    complain(key, "text was expected");
    return std::nullopt;
  }
  auto text = value->get<std::string>();
  if (text.size() > longest_text && std::string_view(key) != "text")
    complain(key, fmt::format("is longer than {} bytes", longest_text));
  return text;
}

std::string Fields::text(const char* key) {
  if (!object_.contains(key)) {
    find(key, true);
    return {};
  }
  return maybe_text(key).value_or("");
}

std::string Fields::text_or(const char* key, std::string_view otherwise) {
  return maybe_text(key).value_or(std::string(otherwise));
}

std::string Fields::word(const char* key, const std::vector<std::string>& choices) {
  std::string given = text(key);
  if (!object_.contains(key) || std::ranges::find(choices, given) != choices.end()) return given;
  const auto near = units::nearest(given, choices);
  complain(key, fmt::format("\"{}\" is not one of {}", given, fmt::join(choices, ", ")),
           near ? fmt::format("did you mean {}?", *near) : "");
  return given;
}

std::optional<std::int64_t> Fields::maybe_integer(const char* key, std::int64_t least, std::int64_t most) {
  const json* value = find(key, false);
  if (value == nullptr) return std::nullopt;
  const bool fits = value->is_number_integer() &&
                    !(value->is_number_unsigned() && value->get<std::uint64_t>() > INT64_MAX) &&
                    value->get<std::int64_t>() >= least && value->get<std::int64_t>() <= most;
  if (fits) return value->get<std::int64_t>();
  complain(key, fmt::format("a whole number from {} to {} was expected", least, most));
  return std::nullopt;
}

std::int64_t Fields::integer(const char* key, std::int64_t least, std::int64_t most) {
  if (object_.contains(key)) return maybe_integer(key, least, most).value_or(least);
  find(key, true);
  return least;
}

std::optional<double> Fields::maybe_number(const char* key, double least, double most) {
  const json* value = find(key, false);
  if (value == nullptr) return std::nullopt;
  if (value->is_number() && value->get<double>() >= least && value->get<double>() <= most)
    return value->get<double>();
  complain(key, fmt::format("a number from {:g} to {:g} was expected", least, most));
  return std::nullopt;
}

std::optional<bool> Fields::maybe_flag(const char* key) {
  const json* value = find(key, false);
  if (value == nullptr) return std::nullopt;
  if (value->is_boolean()) return value->get<bool>();
  complain(key, "true or false was expected");
  return std::nullopt;
}

std::vector<std::string> Fields::texts(const char* key, bool required) {
  std::vector<std::string> list;
  const json* value = find(key, required);
  if (value == nullptr) return list;
  const bool fits = value->is_array() && std::ranges::all_of(*value, [](const json& each) {
                      return each.is_string() && each.get_ref<const std::string&>().size() <= longest_text;
                    });
  if (!fits) {
    complain(key, "a list of texts was expected");
    return list;
  }
  for (const json& each : *value) list.push_back(each.get<std::string>());
  return list;
}

std::map<std::string, std::string> Fields::text_map(const char* key) {
  const json* value = find(key, true);
  return value == nullptr ? std::map<std::string, std::string>{} : text_map_of(*value, field(key), problems_);
}

std::vector<const json*> Fields::objects(const char* key, bool required, std::size_t most) {
  std::vector<const json*> list;
  const json* value = find(key, required);
  if (value == nullptr) return list;
  if (!value->is_array() || value->size() > most) {
    complain(key, fmt::format("a list of at most {} objects was expected", most));
    return list;
  }
  for (const json& each : *value) {
    if (!each.is_object()) complain(key, "a list of objects was expected");
    if (each.is_object()) list.push_back(&each);
  }
  return list;
}

const json* Fields::maybe_object(const char* key) {
  const json* value = find(key, false);
  if (value == nullptr || value->is_object()) return value;
  complain(key, "an object was expected");
  return nullptr;
}

void Fields::finish() {
  for (const auto& [key, value] : object_.items()) {
    if (std::ranges::find(asked_, key) != asked_.end()) continue;
    const auto near = units::nearest(key, asked_);
    complain(key.c_str(), "is not known here", near ? fmt::format("did you mean {}?", *near) : "");
  }
}

std::map<std::string, std::string> text_map_of(const json& object, const std::string& place,
                                               std::vector<job::Diagnostic>& problems) {
  std::map<std::string, std::string> cells;
  if (!object.is_object()) {
    problems.push_back(problem(place, "an object of texts was expected"));
    return cells;
  }
  for (const auto& [key, value] : object.items()) {
    if (!value.is_string() || value.get_ref<const std::string&>().size() > longest_text)
      problems.push_back(problem(fmt::format("{}.{}", place, key), "text was expected"));
    else
      cells[key] = value.get<std::string>();
  }
  return cells;
}

}  // namespace firstdraw::serve
