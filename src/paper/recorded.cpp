#include "paper/recorded.hpp"

#include <fmt/format.h>

#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "prove/field_tests.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::paper {
namespace {

using nlohmann::json;
using store::RecordKind;

void fill_in(const store::Record& record, prove::Reading& reading) {
  if (reading.at.empty()) reading.at = record.at;
  if (reading.who.empty()) reading.who = record.who;
  prove::Instrument& instrument = reading.instrument;
  if (record.instruments.size() != 1 || !instrument.name.empty() || !instrument.serial.empty()) return;
  const store::Instrument& used = record.instruments.front();
  instrument.name = used.name;
  instrument.serial = used.serial;
  if (instrument.calibration_due.empty()) instrument.calibration_due = used.calibration_due;
}

/// A text of the body; empty where there is none.
std::string text_in(const json& body, const char* key) {
  const auto found = body.find(key);
  return found != body.end() && found->is_string() ? found->get<std::string>() : "";
}

std::string count_of(std::size_t count, std::string_view what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::string about_tests(const json& body) {
  const auto readings = body.find("readings"), verdicts = body.find("verdicts");
  std::string text = count_of(readings == body.end() ? 0 : readings->size(), "reading");
  if (verdicts == body.end() || !verdicts->is_array()) return text;
  std::map<std::string, int> grades;
  for (const json& verdict : *verdicts)
    if (verdict.is_object()) ++grades[text_in(verdict, "grade")];
  std::string sorted;
  for (const char* grade : {"pass", "doubt", "fail"})
    if (grades.contains(grade))
      sorted += fmt::format("{} {} {}", sorted.empty() ? ":" : ",", grades[grade], grade);
  return text + sorted;
}

std::string at_place(const std::string& text, const json& body) {
  const std::string place = text_in(body, "place");
  return place.empty() ? text : fmt::format("{}: {}", place, text);
}

std::set<std::int64_t> corrected_of(const std::vector<store::Record>& records) {
  std::set<std::int64_t> corrected;
  for (const store::Record& record : records)
    if (record.corrects) corrected.insert(*record.corrects);
  return corrected;
}

}  // namespace

job::Result<std::vector<RecordedReading>> readings_in(const std::vector<store::Record>& records,
                                                      const std::string& where) {
  const std::set<std::int64_t> corrected = corrected_of(records);
  std::vector<RecordedReading> all;
  std::vector<job::Diagnostic> problems;
  for (const store::Record& record : records) {
    if (record.kind != RecordKind::test || corrected.contains(record.number)) continue;
    auto readings = prove::from_body(record.body);
    if (!readings) {
      problems.push_back({where, 0, 0, fmt::format("record {}", record.number), readings.error(), ""});
      continue;
    }
    for (prove::Reading& reading : *readings) {
      fill_in(record, reading);
      all.push_back({std::move(reading), record.number});
    }
  }
  if (!problems.empty()) return std::unexpected(std::move(problems));
  return all;
}

void accept_as_recorded(const std::vector<store::Record>& records, job::Job& job) {
  const std::set<std::int64_t> corrected = corrected_of(records);
  for (const store::Record& record : records) {
    if (record.kind != store::RecordKind::acceptance || corrected.contains(record.number)) continue;
    const auto body = json::parse(record.body, nullptr, false);
    if (!body.is_object()) continue;
    job.accepted.push_back({body.value("finding", ""), body.value("place", ""), body.value("reason", ""),
                            record.who, record.at.substr(0, 10)});
  }
}

job::Result<FieldBook> field_book_of(Recorded recorded, const job::Job& job, const plan::Plan& plan) {
  auto readings = readings_in(recorded.records, recorded.where);
  if (!readings) return std::unexpected(std::move(readings.error()));
  FieldBook field;
  std::vector<prove::Reading> read;
  for (RecordedReading& each : *readings) {
    read.push_back(std::move(each.reading));
    field.record_of.push_back(each.record);
  }
  prove::FieldTests tests = prove::field_tests(job, plan, std::move(read));
  field.readings = std::move(tests.readings);
  field.verdicts = std::move(tests.verdicts);
  field.due = std::move(tests.due);
  field.trends = std::move(tests.trends);
  field.findings = std::move(tests.findings);
  field.records = std::move(recorded.records);
  field.chain = std::move(recorded.chain);
  return field;
}

std::string about(const store::Record& record) {
  const json body = json::parse(record.body, nullptr, false);
  if (!body.is_object()) return "";
  switch (record.kind) {
    case RecordKind::revision:
      return fmt::format("{}, {}", text_in(body, "revision"), count_of(record.attachments.size(), "file"));
    case RecordKind::test:
      return about_tests(body);
    case RecordKind::sign_off:
      return fmt::format("{}: {}", text_in(body, "role"), text_in(body, "statement"));
    case RecordKind::acceptance: {
      const std::string place = text_in(body, "place");
      return fmt::format("{}{}{}: {}", text_in(body, "finding"), place.empty() ? "" : " at ", place,
                         text_in(body, "reason"));
    }
    default:
      break;
  }
  const std::string text = text_in(body, "text");
  if (!text.empty()) return at_place(text, body);
  for (const auto& [key, value] : body.items())
    if (value.is_string()) return at_place(value.get<std::string>(), body);
  return "";
}

}  // namespace firstdraw::paper
