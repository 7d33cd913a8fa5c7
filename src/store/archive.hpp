// Everything of one or all books as a plain archive that can be read without this program: docs/archive.md.
//   firstdraw-archive/books/JOB/records.jsonl    one canonical record a line, in order
//   firstdraw-archive/books/JOB/series.csv       id, name, quantity, place; by name, ids 1, 2, 3…
//   firstdraw-archive/books/JOB/readings/ID.csv  at_ms,value (shortest text that reads back to the same
//   double) firstdraw-archive/files/SHA256               the attachments' bytes
//   firstdraw-archive/manifest.json              format, version, books with counts and head hashes, the size
//                                                and SHA-256 of every file
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "store/store.hpp"

namespace firstdraw::store {

struct ArchiveCounts {
  std::vector<std::string> jobs;
  std::int64_t records = 0, files = 0, series = 0, samples = 0;
};

/// A ZIP file, written beside `to` and renamed when it is whole. `job` empty: every book. Same contents, same
/// bytes.
Result<ArchiveCounts> export_archive(const Store& store, const std::filesystem::path& to,
                                     std::string_view job = {});
/// All or nothing. Records keep number, times and hashes; every chain and file is verified before anything is
/// written. A book that is there already must be a beginning of the archive's (then only what is new is
/// added) or the same; else `bad_input`. Export of what was imported gives the same bytes.
Result<ArchiveCounts> import_archive(Store& store, const std::filesystem::path& from);

}  // namespace firstdraw::store
