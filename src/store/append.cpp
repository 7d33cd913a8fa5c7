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

}  // namespace

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
