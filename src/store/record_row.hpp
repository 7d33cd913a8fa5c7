// Private to the room: a record as the database holds it, every column as it stands, so that a check hashes
// what is there and not what a reader made of it.
#pragma once

#include <cstdint>
#include <expected>
#include <optional>
#include <string>

#include "store/record.hpp"

namespace firstdraw::store {

struct RecordRow {
  std::string job{};
  std::int64_t number = 0;
  std::string kind{}, at{}, who{};
  std::string instruments{}, body{}, attachments{};  // canonical JSON
  std::optional<std::int64_t> corrects{};
  std::optional<std::string> entry{};
  std::string stored_at{}, previous_hash{}, hash{};
};

RecordRow row_of(const Record& record);
/// Errors in one sentence.
std::expected<Record, std::string> record_of(const RecordRow& row);
std::string canonical_text(const RecordRow& row);

}  // namespace firstdraw::store
