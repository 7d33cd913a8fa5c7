#include "serve/ask.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "paper/field_words.hpp"
#include "rules/rules.hpp"
#include "serve/circuit_page.hpp"
#include "serve/record_json.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;
using piping::at;
using prove::What;

std::string with_capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

/// The unit a technician would write: where meters show several a thousandfold apart, the usual one.
std::string unit_of(What what, units::System system) {
  switch (what) {
    case What::insulation_resistance:
    case What::supply_insulation:
      return "MΩ";
    case What::capacitance:
      return "nF";
    case What::trip_current:
    case What::leakage_current:
      return "mA";
    case What::trip_time:
      return "ms";
    case What::duty:
      return "%";
    default:
      break;
  }
  const auto kind = prove::help_of(what).kind;
  if (!kind || prove::is_text(what) || prove::is_yes_no(what)) return "";
  return *kind == units::Kind::resistance ? "Ω" : std::string(units::display_unit(*kind, system));
}

/// A value and the unit it is shown in, SI from it.
double in_unit(What what, double value) {
  switch (what) {
    case What::insulation_resistance:
    case What::supply_insulation:
      return value / 1e6;
    case What::capacitance:
      return value * 1e9;
    case What::trip_current:
    case What::leakage_current:
    case What::trip_time:
      return value * 1e3;
    case What::duty:
      return value * 100;
    default:
      return value;
  }
}

std::string shown(What what, double value, units::System system) {
  const auto kind = prove::help_of(what).kind;
  const std::string unit = unit_of(what, system);
  const bool own_unit = in_unit(what, 1) != 1;
  if (own_unit || !kind) return fmt::format("{:.3g} {}", in_unit(what, value), unit);
  return units::show(value, *kind, system);
}

/// What the reading should be, in words; empty when nothing is expected of it.
std::string in_words(What what, const prove::Expected& expected, units::System system) {
  if (prove::is_text(what) || prove::is_yes_no(what)) return "";
  const bool least = std::isfinite(expected.least), most = std::isfinite(expected.most);
  if (least && most)
    return fmt::format("{} to {}", shown(what, expected.least, system), shown(what, expected.most, system));
  if (least) return "at least " + shown(what, expected.least, system);
  if (most) return "at most " + shown(what, expected.most, system);
  return std::isfinite(expected.usual) ? "about " + shown(what, expected.usual, system) : "";
}

prove::Expected expected_at(const prove::Reading& asked, double value, const Looked& looked) {
  prove::Reading reading = asked;
  reading.value = value;
  return prove::judge(looked.job(), looked.plan(), std::span(&reading, 1)).front().expected;
}

/// For the usual value: a meter's error is a share of what it reads.
std::string expected_words(const prove::Reading& asked, const Looked& looked) {
  if (prove::is_text(asked.what) || prove::is_yes_no(asked.what)) return "";
  if (asked.what == What::sensor_resistance) return "";
  prove::Expected expected = expected_at(asked, 1, looked);
  if (std::isfinite(expected.usual) && expected.usual > 0)
    expected = expected_at(asked, expected.usual, looked);
  return in_words(asked.what, expected, looked.job().units);
}

json choices_of(What what) {
  if (prove::is_yes_no(what)) return {"yes", "no"};
  if (what != What::sensor_position) return json::array();
  json list = json::array();
  for (const std::string_view each : prove::sensor_positions()) list.push_back(each);
  return list;
}

json beside(const char* key, const char* name, std::string_view unit, const char* usual,
            const std::vector<std::string>& choices = {}) {
  json out{{"key", key}, {"name", name}, {"unit", unit}, {"usual", usual}};
  if (!choices.empty()) out["choices"] = choices;
  return out;
}

/// Circumstances that the verdict counts: columns of the readings file.
json beside_of(What what, units::System system) {
  const std::string_view degree = units::display_unit(units::Kind::temperature, system);
  switch (what) {
    case What::insulation_resistance:
      return {beside("test_voltage", "Test voltage, dc", "V", "1000"),
              beside("cable", "Cable temperature", degree, "")};
    case What::supply_insulation:
      return {beside("test_voltage", "Test voltage, dc", "V", "500")};
    case What::loop_resistance:
    case What::open_resistance:
    case What::capacitance:
      return {beside("cable", "Cable temperature", degree, "")};
    case What::current:
      return {beside("cable", "Pipe temperature", degree, ""),
              beside("volts", "At the power connection", "V", ""),
              beside("minutes", "Since switching on", "min", "")};
    case What::pipe_temperature:
      return {beside("minutes", "Since switching on", "min", "")};
    case What::tap_temperature:
      return {beside("minutes", "Since the tap was opened", "min", "")};
    case What::trip_time:
      return {beside("times_rated", "Test current over rated current", "", "1")};
    case What::sensor_resistance:
      return {beside("sensor", "Kind of sensor", "", "", {"pt100", "pt1000", "ntc10k"})};
    case What::contactor:
      return {beside("called", "Controller calls for heat", "", "", {"yes", "no"})};
    default:
      return json::array();
  }
}

