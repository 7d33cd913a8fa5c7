// One entry of a job's book of records. Records are only ever added: a correction is a new record that names
// the old one. Each carries a hash that chains it to the one before. docs/records.md.
#pragma once

#include <cstdint>
#include <expected>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::store {

enum class RecordKind {
  revision,   // the job folder as it was: as designed, as built
  test,       // readings of a field test, with the verdicts given on the spot
  diagnosis,  // readings and the ranking they led to
  photo,
  sign_off,    // who answers for what
  acceptance,  // a finding somebody accepts, and why
  action,      // what was done: flushed, repaired, setting changed (the water management plan's log)
  log_import,  // a log that was read into the series, by the hash of the file
  note,
};
std::string_view name_of(RecordKind kind);  // "sign-off"
std::optional<RecordKind> record_kind(std::string_view name);

struct Instrument {
  std::string name, serial, calibration_due;  // due: "2027-03-01"; each may be empty
  bool operator==(const Instrument&) const = default;
};

/// A file kept with a record, known by the SHA-256 of its bytes (lower-case hex).
struct Attachment {
  std::string name, media_type, sha256;
  std::uint64_t bytes = 0;
  bool operator==(const Attachment&) const = default;
};

/// What somebody wants to record.
struct Draft {
  RecordKind kind{};
  std::string at;   // when it was so, RFC 3339: "2026-11-29T14:05:00-06:00"
  std::string who;  // never empty
  std::vector<Instrument> instruments{};
  std::string body = "{}";                 // JSON object; what it holds depends on the kind: docs/records.md
  std::vector<Attachment> attachments{};   // put before with Store::put_file
  std::optional<std::int64_t> corrects{};  // number of the record that this one takes the place of
  /// Chosen by whoever sends it, such as a UUID: 1 to 64 of A-Z a-z 0-9 _ -. Sent twice, it is one record:
  /// Store::append.
  std::optional<std::string> entry{};
  bool operator==(const Draft&) const = default;
};

/// `body` is in canonical form here: see canonical_text.
struct Record : Draft {
  std::string job;            // whose book
  std::int64_t number = 0;    // 1, 2, 3… within the book, without gaps
  std::string stored_at;      // RFC 3339, UTC, by the storing machine's clock
  std::string previous_hash;  // 64 zeros before the first
  std::string hash;           // SHA-256, lower-case hex, of canonical_text(*this)
  bool operator==(const Record&) const = default;
};

/// previous_hash of the first record of a book.
inline constexpr std::string_view no_hash =
    "0000000000000000000000000000000000000000000000000000000000000000";

/// The text that is hashed: one line of canonical JSON (keys sorted, no blanks, UTF-8, numbers of the body as
/// they were written: json_text.hpp) of everything but `hash` itself, and of `entry` only where there is
/// one. `body` goes in as it stands. Anyone with a SHA-256 tool can check it.
std::string canonical_text(const Record& record);
std::string hash_of(const Record& record);

/// Reads a canonical text back; errors in one sentence. `hash` is computed, so that a record that was read is
/// right only if its hash is the one it should have.
std::expected<Record, std::string> read_canonical(std::string_view text);

}  // namespace firstdraw::store
