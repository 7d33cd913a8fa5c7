#include "store/address.hpp"

#include <fmt/format.h>
#include <libpq-fe.h>

#include <array>
#include <filesystem>
#include <memory>

namespace firstdraw::store {
namespace {

namespace fs = std::filesystem;

std::unexpected<Failure> bad(std::string what, std::string remedy) {
  return std::unexpected(Failure{FailureKind::bad_input, std::move(what), std::move(remedy)});
}

Result<Address> sqlite_address(std::string_view path) {
  if (path.empty())
    return bad("The address of the store names no file.", "Give a path, or postgresql://user@host/database.");
  // SOCI takes the path between quotation marks, and the system takes none with a zero in it.
  if (path.find_first_of(std::string_view("\"\0\n", 3)) != std::string_view::npos)
    return bad("The path of the store holds a quotation mark, a line end or a zero.", "Choose another path.");
  std::error_code error;
  const fs::path absolute = fs::absolute(fs::path(path), error);
  if (error) return bad("The path of the store cannot be made out.", "Give it from the root folder on.");
  return Address{Dialect::sqlite, absolute.string(),
                 fmt::format("dbname=\"{}\" timeout=10", absolute.string()), std::string(path)};
}

/// Values in libpq's keyword=value text stand between apostrophes.
std::string quoted(std::string_view value) {
  std::string text = "'";
  for (const char c : value) {
    if (c == '\'' || c == '\\') text += '\\';
    text += c;
  }
  return text + "'";
}

struct Parts {
  std::string connect;
  std::string user, host, port, database;
};

void take(Parts& parts, std::string_view key, std::string_view value) {
  parts.connect += fmt::format("{}={} ", key, quoted(value));
  if (key == "user") parts.user = value;
  if (key == "host" || (key == "hostaddr" && parts.host.empty())) parts.host = value;
  if (key == "port") parts.port = value;
  if (key == "dbname") parts.database = value;
}

/// What a connection over a network needs so that one that is dead is noticed. Ours where the address is
/// silent.
constexpr std::array<std::pair<std::string_view, std::string_view>, 6> usual{{
    {"connect_timeout", "10"},
    {"keepalives_idle", "10"},
    {"keepalives_interval", "5"},
    {"keepalives_count", "3"},
    {"tcp_user_timeout", "20000"},
    {"application_name", "firstdraw"},
}};

Parts parts_of(const PQconninfoOption* options) {
  Parts parts;
  for (const auto* option = options; option->keyword != nullptr; ++option) {
    const std::string_view key = option->keyword;
    std::string_view value = option->val == nullptr ? "" : option->val;
    for (const auto& [name, setting] : usual)
      if (name == key && value.empty()) value = setting;
    if (!value.empty()) take(parts, key, value);
  }
  return parts;
}

std::string shown(const Parts& parts) {
  return fmt::format("postgresql://{}{}{}{}{}{}{}", parts.user, parts.user.empty() ? "" : "@", parts.host,
                     parts.port.empty() ? "" : ":", parts.port, parts.database.empty() ? "" : "/",
                     parts.database);
}

Result<Address> postgresql_address(const std::string& where) {
  // Its messages quote the address, password and all: none is passed on.
  char* message = nullptr;
  const std::unique_ptr<PQconninfoOption, decltype(&PQconninfoFree)> options(
      PQconninfoParse(where.c_str(), &message), &PQconninfoFree);
  PQfreemem(message);
  if (!options)
    return bad(
        "The address of the PostgreSQL database cannot be read.",
        "Write it as postgresql://user@host/database; @ : / ? # % in a password as %40 %3A %2F %3F %23 "
        "%25.");
  const Parts parts = parts_of(options.get());
  return Address{Dialect::postgresql, "", parts.connect, shown(parts)};
}

}  // namespace

Result<Address> parse_address(std::string_view where) {
  if (where.starts_with("postgresql://") || where.starts_with("postgres://"))
    return postgresql_address(std::string(where));
  if (where.starts_with("sqlite:")) return sqlite_address(where.substr(7));
  if (where.find("://") != std::string_view::npos)
    return bad("The address of the store is of no kind that is known.",
               "Give a path, sqlite:PATH, or postgresql://user@host/database.");
  return sqlite_address(where);
}

}  // namespace firstdraw::store
