#include "cli/watch_log_file.hpp"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <string_view>
#include <vector>

namespace firstdraw::cli {

LogFile::LogFile(const std::string& path) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(path, ignored)) {
    trouble_ = "there is no such log";
    return;
  }
  errno = 0;
  file_.open(path, std::ios::binary);
  if (!file_) trouble_ = std::string("cannot be read: ") + std::strerror(errno);
}

std::string LogFile::start(std::size_t size) {
  std::string bytes(size, '\0');
  file_.read(bytes.data(), static_cast<std::streamsize>(size));
  bytes.resize(static_cast<std::size_t>(file_.gcount()));
  if (file_.bad()) return bytes;
  file_.clear();
  file_.seekg(0);
  return bytes;
}

std::size_t LogFile::read(char* buffer, std::size_t size) {
  file_.read(buffer, static_cast<std::streamsize>(size));
  const auto got = static_cast<std::size_t>(file_.gcount());
  hash_.add({buffer, got});
  return got;
}

watch::ReadBytes LogFile::reader() {
  return [this](char* buffer, std::size_t size) { return read(buffer, size); };
}

std::string LogFile::sha256() {
  constexpr std::size_t piece = 1U << 18U;
  std::vector<char> buffer(piece);
  while (read(buffer.data(), buffer.size()) > 0) {
  }
  return file_.bad() ? "" : hash_.finish();
}

}  // namespace firstdraw::cli
