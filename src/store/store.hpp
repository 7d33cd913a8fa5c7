// Where records, files and readings last: one SQLite file, or a PostgreSQL database for many jobs and people.
// The one door of the room. What append() returned is on the disk, whatever happens next. docs/records.md.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "store/failure.hpp"
#include "store/record.hpp"
#include "store/series.hpp"

namespace firstdraw::store {

struct Wanted {
  std::optional<RecordKind> kind{};
  std::int64_t from_number = 1;
  bool with_corrected = true;  // false: without records that a later one takes the place of
};

/// What `verify` found about one book.
struct Verification {
  std::string job;
  std::int64_t records = 0;
  std::string head_hash;  // of the last record: print it, and nobody can cut the book's end off unseen
  struct Break {
    std::int64_t number = 0;
    std::string
        what;  // "altered", "missing", "file missing", "file altered", "not chained to the one before"
  };
  std::vector<Break> breaks;  // empty: whole
  /// Where `expected_head` was given: the number of the record that carries it; 0: no record does.
  std::int64_t head_found_at = 0;
  bool whole() const { return breaks.empty(); }
};

class Store {
 public:
  /// "PATH" or "sqlite:PATH": made when it is not there (`create`), WAL, synchronous FULL;
  /// "postgresql://user@host/database…". Brings an older schema up to date, each step in a transaction of its
  /// own, so that a step is there whole or not at all; refuses a newer one. Connections lost are made anew by
  /// the next call.
  static Result<Store> open(std::string_view where, bool create = true);
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  /// Durable on return. Writers wait for each other (at most some 10 s: then `busy`); each gets the next
  /// number. Nothing is written unless everything is: attachments must be there, `corrects` must name a
  /// record of the same book that nothing corrects yet, `at`, `who` and `body` must be well formed. When the
  /// connection breaks while committing, the call finds out whether the record got through before it answers:
  /// an append is never lost and never doubled.
  /// A draft with an `entry` that the book has already gives back the record that is there when both say the
  /// same (everything of a Draft, the body in canonical form), and is `bad_input` otherwise: whoever heard no
  /// answer sends it again, at any time, from any program.
  Result<Record> append(std::string_view job, const Draft& draft);
  Result<std::vector<Record>> records(std::string_view job, const Wanted& wanted = {}) const;
  Result<std::vector<std::string>> jobs() const;
  /// Reads everything of a book and recomputes every hash, attachments included.
  Result<Verification> verify(std::string_view job, std::string_view expected_head = {}) const;

  /// Files by content: putting the same bytes again costs nothing.
  Result<Attachment> put_file(std::string_view name, std::string_view media_type, std::string_view bytes);
  Result<std::string> file(std::string_view sha256) const;

  /// Logged readings: series.hpp.
  /// Found by name or made; `info.id` does not matter. A series of that name but another quantity or place is
  /// `bad_input`; a place left open is filled in.
  Result<std::int64_t> series(std::string_view job, const SeriesInfo& info);
  Result<std::vector<SeriesInfo>> series_of(std::string_view job) const;
  /// Any order, duplicates of a moment replaced by the later one given; all or nothing, durable on return.
  /// `bad_input`: a value that is not finite, a time beyond the year 9999, more than a million readings a
  /// day.
  Result<WriteCount> write(std::int64_t series, std::span<const Sample> samples);
  /// Several series in one transaction: a round of polling, a log of many columns.
  Result<WriteCount> write(std::span<const SeriesBatch> batches);
  /// from <= at < to, rising.
  Result<std::vector<Sample>> samples(std::int64_t series, std::int64_t from_ms, std::int64_t to_ms) const;
  /// One row of figures a day without unpacking any reading: whole UTC days, all that the range touches.
  Result<std::vector<DayFigures>> days(std::int64_t series, std::int64_t from_ms, std::int64_t to_ms) const;

  const std::string& where() const;  // without password

 private:
  friend struct ArchiveAccess;
  struct Inside;
  explicit Store(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace firstdraw::store
