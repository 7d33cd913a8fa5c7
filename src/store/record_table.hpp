// Private to the room: rows of the table of records.
#pragma once

#include <soci/soci.h>

#include <functional>
#include <optional>
#include <string>

#include "store/record_row.hpp"

namespace firstdraw::store {

void insert_row(soci::session& sql, const RecordRow& row);

/// Throws Stop (`damaged`) when it is no record.
Record readable(const RecordRow& row);

/// Every row of a book from `from_number` on, by number. `kind` empty: any.
void each_row(soci::session& sql, const std::string& job, std::int64_t from_number, const std::string& kind,
              const std::function<void(const RecordRow&)>& take);

/// Number and hash of the last record of a book; 0 and no_hash for an empty one.
struct Head {
  std::int64_t number = 0;
  std::string hash{no_hash};
};
Head head_of(soci::session& sql, const std::string& job);

/// Hash of one record, as it stands.
std::optional<std::string> hash_at(soci::session& sql, const std::string& job, std::int64_t number);

/// The record of a book with that entry.
std::optional<RecordRow> row_of_entry(soci::session& sql, const std::string& job, const std::string& entry);

/// Number of the record that corrects `number`; 0: none.
std::int64_t corrector_of(soci::session& sql, const std::string& job, std::int64_t number);

}  // namespace firstdraw::store
