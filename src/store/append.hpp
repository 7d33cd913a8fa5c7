// Private to the room: the next record of a book.
#pragma once

#include <soci/soci.h>

#include <optional>
#include <string>

#include "store/record.hpp"

namespace firstdraw::store {

/// What the book has under the draft's entry already; nothing for a draft without one. To be called in a
/// write transaction that holds the book. Throws Stop (`bad_input`) when that record says something else.
std::optional<Record> record_of_entry(soci::session& sql, const std::string& job, const Draft& draft);

/// With the next number, the time and the hash; not stored yet. To be called in a write transaction that
/// holds the book. Throws Stop (`bad_input`) when an attachment or the corrected record is not there, or when
/// that is corrected already.
Record next_record(soci::session& sql, const std::string& job, const Draft& draft);

}  // namespace firstdraw::store
