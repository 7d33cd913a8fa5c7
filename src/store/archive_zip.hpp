// Private to the room: ZIP files by libarchive, written and read as a stream of entries. Failures are thrown
// as Stop.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace firstdraw::store {

/// Writes beside `to` and takes its place when whole; what was begun and not finished is removed. The bytes
/// depend on nothing but names and contents: no times, no owners.
class ZipWriter {
 public:
  explicit ZipWriter(std::filesystem::path to);
  ~ZipWriter();
  ZipWriter(const ZipWriter&) = delete;
  ZipWriter& operator=(const ZipWriter&) = delete;

  void begin(const std::string& name);
  void add(std::string_view bytes);
  void end();
  /// The file is whole and on the disk.
  void finish();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// Throws Stop (`bad_input`).
[[noreturn]] void no_archive(const std::filesystem::path& from, std::string_view why);

/// The entries in the order they lie in the file. Anything but plain files and folders, and a size out of
/// proportion, is `bad_input`.
class ZipReader {
 public:
  /// All entries together may unpack to a hundred times the file's size and a gibibyte.
  static constexpr std::int64_t most_times = 100, most_beside = 1LL << 30U;

  explicit ZipReader(const std::filesystem::path& from, std::int64_t beside = most_beside);
  ~ZipReader();
  ZipReader(const ZipReader&) = delete;
  ZipReader& operator=(const ZipReader&) = delete;

  /// Name of the next file; nullopt: no more.
  std::optional<std::string> next();
  /// Some of its bytes; 0: that was all.
  std::size_t read(std::span<char> buffer);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace firstdraw::store
