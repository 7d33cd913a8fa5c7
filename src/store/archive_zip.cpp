#include "store/archive_zip.hpp"

#include <archive.h>
#include <archive_entry.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>
#include <utility>

#include "store/session.hpp"

namespace firstdraw::store {

namespace fs = std::filesystem;

namespace {

struct Release {
  void operator()(archive_entry* entry) const { archive_entry_free(entry); }
};
using Entry = std::unique_ptr<archive_entry, Release>;

[[noreturn]] void cannot_write(const fs::path& path, int code, std::string_view said) {
  const bool full = code == ENOSPC || code == EDQUOT || code == EFBIG;
  const bool refused = code == EACCES || code == EPERM || code == EROFS;
  throw Stop{
      {full      ? FailureKind::full
       : refused ? FailureKind::refused
                 : FailureKind::unreachable,
       fmt::format("The archive {} cannot be written: {}.", path.string(), said),
       full ? "Free some space, or write it to another disk." : "Give a place that can be written to."}};
}

[[noreturn]] void cannot_write(const fs::path& path, int code) {
  cannot_write(path, code, std::generic_category().message(code));
}

std::string error_of(archive* zip) {
  const char* text = archive_error_string(zip);
  std::string said = text == nullptr ? "unknown trouble" : text;
  while (!said.empty() && (said.back() == '.' || said.back() == '\n')) said.pop_back();
  return said;
}

}  // namespace

void no_archive(const fs::path& from, std::string_view why) {
  throw Stop{{FailureKind::bad_input, fmt::format("{} is no whole archive: {}.", from.string(), why),
              "Export it again, or fetch it again from where it was kept; nothing was imported."}};
}

struct ZipWriter::Inside {
  fs::path to, beside;
  int descriptor = -1;
  archive* zip = nullptr;
  bool placed = false;

  Inside() = default;
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;
  ~Inside() {
    if (zip != nullptr) archive_write_free(zip);
    if (descriptor >= 0) ::close(descriptor);
    std::error_code ignored;
    if (!placed && !beside.empty()) fs::remove(beside, ignored);
  }
  void check(int code) const {
    if (code != ARCHIVE_OK) cannot_write(to, archive_errno(zip), error_of(zip));
  }
};

ZipWriter::ZipWriter(fs::path to) : inside_(std::make_unique<Inside>()) {
  Inside& self = *inside_;
  self.to = std::move(to);
  std::string name = self.to.string() + ".XXXXXX";
  self.descriptor = ::mkstemp(name.data());
  if (self.descriptor < 0) cannot_write(self.to, errno);
  self.beside = name;
  self.zip = archive_write_new();
  if (self.zip == nullptr) throw std::bad_alloc();
  self.check(archive_write_set_format_zip(self.zip));
  self.check(archive_write_zip_set_compression_deflate(self.zip));
  self.check(archive_write_set_bytes_in_last_block(self.zip, 1));
  self.check(archive_write_open_fd(self.zip, self.descriptor));
}

ZipWriter::~ZipWriter() = default;

void ZipWriter::begin(const std::string& name) {
  const Entry entry(archive_entry_new());
  archive_entry_set_pathname_utf8(entry.get(), name.c_str());
  archive_entry_set_filetype(entry.get(), AE_IFREG);
  archive_entry_set_perm(entry.get(), 0644);
  inside_->check(archive_write_header(inside_->zip, entry.get()));
}

void ZipWriter::add(std::string_view bytes) {
  while (!bytes.empty()) {
    const la_ssize_t written = archive_write_data(inside_->zip, bytes.data(), bytes.size());
    if (written <= 0) cannot_write(inside_->to, archive_errno(inside_->zip), error_of(inside_->zip));
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
}

void ZipWriter::end() { inside_->check(archive_write_finish_entry(inside_->zip)); }

void ZipWriter::finish() {
  Inside& self = *inside_;
  self.check(archive_write_close(self.zip));
  if (::fchmod(self.descriptor, 0644) != 0 || ::fsync(self.descriptor) != 0) cannot_write(self.to, errno);
  std::error_code error;
  fs::rename(self.beside, self.to, error);
  if (error) cannot_write(self.to, error.value());
  self.placed = true;
}

struct ZipReader::Inside {
  fs::path from;
  archive* zip = nullptr;
  std::int64_t left = 0;  // bytes that may still come out

  Inside() = default;
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;
  ~Inside() {
    if (zip != nullptr) archive_read_free(zip);
  }
};

ZipReader::ZipReader(const fs::path& from, std::int64_t beside) : inside_(std::make_unique<Inside>()) {
  Inside& self = *inside_;
  self.from = from;
  std::error_code error;
  const auto size = fs::file_size(from, error);
  if (error)
    throw Stop{{FailureKind::unreachable,
                fmt::format("The archive {} cannot be read: {}.", from.string(), error.message()),
                "Give the path of the archive."}};
  self.left = static_cast<std::int64_t>(std::min<std::uintmax_t>(size, 1ULL << 50U)) * most_times + beside;
  self.zip = archive_read_new();
  if (self.zip == nullptr) throw std::bad_alloc();
  archive_read_support_format_zip_seekable(self.zip);
  if (archive_read_open_filename(self.zip, from.c_str(), 1U << 16U) != ARCHIVE_OK)
    no_archive(from, error_of(self.zip));
}

ZipReader::~ZipReader() = default;

std::optional<std::string> ZipReader::next() {
  Inside& self = *inside_;
  while (true) {
    archive_entry* entry = nullptr;
    const int code = archive_read_next_header(self.zip, &entry);
    if (code == ARCHIVE_EOF) return std::nullopt;
    if (code != ARCHIVE_OK) no_archive(self.from, error_of(self.zip));
    if (archive_entry_filetype(entry) == AE_IFDIR) continue;  // other programs add them; they hold nothing
    const char* name = archive_entry_pathname(entry);
    if (archive_entry_filetype(entry) != AE_IFREG || name == nullptr ||
        archive_entry_is_encrypted(entry) != 0)
      no_archive(self.from, "it holds something else than plain files");
    return name;
  }
}

std::size_t ZipReader::read(std::span<char> buffer) {
  Inside& self = *inside_;
  const la_ssize_t count = archive_read_data(self.zip, buffer.data(), buffer.size());
  if (count < 0) no_archive(self.from, error_of(self.zip));
  self.left -= count;
  if (self.left < 0)
    no_archive(self.from, fmt::format("it unpacks to more than {} times its size", most_times));
  return static_cast<std::size_t>(count);
}

}  // namespace firstdraw::store
