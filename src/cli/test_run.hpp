// The program in a test's own process: its words in, what it says out.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "cli/app.hpp"

namespace firstdraw::cli {

struct Ran {
  int code = 0;
  std::string out, err;
};

inline Ran ran(const std::vector<std::string>& words) {
  std::ostringstream out, err;
  const int code = run(words, out, err, {});
  return {code, out.str(), err.str()};
}

/// A folder of this process; gone with the test.
class TestFolder {
 public:
  explicit TestFolder(const std::string& name)
      : folder_(std::filesystem::temp_directory_path() / (name + "_" + std::to_string(getpid()))) {
    std::filesystem::create_directories(folder_);
  }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;
  ~TestFolder() { std::filesystem::remove_all(folder_); }
  std::string path(const std::string& name) const { return (folder_ / name).string(); }

 private:
  std::filesystem::path folder_;
};

}  // namespace firstdraw::cli
