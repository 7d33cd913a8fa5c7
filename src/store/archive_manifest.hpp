// Private to the room: the list of what an archive holds. schemas/archive-manifest.schema.json.
#pragma once

#include <cstdint>
#include <expected>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::store {

struct ArchiveBook {
  std::string job;
  std::int64_t records = 0;
  std::string head_hash;  // of the last record; 64 zeros where there is none
  std::int64_t series = 0, samples = 0;
  bool operator==(const ArchiveBook&) const = default;
};
struct ArchiveEntry {
  std::string path;  // below firstdraw-archive/
  std::int64_t bytes = 0;
  std::string sha256;
  bool operator==(const ArchiveEntry&) const = default;
};
struct Manifest {
  std::vector<ArchiveBook> books;     // by name
  std::vector<ArchiveEntry> entries;  // by path; all but the manifest itself
  bool operator==(const Manifest&) const = default;
};

inline constexpr std::size_t longest_manifest = 256UL << 20U;

std::string to_json(const Manifest& manifest);
/// Errors in one sentence without a dot.
std::expected<Manifest, std::string> read_manifest(std::string_view json);

}  // namespace firstdraw::store
