// SQLite's side: one file, write-ahead log, every commit synced before it returns.
#include <fmt/format.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <thread>

#include "store/hex.hpp"
#include "store/session.hpp"
#include "store/side.hpp"

namespace firstdraw::store {
namespace {

namespace fs = std::filesystem;
using sqlite_api::sqlite3;
using sqlite_api::sqlite3_context;
using sqlite_api::sqlite3_value;

constexpr auto longest_wait = std::chrono::seconds(10);

sqlite3* handle_of(soci::session& sql) {
  return static_cast<soci::sqlite3_session_backend*>(sql.get_backend())->conn_;
}

std::string_view bytes_of(sqlite3_value* value) {
  const void* data = sqlite_api::sqlite3_value_blob(value);
  if (data == nullptr) return {};
  return {static_cast<const char*>(data), static_cast<std::size_t>(sqlite_api::sqlite3_value_bytes(value))};
}

char* sqlite_copy(const std::string& text) {
  char* copy = static_cast<char*>(sqlite_api::sqlite3_malloc64(text.size() + 1));
  if (copy != nullptr) std::memcpy(copy, text.c_str(), text.size() + 1);
  return copy;
}

/// encode(bytes, 'hex') and decode(hex, 'hex'), as PostgreSQL has them.
void encode(sqlite3_context* context, int /*count*/, sqlite3_value** values) {
  const std::string hex = to_hex(bytes_of(values[0]));
  sqlite_api::sqlite3_result_text64(context, sqlite_copy(hex), hex.size(), sqlite_api::sqlite3_free,
                                    SQLITE_UTF8);
}
void decode(sqlite3_context* context, int /*count*/, sqlite3_value** values) {
  const auto bytes = bytes_of_hex(bytes_of(values[0]));
  if (!bytes) return sqlite_api::sqlite3_result_error(context, "not hexadecimal", -1);
  sqlite_api::sqlite3_result_blob64(context, sqlite_copy(*bytes), bytes->size(), sqlite_api::sqlite3_free);
}

void add_functions(sqlite3* handle) {
  constexpr int flags = SQLITE_UTF8 | SQLITE_DETERMINISTIC | SQLITE_DIRECTONLY;
  sqlite_api::sqlite3_create_function_v2(handle, "encode", 2, flags, nullptr, encode, nullptr, nullptr,
                                         nullptr);
  sqlite_api::sqlite3_create_function_v2(handle, "decode", 2, flags, nullptr, decode, nullptr, nullptr,
                                         nullptr);
}

/// Whoever else opens the file for the first time at the same moment locks it, and SQLite does not wait then.
void use_write_ahead_log(soci::session& sql, const Address& address) {
  const auto end = std::chrono::steady_clock::now() + longest_wait;
  std::string mode;
  while (true) {
    try {
      sql << "PRAGMA journal_mode = WAL", soci::into(mode);
      break;
    } catch (const soci::sqlite3_soci_error& error) {
      if ((error.result() & 0xFF) != SQLITE_BUSY || std::chrono::steady_clock::now() > end) throw;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
  }
  if (mode != "wal")
    throw Stop{
        {FailureKind::refused,
         fmt::format("{} is on a disk or was opened in a way that allows no write-ahead log.", address.shown),
         "Keep the file on a local disk, or use a PostgreSQL database."}};
}

void refuse_what_is_no_file(const Address& address, bool create) {
  std::error_code error;
  const fs::file_status status = fs::status(address.path, error);
  if (fs::exists(status) && !fs::is_regular_file(status))
    throw Stop{{FailureKind::damaged, fmt::format("{} is not a file.", address.shown),
                "Give the path of a file, such as records.db in the job folder."}};
  if (fs::exists(status) || (create && fs::is_directory(fs::path(address.path).parent_path(), error))) return;
  if (status.type() != fs::file_type::not_found)
    throw Stop{{FailureKind::refused,
                fmt::format("{} may not be looked at: {}.", address.shown, error.message()),
                "Ask for permission on its folder."}};
  if (!create)
    throw Stop{{FailureKind::unreachable, fmt::format("There is no file {}.", address.shown),
                "Give the path with --store, or record something first: that makes it."}};
  throw Stop{{FailureKind::unreachable, fmt::format("There is no folder to put {} in.", address.shown),
              "Make the folder first, or give another path."}};
}

bool is_out_of_space(int code, int system) {
  return (code & 0xFF) == SQLITE_FULL ||
         ((code & 0xFF) == SQLITE_IOERR && (system == ENOSPC || system == EDQUOT || system == EFBIG));
}

Trouble trouble_of(int code, int system, const std::string& said, const std::string& shown) {
  if (is_out_of_space(code, system))
    return {{FailureKind::full, fmt::format("There is no space left for {}.", shown),
             "Free space on that disk and do it again; what was recorded before is not touched."}};
  switch (code & 0xFF) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {{FailureKind::busy, fmt::format("Somebody else held {} for more than 10 s.", shown),
               "Do it again once the other program is done."}};
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
      return {
          {FailureKind::refused, fmt::format("{} or its folder may not be written to.", shown),
           "Ask for permission to write to the file and its folder, or give another place with --store."}};
    case SQLITE_NOTADB:
      return {{FailureKind::damaged, fmt::format("{} is no file of records: it holds something else.", shown),
               "Give another path, or put the right file back."}};
    case SQLITE_CORRUPT:
      return {
          {FailureKind::damaged, fmt::format("{} is damaged: {}.", shown, said),
           "Keep the file as it is, put the last back-up in its place, and import what can still be read."}};
    case SQLITE_CONSTRAINT:
      return {{FailureKind::bad_input, fmt::format("{} does not take this: {}.", shown, said),
               "Look at what the book holds already."}};
    case SQLITE_CANTOPEN: {
      const bool denied = system == EACCES || system == EPERM || system == EROFS;
      return {{denied ? FailureKind::refused : FailureKind::unreachable,
               denied ? fmt::format("{} or its folder may not be written to.", shown)
                      : fmt::format("{} cannot be opened.", shown),
               "Look at the path and at the permissions of the file and its folder."},
              true};
    }
    default:
      return {{FailureKind::unreachable, fmt::format("{} cannot be read or written: {}.", shown, said),
               "Look at the disk, then do it again."},
              true};
  }
}

/// SQLite names no error of the system for what failed in a commit; the files know it.
int system_error(sqlite3* handle) {
  int of_file = 0, of_log = 0;
  sqlite_api::sqlite3_file* log = nullptr;
  sqlite_api::sqlite3_file_control(handle, "main", SQLITE_FCNTL_LAST_ERRNO, &of_file);
  sqlite_api::sqlite3_file_control(handle, "main", SQLITE_FCNTL_JOURNAL_POINTER, static_cast<void*>(&log));
  if (log != nullptr && log->pMethods != nullptr)
    log->pMethods->xFileControl(log, SQLITE_FCNTL_LAST_ERRNO, &of_log);
  const int said = sqlite_api::sqlite3_system_errno(handle);
  for (const int error : {of_log, of_file})
    if (said == 0 && error != 0) return error;
  return said;
}

class SqliteSide : public Side {
 public:
  std::unique_ptr<soci::session> connect(const Address& address, bool create) const override {
    refuse_what_is_no_file(address, create);
    auto sql = std::make_unique<soci::session>(soci::sqlite3, address.connect);
    sqlite3* handle = handle_of(*sql);
    sqlite_api::sqlite3_extended_result_codes(handle, 1);
    sqlite_api::sqlite3_busy_timeout(handle, static_cast<int>(longest_wait / std::chrono::milliseconds(1)));
    add_functions(handle);
    try {
      use_write_ahead_log(*sql, address);
      for (const char* setting : {"synchronous = FULL", "foreign_keys = ON", "trusted_schema = OFF"})
        *sql << "PRAGMA " << setting;
    } catch (const soci::soci_error& error) {
      throw Stop{trouble(error, sql.get(), address).failure};
    }
    return sql;
  }

