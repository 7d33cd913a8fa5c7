#include "serve/record_draft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "paper/record_body.hpp"
#include "prove/readings_file.hpp"
#include "serve/looks.hpp"
#include "units/quantity.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// A body has no field of its own for why a record corrects another: it stands with the words.
std::string words_of(const NewRecord& asked) {
  if (asked.why.empty()) return asked.note;
  return asked.note + (asked.note.empty() ? "" : " ") + "(Correction: " + asked.why + ")";
}

/// What is said of the whole test stands with its first reading.
void add_words(std::vector<prove::Reading>& readings, const NewRecord& asked) {
  const std::string words = words_of(asked);
  std::string& note = readings.front().note;
  if (words.empty()) return;
  note += (note.empty() ? "" : " ") + words;
}

Maybe<json> test_of(const NewRecord& asked, const Looked& looked, std::vector<ReadRow>& rows) {
  // Readings take the record's own moment: from the same sending the same record.
  rows = read_rows(asked.readings, asked.instrument, "", looked.job(), looked.plan());
  std::vector<prove::Reading> readings;
  std::vector<job::Diagnostic> problems;
  for (const ReadRow& row : rows) {
    if (row.reading)
      readings.push_back(*row.reading);
    else
      problems.push_back(row.problem);
  }
  if (!problems.empty()) return refuse(std::move(problems));
  if (readings.empty())
    return refuse(Why::bad_input, "a test has at least one reading", "keep a note or a photo instead",
                  "readings");
  add_words(readings, asked);
  return paper::test_body(readings, prove::judge(looked.job(), looked.plan(), readings));
}

Maybe<json> sign_off_of(House& house, OpenJob& job, const NewRecord& asked) {
  const auto recorded = house.books.recorded(job);
  if (!recorded) return std::unexpected(recorded.error());
  if (!*recorded)
    return refuse(Why::bad_input, "there is nothing to sign for in this book", "record the tests first",
                  "kind");
  if (!(*recorded)->chain.whole())
    return refuse(Why::conflict, "the records of the book do not verify",
                  "firstdraw verify says which; nobody should sign for them", "kind");
  return paper::sign_off_body(asked.role, asked.statement, asked.place, (*recorded)->chain);
}

/// A look is at one of the circuit's own tests that no reading answers.
Maybe<void> check_look(const Looked& looked, const NewRecord& asked) {
  if (!asked.looked) return {};
  std::vector<std::string> tests;
  for (const prove::Due& due : prove::due_tests(looked.job(), looked.plan(), {}, {}))
    if (due.looked_at && due.circuit == asked.place) tests.push_back(due.test);
  if (std::ranges::find(tests, asked.looked->test) != tests.end()) return {};
  if (tests.empty())
    return refuse(Why::bad_input, fmt::format("there is no circuit \"{}\"", asked.place), "", "place");
  const auto near = units::nearest(asked.looked->test, tests);
  return refuse(Why::bad_input, fmt::format("no test \"{}\" is looked at here", asked.looked->test),
                near ? fmt::format("did you mean {}?", *near) : "", "looked.test");
}

Maybe<json> body_of(House& house, OpenJob& job, const Looked& looked, const NewRecord& asked,
                    std::vector<ReadRow>& rows) {
  if (asked.kind == "test") return test_of(asked, looked, rows);
  if (asked.kind == "sign-off") return sign_off_of(house, job, asked);
  if (auto known = check_look(looked, asked); !known) return std::unexpected(std::move(known.error()));
  return note_body(paper::text_body(words_of(asked), asked.place), asked.looked);
}

std::vector<store::Instrument> instruments_of(const NewRecord& asked) {
  if (!asked.instrument) return {};
  return {{asked.instrument->name, asked.instrument->serial, asked.instrument->calibration_due}};
}

/// A job that knows the places that these readings name, and nothing else.
Planned places_of(const std::vector<prove::Reading>& readings, units::System units) {
  Planned places;
  places.job.units = units;
  for (const prove::Reading& reading : readings) {
    places.plan.circuits.emplace_back().id = reading.circuit;
    places.job.groups.emplace_back().id = reading.group;
    places.job.runs.emplace_back().id = reading.run;
    places.job.outlets.emplace_back().id = reading.run;
  }
  return places;
}

bool reads_as(const NewRecord& asked, const std::vector<prove::Reading>& kept, units::System units) {
  const Planned places = places_of(kept, units);
  std::vector<prove::Reading> readings;
  for (const ReadRow& row : read_rows(asked.readings, asked.instrument, "", places.job, places.plan)) {
    if (!row.reading) return false;
    readings.push_back(*row.reading);
  }
  if (readings.empty()) return false;
  add_words(readings, asked);
  // As a record keeps them: numbers go through its text.
  const auto again = prove::from_body(prove::to_body(readings));
  return again && *again == kept;
}

bool says(const store::Record& record, const NewRecord& asked) {
  if (record.kind == store::RecordKind::test) {
    const auto kept = prove::from_body(record.body);
    return kept &&
           (reads_as(asked, *kept, units::System::us) || reads_as(asked, *kept, units::System::metric));
  }
  json body = json::parse(record.body, nullptr, false);
  if (record.kind != store::RecordKind::sign_off)
    return body == note_body(paper::text_body(words_of(asked), asked.place), asked.looked);
  json signed_for = paper::sign_off_body(asked.role, asked.statement, asked.place, {});
  for (json* each : {&body, &signed_for})
    for (const char* found : {"records", "head"}) each->erase(found);
  return body == signed_for;
}

bool has_files(const store::Record& record, const std::vector<NamedFile>& files) {
  return std::ranges::equal(record.attachments, files, [](const auto& kept, const NamedFile& file) {
    return kept.name == file.name && kept.sha256 == file.sha256;
  });
}

Maybe<store::Attachment> attach(House& house, OpenJob& job, const NamedFile& file) {
  auto bytes = house.uploads.get(file.sha256);
  if (!bytes) bytes = house.books.file(job, file.sha256);
  if (!bytes)
    return refuse(Why::bad_input, fmt::format("the file \"{}\" is not here", file.name), "send it first",
                  "files");
  return house.books.put_file(job, file.name, std::string(type_by_content(*bytes)), *bytes);
}

}  // namespace

bool is_made_of(const store::Record& record, const NewRecord& asked) {
  return record.entry == asked.entry && record.kind == store::record_kind(asked.kind) &&
         record.at == asked.at && record.who == asked.who && record.corrects == asked.corrects &&
         record.instruments == instruments_of(asked) && has_files(record, asked.files) && says(record, asked);
}

Maybe<DraftOfRecord> draft_of(House& house, OpenJob& job, const Looked& looked, const NewRecord& asked) {
  DraftOfRecord made;
  const auto body = body_of(house, job, looked, asked, made.rows);
  if (!body) return std::unexpected(body.error());
  store::Draft& draft = made.draft;
  draft.kind = *store::record_kind(asked.kind);
  draft.at = asked.at;
  draft.who = asked.who;
  draft.instruments = instruments_of(asked);
  draft.body = text_of(*body);
  draft.corrects = asked.corrects;
  draft.entry = asked.entry;
  for (const NamedFile& file : asked.files) {
    auto kept = attach(house, job, file);
    if (!kept) return std::unexpected(std::move(kept.error()));
    draft.attachments.push_back(*std::move(kept));
  }
  return made;
}

}  // namespace firstdraw::serve
