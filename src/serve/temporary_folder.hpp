// A folder of one's own in the system's place for such, gone with its owner.
#pragma once

#include <expected>
#include <filesystem>
#include <map>
#include <string>

namespace firstdraw::serve {

class TemporaryFolder {
 public:
  /// Throws std::filesystem::filesystem_error when there can be none.
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  /// All files in it and below, by their path from it.
  std::expected<std::map<std::string, std::string>, std::string> files() const;

 private:
  std::filesystem::path path_;
};

}  // namespace firstdraw::serve
