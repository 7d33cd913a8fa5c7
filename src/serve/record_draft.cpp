#include "serve/record_draft.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "paper/record_body.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// A body has no field of its own for why a record corrects another: it stands with the words.
std::string words_of(const NewRecord& asked) {
  if (asked.why.empty()) return asked.note;
  return asked.note + (asked.note.empty() ? "" : " ") + "(Correction: " + asked.why + ")";
}

Maybe<json> test_of(const NewRecord& asked, const Looked& looked, std::vector<ReadRow>& rows) {
  // Readings take the record's own moment: from the same sending the same record.
  rows = read_rows(asked.readings, asked.instrument, "", looked);
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
  if (std::string& note = readings.front().note; note.empty())
    note = words_of(asked);
  else if (const std::string words = words_of(asked); !words.empty())
    note += " " + words;
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

Maybe<json> body_of(House& house, OpenJob& job, const Looked& looked, const NewRecord& asked,
                    std::vector<ReadRow>& rows) {
  if (asked.kind == "test") return test_of(asked, looked, rows);
  if (asked.kind == "sign-off") return sign_off_of(house, job, asked);
  return paper::text_body(words_of(asked), asked.place);
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

Maybe<DraftOfRecord> draft_of(House& house, OpenJob& job, const Looked& looked, const NewRecord& asked) {
  DraftOfRecord made;
  const auto body = body_of(house, job, looked, asked, made.rows);
  if (!body) return std::unexpected(body.error());
  store::Draft& draft = made.draft;
  draft.kind = *store::record_kind(asked.kind);
  draft.at = asked.at;
  draft.who = asked.who;
  if (asked.instrument)
    draft.instruments.push_back(
        {asked.instrument->name, asked.instrument->serial, asked.instrument->calibration_due});
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
