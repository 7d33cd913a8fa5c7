// Private to the room: reads an archive from end to end, believing nothing. Failures are thrown as Stop
// (`bad_input`); what comes back holds together: paths, hashes, counts, chains, numbers, times.
#pragma once

#include <cstdint>
#include <expected>
#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "store/archive_layout.hpp"
#include "store/archive_manifest.hpp"
#include "store/archive_zip.hpp"
#include "store/failure.hpp"
#include "store/record.hpp"
#include "store/series.hpp"

namespace firstdraw::store {

struct CheckedArchive {
  Manifest manifest{};
  std::map<std::string, std::vector<SeriesInfo>> series{};  // by book; ids 1, 2, 3…
  std::int64_t files = 0;
};
CheckedArchive check_archive(const std::filesystem::path& from);

/// Reads an entry to its end in pieces; its size and hash.
ArchiveEntry drain(ZipReader& zip, const std::string& path,
                   const std::function<void(std::string_view)>& take);

/// A line of records.jsonl of that book; errors in one sentence without a dot.
std::expected<Record, std::string> record_of_line(std::string_view line, const std::string& job);

/// Longest line of records.jsonl: the largest body, and its frame.
inline constexpr std::size_t longest_record = 80UL << 20U;
inline constexpr std::size_t longest_csv_line = 8192;

}  // namespace firstdraw::store
