// Where a store is, as people write it.
#pragma once

#include <string>
#include <string_view>

#include "store/failure.hpp"

namespace firstdraw::store {

enum class Dialect { sqlite, postgresql };

struct Address {
  Dialect dialect{};
  std::string path;     // SQLite's file
  std::string connect;  // for SOCI; may hold a password: never print it
  std::string shown;    // for people, without password
};

/// "PATH", "sqlite:PATH", "postgresql://…", "postgres://…"; `bad_input` for anything that is none of these.
Result<Address> parse_address(std::string_view where);

}  // namespace firstdraw::store
