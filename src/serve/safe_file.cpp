#include "serve/safe_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>

namespace firstdraw::serve {
namespace {

namespace fs = std::filesystem;

std::unexpected<std::string> trouble(const fs::path& file) {
  return std::unexpected(fmt::format("{}: {}", file.string(), std::strerror(errno)));
}

bool write_all(int descriptor, const std::string& bytes) {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t written = ::write(descriptor, bytes.data() + done, bytes.size() - done);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    done += static_cast<std::size_t>(written);
  }
  return ::fsync(descriptor) == 0;
}

std::expected<void, std::string> private_folder(const fs::path& folder) {
  std::error_code error;
  if (fs::is_directory(folder, error)) return {};
  fs::create_directories(folder, error);
  if (error) return std::unexpected(fmt::format("{}: {}", folder.string(), error.message()));
  fs::permissions(folder, fs::perms::owner_all, error);
  return {};
}

}  // namespace

std::expected<void, std::string> write_safely(const fs::path& file, const std::string& bytes) {
  static std::atomic<unsigned> counter{0};
  if (auto made = private_folder(file.parent_path()); !made) return made;
  const fs::path beside = fmt::format("{}.part-{}-{}", file.string(), getpid(), ++counter);
  const int descriptor = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (descriptor < 0) return trouble(beside);
  const bool written = write_all(descriptor, bytes);
  const int why = errno;
  ::close(descriptor);
  if (written && ::rename(beside.c_str(), file.c_str()) == 0) return {};
  if (!written) errno = why;
  auto out = trouble(file);
  ::unlink(beside.c_str());
  return out;
}

std::expected<std::string, std::string> read_whole(const fs::path& file) {
  errno = 0;
  std::ifstream in(file, std::ios::binary);
  if (!in) return trouble(file);
  std::string bytes(std::istreambuf_iterator<char>(in), {});
  if (in.bad()) return trouble(file);
  return bytes;
}

}  // namespace firstdraw::serve
