// Attachments, kept once each under the SHA-256 of their bytes.
#include <fmt/format.h>

#include "store/draft_check.hpp"
#include "store/file_rows.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"

namespace firstdraw::store {
namespace {

bool has_file(soci::session& sql, const std::string& sha256) {
  int count = 0;
  sql << "SELECT count(*) FROM files WHERE sha256 = :sha256", soci::into(count), soci::use(sha256, "sha256");
  return count > 0;
}

Failure no_such_file(std::string_view sha256) {
  return {FailureKind::bad_input, fmt::format("No file with SHA-256 {} is in the store.", sha256),
          "Look at the attachments of the record for the hash."};
}

}  // namespace

Result<Attachment> Store::put_file(std::string_view name, std::string_view media_type,
                                   std::string_view bytes) {
  if (auto wrong = complaint_about_file(name, media_type, bytes.size()))
    return std::unexpected(*std::move(wrong));
  const std::string sha256 = sha256_hex(bytes);
  auto there = inside_->read([&](soci::session& sql) { return has_file(sql, sha256); });
  if (there && !*there)
    there = inside_->write([&](soci::session& sql) {
      insert_file(sql, sha256, bytes);
      return true;
    });
  if (!there) return std::unexpected(std::move(there).error());
  return Attachment{std::string(name), std::string(media_type), sha256, bytes.size()};
}

Result<std::string> Store::file(std::string_view sha256) const {
  const std::string wanted(sha256);
  return inside_->read([&](soci::session& sql) {
    std::string hex;
    sql << "SELECT encode(content, 'hex') FROM files WHERE sha256 = :sha256", soci::into(hex),
        soci::use(wanted, "sha256");
    if (!sql.got_data()) throw Stop{no_such_file(sha256)};
    std::string bytes = from_hex(hex);
    if (sha256_hex(bytes) != wanted)
      throw Stop{{FailureKind::damaged,
                  fmt::format("The file with SHA-256 {} was altered in the store.", sha256),
                  "Put a back-up in its place; firstdraw verify shows which records it belongs to."}};
    return bytes;
  });
}

}  // namespace firstdraw::store
