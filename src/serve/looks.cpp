#include "serve/looks.hpp"

#include <nlohmann/json.hpp>
#include <set>

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// A note's body; null: the record is no note, or an odd one.
json body_of(const store::Record& record) {
  if (record.kind != store::RecordKind::note) return nullptr;
  json body = json::parse(record.body, nullptr, false);
  return body.is_object() ? body : json();
}

}  // namespace

json look_json(const store::Record& record) {
  const json body = body_of(record);
  if (!body.is_object()) return nullptr;
  const auto looked = body.find("looked");
  if (looked == body.end() || !looked->is_object()) return nullptr;
  const bool whole = looked->contains("test") && (*looked)["test"].is_string() && looked->contains("ok") &&
                     (*looked)["ok"].is_boolean();
  return whole ? json{{"test", (*looked)["test"]}, {"ok", (*looked)["ok"]}} : json();
}

Looks looks_of(std::span<const store::Record> records) {
  std::set<std::int64_t> corrected;
  for (const store::Record& record : records)
    if (record.corrects) corrected.insert(*record.corrects);
  Looks looks;
  for (const store::Record& record : records) {
    const json look = look_json(record);
    if (look.is_null() || corrected.contains(record.number)) continue;
    const json place = body_of(record).value("place", json());
    if (place.is_string()) looks[{look["test"], place}] = {record.number, look["ok"].get<bool>()};
  }
  return looks;
}

json note_body(json body, const std::optional<AskedLook>& looked) {
  if (looked) body["looked"] = {{"test", looked->test}, {"ok", looked->ok}};
  return body;
}

}  // namespace firstdraw::serve
