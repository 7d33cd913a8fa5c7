// Readings as the body of a record: schemas/readings.schema.json, docs/records.md.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "job/context.hpp"
#include "prove/reading_cells.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::prove {
namespace {

using nlohmann::json;

struct Text {
  std::string_view key;
  std::string Reading::* field;
};
constexpr std::array texts{
    Text{"text", &Reading::text}, Text{"circuit", &Reading::circuit},    Text{"group", &Reading::group},
    Text{"run", &Reading::run},   Text{"sensor", &Reading::sensor_kind}, Text{"at", &Reading::at},
    Text{"who", &Reading::who},   Text{"note", &Reading::note}};
struct InstrumentText {
  std::string_view key;
  std::string Instrument::* field;
};
constexpr std::array instrument_texts{InstrumentText{"name", &Instrument::name},
                                      InstrumentText{"serial", &Instrument::serial},
                                      InstrumentText{"calibration_due", &Instrument::calibration_due}};
struct Number {
  std::string_view key;
  std::optional<double> Reading::* field;
};
constexpr std::array numbers{Number{"test_voltage_v", &Reading::test_voltage_v},
                             Number{"cable_c", &Reading::cable_c}, Number{"volts", &Reading::volts},
                             Number{"minutes", &Reading::minutes},
                             Number{"times_rated", &Reading::times_rated}};

json to_json(const Instrument& instrument) {
  json out = json::object();
  for (const InstrumentText& text : instrument_texts) {
    if (!(instrument.*text.field).empty()) out[std::string(text.key)] = instrument.*text.field;
  }
  if (instrument.error) {
    out["error_frac"] = instrument.error->frac;
    out["error_abs"] = instrument.error->abs;
  }
  return out;
}

json to_json(const Reading& reading) {
  json out{{"what", name_of(reading.what)}};
  if (!is_text(reading.what)) out["value"] = reading.value;
  if (reading.at_least) out["at_least"] = true;
  for (const Text& text : texts) {
    if (!(reading.*text.field).empty()) out[std::string(text.key)] = reading.*text.field;
  }
  if (reading.stage) out["stage"] = name_of(*reading.stage);
  for (const Number& number : numbers) {
    if (reading.*number.field) out[std::string(number.key)] = *(reading.*number.field);
  }
  if (reading.called) out["called"] = *reading.called;
  if (reading.instrument != Instrument{}) out["instrument"] = to_json(reading.instrument);
  return out;
}

/// One reading back; the first thing that is wrong with it is in `wrong`.
class BodyReader {
 public:
  std::expected<Reading, std::string> read(const json& from) {
    if (!from.is_object()) return std::unexpected("must be an object");
    Reading reading;
    read_what(from, reading);
    for (const Text& text : texts) take_text(from, text.key, reading.*text.field);
    for (const Number& number : numbers) take_number(from, number.key, reading.*number.field);
    std::optional<bool> at_least;
    take_flag(from, "called", reading.called);
    take_flag(from, "at_least", at_least);
    reading.at_least = at_least.value_or(false);
    std::string stage;
    take_text(from, "stage", stage);
    if (!stage.empty() && !(reading.stage = stage_named(stage)))
      say(fmt::format("\"{}\" is no stage", stage));
    if (from.contains("instrument")) read_instrument(from["instrument"], reading.instrument);
    judge_keys(from, known_keys());
    if (!wrong_.empty()) return std::unexpected(wrong_);
    return reading;
  }

 private:
  void say(std::string sentence) {
    if (wrong_.empty()) wrong_ = std::move(sentence);
  }

  static std::vector<std::string> known_keys() {
    std::vector<std::string> keys{"what", "value", "at_least", "stage", "called", "instrument"};
    for (const Text& text : texts) keys.emplace_back(text.key);
    for (const Number& number : numbers) keys.emplace_back(number.key);
    return keys;
  }

