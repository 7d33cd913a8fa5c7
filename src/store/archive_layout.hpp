// Private to the room: what the files within an archive are called. docs/archive.md.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace firstdraw::store {

inline constexpr std::string_view archive_root = "firstdraw-archive/";
inline constexpr int archive_version = 1;

/// Folder of a book, "books/NAME": bytes other than A-Z a-z 0-9 - _ and dots within are written %2F.
std::string book_folder(std::string_view job);

struct ArchivePath {
  enum class Kind { manifest, records, series, readings, file } kind{};
  std::string job{};        // of records, series and readings
  std::int64_t series = 0;  // of readings: number within the archive
  std::string sha256{};     // of a file
};
/// A path without `archive_root`; nullopt: no archive of this layout has such a file.
std::optional<ArchivePath> archive_path(std::string_view path);
std::string text_of(const ArchivePath& path);
/// With `archive_root`.
std::string below_root(std::string_view path);

}  // namespace firstdraw::store
