#include "desk/disk.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <ctime>

#include "desk/saving.hpp"

namespace firstdraw::desk {

namespace {

// File systems tick in steps of up to some 10 ms (ext4, tmpfs) that two writings can share.
constexpr std::int64_t moment_ns = 50'000'000;

std::int64_t nanoseconds(const timespec& time) { return time.tv_sec * 1'000'000'000LL + time.tv_nsec; }

std::int64_t now_ns() {
  timespec now{};
  ::clock_gettime(CLOCK_REALTIME, &now);
  return nanoseconds(now);
}

}  // namespace

Disk::Stamps Disk::stamps(const std::filesystem::path& folder) {
  Stamps all;
  const auto names = names_of_job(folder);
  if (!names) return all;
  for (const auto& name : *names) {
    struct stat there{};
    if (::stat((folder / name).c_str(), &there) == 0)
      all[name] = {there.st_ino, there.st_size, nanoseconds(there.st_mtim), nanoseconds(there.st_ctim)};
  }
  return all;
}

bool Disk::settled(const Stamps& stamps) {
  const std::int64_t since_ns = now_ns() - moment_ns;
  return std::ranges::all_of(stamps, [&](const auto& item) {
    return item.second.written_ns < since_ns && item.second.changed_ns < since_ns;
  });
}

Disk Disk::of(const std::filesystem::path& folder) {
  Disk disk;
  disk.known_ = stamps(folder);
  disk.sure_ = settled(disk.known_);
  return disk;
}

bool Disk::as_remembered(const std::filesystem::path& folder) const {
  return sure_ && stamps(folder) == known_;
}

bool Disk::still(const std::filesystem::path& folder) { return settled(stamps(folder)); }

}  // namespace firstdraw::desk
