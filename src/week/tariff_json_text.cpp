#include "week/tariff_json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace firstdraw::week {
namespace {

using Json = nlohmann::json;

/// Line and column of a byte, both from 1.
job::Diagnostic at_byte(std::string_view text, std::size_t byte, std::string_view file) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto lines = std::ranges::count(before, '\n');
  const std::size_t line_begin = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  return {std::string(file),
          static_cast<int>(lines) + 1,
          static_cast<int>(before.size() - line_begin) + 1,
          "",
          "",
          ""};
}

/// The text as JSON; a key that is there twice would silently win, so it is an error.
job::Result<Json> parse(std::string_view text, std::string_view file) {
  std::vector<std::set<std::string>> open;
  std::string twice;
  const auto watch = [&](int, Json::parse_event_t event, Json& value) {
    if (event == Json::parse_event_t::object_start) open.emplace_back();
    if (event == Json::parse_event_t::object_end) open.pop_back();
    if (event == Json::parse_event_t::key && !open.back().insert(value.get<std::string>()).second)
      twice = value.get<std::string>();
    return true;
  };
  try {
    Json json = Json::parse(text, watch);
    if (twice.empty()) return json;
    return std::unexpected(
        std::vector{job::Diagnostic{std::string(file), 0, 0, twice, "this field is there twice", ""}});
  } catch (const Json::parse_error& trouble) {
    job::Diagnostic wrong = at_byte(text, trouble.byte == 0 ? 0 : trouble.byte - 1, file);
    wrong.message = "this is not JSON from here on; a record of the open utility-rate schema was expected";
    return std::unexpected(std::vector{wrong});
  } catch (const Json::exception&) {  // a number beyond all doubles
    return std::unexpected(
        std::vector{job::Diagnostic{std::string(file), 0, 0, "", "holds a number too large to use", ""}});
  }
}

/// The record in the text: the object itself, or the one in its "items".
const Json* record_in(const Json& json, std::string& field, std::string& message) {
  if (!json.is_object()) {
    message = fmt::format("an object with the fields of a rate was expected, not {}", kind_of(json));
    return nullptr;
  }
  if (!json.contains("items")) return &json;
  const Json& items = json["items"];
  field = "items";
  const bool one = items.is_array() && items.size() == 1;
  if (one && json.size() == 1 && items[0].is_object()) return &items[0];
  message = "exactly one record was expected, and nothing beside items";
  return nullptr;
}

}  // namespace

const char* kind_of(const Json& json) {
  if (json.is_array()) return "a list";
  if (json.is_object()) return "an object";
  if (json.is_string()) return "text";
  if (json.is_boolean()) return "true or false";
  return json.is_null() ? "nothing (null)" : "a number";
}

job::Result<nlohmann::json> read_record(std::string_view text, std::string_view file) {
  const auto json = parse(text, file);
  if (!json) return std::unexpected(json.error());
  std::string field, message;
  if (const Json* record = record_in(*json, field, message)) return *record;
  return std::unexpected(std::vector{job::Diagnostic{std::string(file), 0, 0, field, message, ""}});
}

}  // namespace firstdraw::week
