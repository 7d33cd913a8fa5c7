#include "store/append.hpp"

#include <fmt/format.h>

#include <chrono>

#include "store/json_text.hpp"
#include "store/record_table.hpp"
#include "store/rfc3339.hpp"
#include "store/session.hpp"

namespace firstdraw::store {
namespace {

void require_file(soci::session& sql, const Attachment& attachment) {
  long long size = -1;
  sql << "SELECT size FROM files WHERE sha256 = :sha256", soci::into(size),
      soci::use(attachment.sha256, "sha256");
  if (sql.got_data() && static_cast<std::uint64_t>(size) == attachment.bytes) return;
  throw Stop{{FailureKind::bad_input,
              fmt::format("The file \"{}\" of {} bytes, SHA-256 {}, is not in the store.", attachment.name,
                          attachment.bytes, attachment.sha256),
              "Put the file into the store first."}};
}

void require_correctable(soci::session& sql, const std::string& job, std::int64_t number) {
  if (!hash_at(sql, job, number))
    throw Stop{{FailureKind::bad_input, fmt::format("\"{}\" has no record {} to correct.", job, number),
                "Look at the list of records for the number."}};
  const std::int64_t by = corrector_of(sql, job, number);
  if (by != 0)
    throw Stop{{FailureKind::bad_input,
                fmt::format("Record {} of \"{}\" is corrected by record {} already.", number, job, by),
                fmt::format("Correct record {} instead.", by)}};
}

/// Whether both say the same; the body is canonical in a record.
bool says_the_same(const Record& record, Draft draft) {
  draft.body = canonical_json(draft.body).value();
  return static_cast<const Draft&>(record) == draft;
}

}  // namespace

std::optional<Record> record_of_entry(soci::session& sql, const std::string& job, const Draft& draft) {
  if (!draft.entry) return std::nullopt;
  const auto row = row_of_entry(sql, job, *draft.entry);
  if (!row) return std::nullopt;
  Record record = readable(*row);
  if (says_the_same(record, draft)) return record;
  throw Stop{{FailureKind::bad_input,
              fmt::format("The entry {} is already used for record {} of \"{}\" with other content.",
                          *draft.entry, record.number, job),
              fmt::format("Give what is new an entry of its own; to put record {} right, correct it.",
                          record.number)}};
}

Record next_record(soci::session& sql, const std::string& job, const Draft& draft) {
  for (const Attachment& attachment : draft.attachments) require_file(sql, attachment);
  if (draft.corrects) require_correctable(sql, job, *draft.corrects);
  const Head head = head_of(sql, job);
  Record record;
  static_cast<Draft&>(record) = draft;
  record.body = canonical_json(draft.body).value();
  record.job = job;
  record.number = head.number + 1;
  record.stored_at =
      utc_text(std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now()));
  record.previous_hash = head.hash;
  record.hash = hash_of(record);
  return record;
}

}  // namespace firstdraw::store
