#include "serve/record_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "serve/circuit_page.hpp"
#include "serve/looks.hpp"
#include "serve/readings_in.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// Circuits that a place (a circuit, group or run) is about.
void add_circuits_at(std::set<std::string>& circuits, const std::string& place, const Looked& looked) {
  for (const power::Circuit& circuit : looked.plan().circuits)
    if (circuit.id == place || is_at(looked.job(), circuit, place)) circuits.insert(circuit.id);
}

std::string place_in(const store::Record& record) {
  const json body = json::parse(record.body, nullptr, false);
  if (!body.is_object()) return {};
  const auto place = body.find("place");
  return place != body.end() && place->is_string() ? place->get<std::string>() : std::string();
}

json files_json(const store::Record& record) {
  json files = json::array();
  for (const store::Attachment& file : record.attachments)
    files.push_back({{"name", file.name}, {"media_type", file.media_type}, {"sha256", file.sha256}});
  return files;
}

json corrected_by(const store::Record& record, const paper::FieldBook& field) {
  for (const store::Record& other : field.records)
    if (other.corrects == record.number) return other.number;
  return nullptr;
}

}  // namespace

json record_json(const store::Record& record, const paper::FieldBook& field, const Looked& looked) {
  std::set<std::string> circuits;
  json readings = json::array();
  for (std::size_t i = 0; i < field.readings.size(); ++i) {
    if (field.record_of[i] != record.number) continue;
    const prove::Reading& reading = field.readings[i];
    for (const std::string& place : {reading.circuit, reading.group, reading.run})
      if (!place.empty()) add_circuits_at(circuits, place, looked);
    readings.push_back(
        {{"reading", cells_json(reading, looked.job())}, {"verdict", verdict_json(field.verdicts[i])}});
  }
  if (const std::string place = place_in(record); !place.empty()) add_circuits_at(circuits, place, looked);
  json entry{{"number", record.number},
             {"kind", store::name_of(record.kind)},
             {"at", record.at},
             {"who", record.who},
             {"entry", record.entry ? json(*record.entry) : json()},
             {"hash", record.hash},
             {"corrects", record.corrects ? json(*record.corrects) : json()},
             {"corrected_by", corrected_by(record, field)},
             {"summary", paper::about(record)},
             {"circuits", circuits},
             {"readings", std::move(readings)},
             {"files", files_json(record)}};
  if (json look = look_json(record); !look.is_null()) entry["looked"] = std::move(look);
  return entry;
}

}  // namespace firstdraw::serve
