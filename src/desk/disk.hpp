// Whether the files of a job on the disk are still those that were read or written last.
#pragma once

#include <sys/types.h>

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>

namespace firstdraw::desk {

class Disk {
 public:
  /// What the folder looks like now. Look before reading it, so that what is written meanwhile is noticed.
  static Disk of(const std::filesystem::path& folder);
  /// False when a file came, went, or changed in size or time since; also when one was written so shortly
  /// before that its time would not tell.
  bool as_remembered(const std::filesystem::path& folder) const;
  /// No file was written in the last moments: another program is done writing.
  static bool still(const std::filesystem::path& folder);

 private:
  struct Stamp {
    ino_t file = 0;
    off_t size = 0;
    std::int64_t written_ns = 0, changed_ns = 0;
    bool operator==(const Stamp&) const = default;
  };
  using Stamps = std::map<std::string, Stamp>;
  static Stamps stamps(const std::filesystem::path& folder);
  static bool settled(const Stamps& stamps);

  Stamps known_;
  bool sure_ = false;
};

}  // namespace firstdraw::desk
