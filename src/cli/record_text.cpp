#include "cli/record_text.hpp"

#include <fmt/format.h>

#include <map>

#include "paper/recorded.hpp"

namespace firstdraw::cli {
namespace {

using nlohmann::json;
using Facts = std::vector<std::pair<std::string, std::string>>;

json body_of(const store::Record& record) { return json::parse(record.body, nullptr, false); }

Facts head_facts(const store::Record& record) {
  Facts facts{{"Kind", std::string(store::name_of(record.kind))},
              {"About", paper::about(record)},
              {"When", record.at},
              {"Who", record.who}};
  for (const store::Instrument& each : record.instruments)
    facts.emplace_back(
        "Instrument",
        fmt::format("{}{}{}{}{}", each.name, each.serial.empty() ? "" : ", serial ", each.serial,
                    each.calibration_due.empty() ? "" : ", calibration due ", each.calibration_due));
  if (record.corrects) facts.emplace_back("Takes the place of", fmt::format("record {}", *record.corrects));
  return facts;
}

Style style_of(prove::Grade grade) {
  return grade == prove::Grade::pass    ? Style::green
         : grade == prove::Grade::doubt ? Style::yellow
                                        : Style::red;
}

void add_verdicts(Page& page, const std::vector<prove::Reading>& readings,
                  const std::vector<prove::Verdict>& verdicts) {
  if (verdicts.empty()) return;
  page.heading("Verdicts");
  for (const prove::Verdict& verdict : verdicts) {
    const prove::Reading& reading = readings.at(verdict.reading);
    std::string where = reading.circuit;
    for (const std::string& place : {reading.group, reading.run})
      if (!place.empty()) where = place;
    page.paragraph(fmt::format("{} {}: {}{}{}{}{}", where, prove::name_of(reading.what), verdict.said,
                               verdict.suspect.empty() ? "" : " ", verdict.suspect,
                               verdict.to_do.empty() ? "" : " ", verdict.to_do),
                   fmt::format("{} ", prove::name_of(verdict.grade)), style_of(verdict.grade));
  }
  page.caution(
      "A pass is no permit: local codes, the authority having jurisdiction, licensed practice and the cable "
      "maker's "
      "instructions decide.");
}

}  // namespace

std::string short_hash(std::string_view hash) {
  return fmt::format("{} {} {} {}", hash.substr(0, 4), hash.substr(4, 4), hash.substr(8, 4),
                     hash.substr(12, 4));
}

nlohmann::json to_json(const store::Record& record) {
  json out{{"book", record.job},
           {"number", record.number},
           {"kind", store::name_of(record.kind)},
           {"at", record.at},
           {"who", record.who},
           {"about", paper::about(record)},
           {"instruments", json::array()},
           {"body", body_of(record)},
           {"attachments", json::array()},
           {"corrects", record.corrects ? json(*record.corrects) : json(nullptr)},
           {"stored_at", record.stored_at},
           {"previous_hash", record.previous_hash},
           {"hash", record.hash},
           {"canonical_text", store::canonical_text(record)}};
  if (record.entry) out["entry"] = *record.entry;
  for (const store::Instrument& each : record.instruments)
    out["instruments"].push_back(
        {{"name", each.name}, {"serial", each.serial}, {"calibration_due", each.calibration_due}});
  for (const store::Attachment& each : record.attachments)
    out["attachments"].push_back({{"name", each.name},
                                  {"media_type", each.media_type},
                                  {"sha256", each.sha256},
                                  {"bytes", each.bytes}});
  return out;
}

void add_recorded(Page& page, const store::Record& record, const store::Store& store,
                  const std::vector<prove::Reading>& readings, const std::vector<prove::Verdict>& verdicts) {
  page.heading(fmt::format("Record {} of {}", record.number, record.job));
  Facts facts = head_facts(record);
  facts.emplace_back("Kept in", store.where());
  facts.emplace_back("Hash", record.hash);
  page.facts(facts);
  add_verdicts(page, readings, verdicts);
  page.blank();
  page.paragraph(fmt::format("record {}, hash begins {}", record.number, short_hash(record.hash)),
                 "Write on the paper sheet: ", Style::bold);
}

void add_list(Page& page, const std::vector<store::Record>& records, const std::string& book) {
  page.heading(fmt::format("Records of {}", book));
  if (records.empty()) return page.paragraph("None.");
  std::map<std::int64_t, std::int64_t> corrected;
  for (const store::Record& record : records)
    if (record.corrects) corrected[*record.corrects] = record.number;
  using enum Column::Kind;
  TextTable table({{"No.", "", number},
                   {"Kind", "", text},
                   {"When", "", text},
                   {"Who", "", wrapping_text},
                   {"About", "", wrapping_text}});
  for (const store::Record& record : records) {
    const auto by = corrected.find(record.number);
    const bool old = by != corrected.end();
    const std::string remark = old               ? fmt::format(" (corrected by {})", by->second)
                               : record.corrects ? fmt::format(" (corrects {})", *record.corrects)
                                                 : "";
    table.add_row({{std::to_string(record.number)},
                   {std::string(store::name_of(record.kind))},
                   {printable(record.at)},
                   {printable(record.who)},
                   {printable(paper::about(record) + remark), old ? Style::dim : Style::plain}});
  }
  page.table(table);
}

void add_shown(Page& page, const store::Record& record) {
  page.heading(fmt::format("Record {} of {}", record.number, record.job));
  Facts facts = head_facts(record);
  if (record.entry) facts.emplace_back("Entry", *record.entry);
  facts.emplace_back("Stored at", record.stored_at);
  facts.emplace_back("Hash before", record.previous_hash);
  facts.emplace_back("Hash", record.hash);
  page.facts(facts);
  if (!record.attachments.empty()) page.heading("Files");
  for (const store::Attachment& each : record.attachments)
    page.paragraph(fmt::format("{} ({}, {} bytes) {}", each.name, each.media_type, each.bytes, each.sha256));
  page.heading("What is hashed");
  page.verbatim(store::canonical_text(record));
}

}  // namespace firstdraw::cli