  void begin(soci::session& sql, bool writing) const override {
    sql << (writing ? "BEGIN IMMEDIATE" : "BEGIN");
  }
  void lock_book(soci::session& /*sql*/, std::string_view /*job*/) const override {}
  void lock_schema(soci::session& /*sql*/) const override {}

  bool has_table(soci::session& sql, std::string_view name) const override {
    int count = 0;
    const std::string wanted(name);
    sql << "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = :name", soci::into(count),
        soci::use(wanted, "name");
    return count > 0;
  }

  bool shares() const override { return false; }

  bool is_gone(soci::session& sql) const override {
    int moved = 0;
    sqlite_api::sqlite3_file_control(handle_of(sql), "main", SQLITE_FCNTL_HAS_MOVED, &moved);
    return moved != 0;
  }

  Trouble trouble(const std::exception& error, soci::session* sql, const Address& address) const override {
    const auto* known = dynamic_cast<const soci::sqlite3_soci_error*>(&error);
    int code = known == nullptr ? SQLITE_ERROR : known->result();
    if (sql == nullptr) return trouble_of(code, errno, "it cannot be opened", address.shown);
    sqlite3* handle = handle_of(*sql);
    const int extended = sqlite_api::sqlite3_extended_errcode(handle);
    if (known == nullptr || (extended & 0xFF) == (code & 0xFF)) code = extended;
    return trouble_of(code, system_error(handle), sqlite_api::sqlite3_errmsg(handle), address.shown);
  }
};

}  // namespace

const Side& sqlite_side() {
  static const SqliteSide side;
  return side;
}

}  // namespace firstdraw::store
