#include "serve/zip.hpp"

#include <archive.h>
#include <archive_entry.h>
#include <fmt/format.h>

#include <algorithm>
#include <memory>

namespace firstdraw::serve {
namespace {

using Archive = std::unique_ptr<archive, int (*)(archive*)>;
using Entry = std::unique_ptr<archive_entry, void (*)(archive_entry*)>;

constexpr time_t first_of_zip = 315'532'800;  // 1980-01-01: no clock in it, so that the bytes are the same

la_ssize_t append_to(archive*, void* out, const void* bytes, std::size_t size) {
  static_cast<std::string*>(out)->append(static_cast<const char*>(bytes), size);
  return static_cast<la_ssize_t>(size);
}

bool add_file(archive* zip, const std::string& name, const std::string& bytes) {
  const Entry entry(archive_entry_new(), archive_entry_free);
  archive_entry_set_pathname_utf8(entry.get(), name.c_str());
  archive_entry_set_size(entry.get(), static_cast<la_int64_t>(bytes.size()));
  archive_entry_set_filetype(entry.get(), AE_IFREG);
  archive_entry_set_perm(entry.get(), 0644);
  archive_entry_set_mtime(entry.get(), first_of_zip, 0);
  return archive_write_header(zip, entry.get()) == ARCHIVE_OK &&
         archive_write_data(zip, bytes.data(), bytes.size()) == static_cast<la_ssize_t>(bytes.size());
}

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' ||
         c == '.';
}

}  // namespace

std::expected<std::string, std::string> zip_of(const std::map<std::string, std::string>& files) {
  std::string out;
  const Archive zip(archive_write_new(), archive_write_free);
  const auto failed = [&zip] {
    const char* why = archive_error_string(zip.get());
    return std::unexpected(fmt::format("the ZIP cannot be made: {}", why == nullptr ? "unknown" : why));
  };
  if (archive_write_set_format_zip(zip.get()) != ARCHIVE_OK ||
      archive_write_set_options(zip.get(), "hdrcharset=UTF-8") < ARCHIVE_WARN ||
      archive_write_set_bytes_in_last_block(zip.get(), 1) != ARCHIVE_OK ||  // nothing after its end
      archive_write_open(zip.get(), &out, nullptr, append_to, nullptr) != ARCHIVE_OK)
    return failed();
  for (const auto& [name, bytes] : files)
    if (!add_file(zip.get(), name, bytes)) return failed();
  if (archive_write_close(zip.get()) != ARCHIVE_OK) return failed();
  return out;
}

std::string attachment_header(std::string_view name) {
  std::string plain, coded;
  for (const char c : name) {
    plain += is_plain(c) ? c : '_';
    coded += is_plain(c) ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
  }
  return fmt::format("attachment; filename=\"{}\"; filename*=UTF-8''{}", plain, coded);
}

}  // namespace firstdraw::serve
