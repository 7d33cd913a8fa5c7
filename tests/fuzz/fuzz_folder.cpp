#include "fuzz_folder.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>

namespace firstdraw::fuzz {
namespace {

namespace fs = std::filesystem;

/// Of this process.
class Root {
 public:
  Root() {
    const fs::path memory = "/dev/shm";
    std::error_code none;
    const fs::path base = fs::is_directory(memory, none) ? memory : fs::temp_directory_path();
    path_ = base / ("firstdraw-fuzz-" + std::to_string(::getpid()));
    fs::create_directories(path_);
  }
  ~Root() {
    std::error_code none;
    fs::remove_all(path_, none);
  }
  Root(const Root&) = delete;
  Root& operator=(const Root&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

}  // namespace

fs::path empty_folder(std::string_view name) {
  static const Root root;
  fs::path folder = root.path() / name;
  fs::remove_all(folder);
  fs::create_directories(folder);
  return folder;
}

std::map<std::string, std::string, std::less<>> files_in(std::string_view input) {
  constexpr std::string_view mark = "@@ ";
  std::map<std::string, std::string, std::less<>> files;
  std::string* file = nullptr;
  while (!input.empty()) {
    const auto end = std::min(input.find('\n'), input.size() - 1) + 1;
    const std::string_view line = input.substr(0, end);
    input.remove_prefix(end);
    if (line.starts_with(mark)) {
      file = &files[std::string(line.substr(mark.size(), line.find('\n') - mark.size()))];
    } else if (file) {
      *file += line;
    }
  }
  return files;
}

void write(const fs::path& file, std::string_view text) {
  std::ofstream out(file, std::ios::binary);
  out.write(text.data(), static_cast<std::streamsize>(text.size()));
}

void broken(const char* promise) {
  std::fprintf(stderr, "broken promise: %s\n", promise);
  std::abort();
}

}  // namespace firstdraw::fuzz
