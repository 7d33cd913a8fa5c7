#include "desk/saving.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <optional>
#include <sstream>

#include "job/source.hpp"

namespace firstdraw::desk {

namespace fs = std::filesystem;

namespace {

using Problem = std::optional<job::Diagnostic>;

constexpr const char* list_name = ".firstdraw-saving";
constexpr const char* absent = "-";

Problem failed(const std::string& name, int error) {
  return job::Diagnostic{name, 0, 0, "", fmt::format("cannot be saved: {}", std::strerror(error)), ""};
}

fs::path beside(const fs::path& path) {
  fs::path name = path;
  name += ".new";
  return name;
}

/// FNV-1a: to tell one text of a file from another, not against malice.
std::string mark_of(const std::string& text) {
  std::uint64_t mark = 14695981039346656037ULL;
  for (const char c : text) mark = (mark ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return fmt::format("{:016x}", mark);
}

std::string mark_of(const fs::path& folder, const std::string& name) {
  job::Context ignored;
  const auto text = job::FolderSource(folder).text(name, ignored);
  return text ? mark_of(*text) : absent;
}

Problem write_all(int file, const std::string& name, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t written = ::write(file, text.data() + done, text.size() - done);
    if (written < 0 && errno != EINTR) return failed(name, errno);
    if (written > 0) done += static_cast<std::size_t>(written);
  }
  if (::fsync(file) != 0 && errno != EINVAL) return failed(name, errno);
  return std::nullopt;
}

/// Completes and flushes a file beside its place, with the rights of the one that is there.
Problem write_beside(const fs::path& folder, const std::string& name, const std::string& text) {
  const fs::path path = folder / name;
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  if (error) return failed(name, error.value());
  struct stat there{};
  const bool known = ::stat(path.c_str(), &there) == 0;
  const int file = ::open(beside(path).c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (file < 0) return failed(name, errno);
  if (known && ::fchmod(file, there.st_mode & 07777U) != 0) errno = 0;  // rights are a courtesy
  Problem problem = write_all(file, name, text);
  if (::close(file) != 0 && !problem) problem = failed(name, errno);
  return problem;
}

Problem move_in(const fs::path& folder, const std::string& name) {
  if (::rename(beside(folder / name).c_str(), (folder / name).c_str()) == 0) return std::nullopt;
  return failed(name, errno);
}

void flush_folder(const fs::path& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;
  ::fsync(descriptor);
  ::close(descriptor);
}

void flush_names(const fs::path& folder) {
  flush_folder(folder);
  std::error_code error;
  if (fs::is_directory(folder / "catalog", error)) flush_folder(folder / "catalog");
}

void forget(const fs::path& path) {
  std::error_code ignored;
  fs::remove(path, ignored);
}

/// What a saving does, in this order.
struct Work {
  JobText put, before;              // new and old text of files that differ
  std::vector<std::string> remove;  // files that are gone
};

Work work_of(const JobText& text, const JobText& before) {
  Work work;
  for (const auto& [name, now] : text) {
    const auto old = before.find(name);
    if (old != before.end() && old->second == now) continue;
    work.put.emplace(name, now);
    if (old != before.end()) work.before.emplace(name, old->second);
  }
  for (const auto& [name, old] : before) {
    if (text.contains(name)) continue;
    work.remove.push_back(name);
    work.before.emplace(name, old);
  }
  return work;
}

Problem write_list(const fs::path& folder, const Work& work) {
  std::string list;
  const auto old_mark = [&](const std::string& name) {
    const auto old = work.before.find(name);
    return old == work.before.end() ? std::string(absent) : mark_of(old->second);
  };
  for (const auto& [name, text] : work.put)
    list += fmt::format("put\t{}\t{}\t{}\n", old_mark(name), mark_of(text), name);
  for (const auto& name : work.remove)
    list += fmt::format("remove\t{}\t{}\t{}\n", old_mark(name), absent, name);
  auto problem = write_beside(folder, list_name, list);
  if (!problem) problem = move_in(folder, list_name);
  flush_names(folder);
  return problem;
}

/// Puts back what was moved in before something failed.
void undo_moves(const fs::path& folder, const Work& work) {
  for (const auto& [name, text] : work.put) {
    const auto old = work.before.find(name);
    if (old == work.before.end()) {
      forget(folder / name);
    } else if (!write_beside(folder, name, old->second)) {
      (void)move_in(folder, name);
    }
  }
}

void drop_beside(const fs::path& folder, const Work& work) {
  for (const auto& [name, text] : work.put) forget(beside(folder / name));
}

Problem move_all(const fs::path& folder, const Work& work) {
  for (const auto& [name, text] : work.put) {
    if (auto problem = move_in(folder, name)) {
      undo_moves(folder, work);
      return problem;
    }
  }
  for (const auto& name : work.remove) forget(folder / name);
  return std::nullopt;
}

Problem carry_out(const fs::path& folder, const Work& work) {
  for (const auto& [name, text] : work.put)
    if (auto problem = write_beside(folder, name, text)) return problem;
  const bool several = work.put.size() + work.remove.size() > 1;
  if (several)
    if (auto problem = write_list(folder, work)) return problem;
  auto problem = move_all(folder, work);
  flush_names(folder);
  if (several) {
    forget(folder / list_name);
    flush_folder(folder);
  }
  return problem;
}

void finish_put(const fs::path& folder, const std::string& name, const std::string& old,
                const std::string& next) {
  std::error_code error;
  if (!fs::exists(beside(folder / name), error)) return;  // it was moved in
  const std::string now = mark_of(folder, name);
  if (now == old) {
    (void)move_in(folder, name);
  } else if (now == next) {
    forget(beside(folder / name));
  } else {
    fs::path kept = folder / name;
    kept += ".unsaved";
    fs::rename(beside(folder / name), kept, error);
  }
}

}  // namespace

bool good_name(const std::string& name) {
  const bool sheet = name.starts_with("catalog/") && name.ends_with(".toml");
  const std::string plain = sheet ? name.substr(8) : name;
  if (plain.find('/') != std::string::npos || plain.starts_with(".")) return false;
  return sheet || name == "job.toml" || name.ends_with(".csv") || name.ends_with(".json");
}

FolderLock::FolderLock(const fs::path& folder)
    : descriptor_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  while (descriptor_ >= 0 && ::flock(descriptor_, LOCK_EX) != 0 && errno == EINTR) {
  }
}

FolderLock::~FolderLock() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

job::Result<void> finish_saving(const fs::path& folder) {
  std::error_code error;
  if (!fs::exists(folder / list_name, error)) return {};
  job::Context context;
  const auto list = job::FolderSource(folder).text(list_name, context);
  if (!list) return std::unexpected(std::move(context.problems));
  std::istringstream lines(*list);
  std::string what, old, next, name;
  while (std::getline(lines, what, '\t') && std::getline(lines, old, '\t') &&
         std::getline(lines, next, '\t') && std::getline(lines, name)) {
    if (!good_name(name)) continue;
    if (what == "put") finish_put(folder, name, old, next);
    if (what == "remove" && mark_of(folder, name) == old) forget(folder / name);
  }
  flush_names(folder);
  forget(folder / list_name);
  return {};
}

job::Result<void> save(const JobText& text, const JobText& before, const fs::path& folder) {
  const Work work = work_of(text, before);
  if (work.put.empty() && work.remove.empty()) return {};
  auto problem = carry_out(folder, work);
  if (!problem) return {};
  drop_beside(folder, work);
  return std::unexpected(std::vector{std::move(*problem)});
}

}  // namespace firstdraw::desk
