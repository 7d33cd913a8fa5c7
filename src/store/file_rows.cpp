#include "store/file_rows.hpp"

#include <chrono>

#include "store/hex.hpp"
#include "store/rfc3339.hpp"

namespace firstdraw::store {

void insert_file(soci::session& sql, const std::string& sha256, std::string_view bytes) {
  const auto size = static_cast<long long>(bytes.size());
  const std::string hex = to_hex(bytes);
  const std::string now =
      utc_text(std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now()));
  sql << "INSERT INTO files (sha256, size, stored_at, content) "
         "VALUES (:sha256, :size, :stored_at, decode(:content, 'hex')) ON CONFLICT (sha256) DO NOTHING",
      soci::use(sha256, "sha256"), soci::use(size, "size"), soci::use(now, "stored_at"),
      soci::use(hex, "content");
}

}  // namespace firstdraw::store