  void judge_keys(const json& object, const std::vector<std::string>& known) {
    for (const auto& item : object.items()) {
      if (holds(known, item.key())) continue;
      const std::string hint = job::did_you_mean(item.key(), known);
      say(fmt::format("has no field \"{}\"{}", item.key(), hint.empty() ? "" : ": " + hint));
    }
  }

  void read_what(const json& from, Reading& reading) {
    std::string name;
    take_text(from, "what", name);
    const auto found = std::ranges::find(what_help(), name, &WhatHelp::name);
    if (found == what_help().end()) return say(fmt::format("\"{}\" is no kind of reading", name));
    reading.what = found->what;
    if (is_text(reading.what)) {
      if (from.contains("value")) say(fmt::format("{} has its reading in text, not in value", name));
      if (reading.what == What::sensor_position) read_where(from);
      return;
    }
    std::optional<double> value;
    take_number(from, "value", value);
    if (!value) say("value is missing");
    reading.value = value.value_or(0);
    if (is_yes_no(reading.what) && reading.value != 0 && reading.value != 1)
      say(fmt::format("value of {} must be 0 or 1", name));
  }

  void read_where(const json& from) {
    std::string text;
    take_text(from, "text", text);
    if (sensor_position_named(text)) return;
    const std::vector<std::string> known(sensor_positions().begin(), sensor_positions().end());
    say(fmt::format("\"{}\" is no place of a sensor; expected {}", text, job::one_of(known)));
  }

  void take_text(const json& from, std::string_view key, std::string& into) {
    const auto found = from.find(std::string(key));
    if (found == from.end()) return;
    if (!found->is_string()) return say(fmt::format("{} must be text", key));
    into = found->get<std::string>();
  }
  void take_number(const json& from, std::string_view key, std::optional<double>& into) {
    const auto found = from.find(std::string(key));
    if (found == from.end()) return;
    if (!found->is_number() || !std::isfinite(found->get<double>()))
      return say(fmt::format("{} must be a number", key));
    into = found->get<double>();
  }
  void take_flag(const json& from, std::string_view key, std::optional<bool>& into) {
    const auto found = from.find(std::string(key));
    if (found == from.end()) return;
    if (!found->is_boolean()) return say(fmt::format("{} must be true or false", key));
    into = found->get<bool>();
  }

  void read_instrument(const json& from, Instrument& instrument) {
    if (!from.is_object()) return say("instrument must be an object");
    for (const InstrumentText& text : instrument_texts) take_text(from, text.key, instrument.*text.field);
    std::optional<double> frac, abs;
    take_number(from, "error_frac", frac);
    take_number(from, "error_abs", abs);
    if (frac.value_or(0) < 0 || abs.value_or(0) < 0) say("an instrument's error must be zero or more");
    if (frac || abs) instrument.error = InstrumentError{frac.value_or(0), abs.value_or(0)};
    judge_keys(from, {"name", "serial", "calibration_due", "error_frac", "error_abs"});
  }

  std::string wrong_;
};

}  // namespace

std::string to_body(const std::vector<Reading>& readings) {
  json all = json::array();
  for (const Reading& reading : readings) all.push_back(to_json(reading));
  return json{{"readings", std::move(all)}}.dump(-1, ' ', false, json::error_handler_t::replace);
}

std::expected<std::vector<Reading>, std::string> from_body(std::string_view body) {
  const json from = json::parse(body, nullptr, false);
  if (from.is_discarded()) return std::unexpected("the body of the record is no JSON");
  if (!from.is_object() || !from.contains("readings") || !from["readings"].is_array())
    return std::unexpected("the body of the record has no list \"readings\"");
  if (from.size() != (from.contains("verdicts") ? 2U : 1U))
    return std::unexpected("the body of the record has fields other than \"readings\" and \"verdicts\"");
  std::vector<Reading> readings;
  for (const json& each : from["readings"]) {
    auto reading = BodyReader().read(each);
    if (!reading) return std::unexpected(fmt::format("reading {} {}", readings.size() + 1, reading.error()));
    readings.push_back(*std::move(reading));
  }
  return readings;
}

}  // namespace firstdraw::prove