/// The latest reading of this kind at this place and stage.
std::optional<std::size_t> latest(const paper::FieldBook& field, const prove::Reading& asked) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < field.readings.size(); ++i) {
    const prove::Reading& reading = field.readings[i];
    if (reading.what != asked.what || (reading.stage && reading.stage != asked.stage)) continue;
    if (reading.circuit != asked.circuit && !asked.circuit.empty()) continue;
    if (reading.group != asked.group && !asked.group.empty()) continue;
    if (reading.run != asked.run && !asked.run.empty()) continue;
    if (!found || reading.at >= field.readings[*found].at) found = i;
  }
  return found;
}

json record_numbered(const paper::FieldBook& field, std::int64_t number, const Looked& looked) {
  const auto record = std::ranges::find(field.records, number, &store::Record::number);
  return record == field.records.end() ? json() : record_json(*record, field, looked);
}

std::string how_of(const job::Job& job, const std::string& test) {
  const auto tests = rules::field_tests(job.requirements.rules);
  const auto found = std::ranges::find(tests, test, &rules::FieldTest::id);
  return found == tests.end() ? "" : found->how;
}

class Asks {
 public:
  Asks(const power::Circuit& circuit, const BookView& book, const Looked& looked)
      : circuit_(circuit),
        field_(book.field),
        looks_(book.looks),
        looked_(looked),
        rows_(prove::sheet_rows(looked.job(), looked.plan())) {}

  json all() const {
    json list = json::array();
    for (const prove::Due& due : field_.due) {
      if (due.circuit != circuit_.id) continue;
      if (due.looked_at) list.push_back(looked_at(due));
      for (const prove::Reading& row : rows_)
        if (!due.looked_at && row.stage == due.stage && row.note == due.name && is_here(row))
          list.push_back(measured(due, row));
    }
    return list;
  }

 private:
  bool is_here(const prove::Reading& row) const {
    if (!row.circuit.empty()) return row.circuit == circuit_.id;
    return is_at(looked_.job(), circuit_, row.group.empty() ? row.run : row.group);
  }

  json common(const prove::Due& due) const {
    return {{"stage", prove::name_of(due.stage)},
            {"stage_name", with_capital(paper::stage_text(due.stage))},
            {"how", how_of(looked_.job(), due.test)}};
  }

  json looked_at(const prove::Due& due) const {
    json ask = common(due);
    ask.update({{"kind", due.test},
                {"name", due.name},
                {"place", ""},
                {"circuit", circuit_.id},
                {"group", nullptr},
                {"run", nullptr},
                {"unit", ""},
                {"beside", json::array()},
                {"expected", ""},
                {"looked_at", true},
                {"last", nullptr},
                {"grade", nullptr}});
    if (const auto look = looks_.find({due.test, due.circuit}); look != looks_.end()) {
      ask["last"] = record_numbered(field_, look->second.record, looked_);
      ask["grade"] = prove::name_of(look->second.ok ? prove::Grade::pass : prove::Grade::fail);
    }
    return ask;
  }

  json measured(const prove::Due& due, const prove::Reading& row) const {
    const auto text_or_null = [](const std::string& text) { return text.empty() ? json() : json(text); };
    const units::System system = looked_.job().units;
    const auto answer = latest(field_, row);
    json ask = common(due);
    ask.update({{"kind", prove::name_of(row.what)},
                {"name", with_capital(paper::what_text(row.what))},
                {"place", row.group.empty() ? row.run : row.group},
                {"circuit", text_or_null(row.circuit)},
                {"group", text_or_null(row.group)},
                {"run", text_or_null(row.run)},
                {"unit", unit_of(row.what, system)},
                {"beside", beside_of(row.what, system)},
                {"expected", expected_words(row, looked_)},
                {"looked_at", false},
                {"choices", choices_of(row.what)},
                {"last", answer ? record_numbered(field_, field_.record_of[*answer], looked_) : json()},
                {"grade", answer ? json(prove::name_of(field_.verdicts[*answer].grade)) : json()}});
    return ask;
  }

  const power::Circuit& circuit_;
  const paper::FieldBook& field_;
  const Looks& looks_;
  const Looked& looked_;
  const std::vector<prove::Reading> rows_;
};

}  // namespace

json asks_json(const power::Circuit& circuit, const BookView& book, const Looked& looked) {
  return Asks(circuit, book, looked).all();
}

}  // namespace firstdraw::serve
