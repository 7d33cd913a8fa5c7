// Private to the room: all that differs between SQLite and PostgreSQL, but for the types of columns in the
// schema.
#pragma once

#include <soci/soci.h>

#include <exception>
#include <memory>
#include <string_view>

#include "store/address.hpp"

namespace firstdraw::store {

/// What an exception of the database means.
struct Trouble {
  Failure failure;
  bool lost = false;   // the connection is of no more use; a new one may be
  bool again = false;  // the database itself asks to do the transaction again
};

class Side {
 public:
  Side() = default;
  Side(const Side&) = delete;
  Side& operator=(const Side&) = delete;
  virtual ~Side() = default;

  /// A connection with every setting that durability asks for. Throws soci_error, or Stop.
  virtual std::unique_ptr<soci::session> connect(const Address& address, bool create) const = 0;
  virtual void begin(soci::session& sql, bool writing) const = 0;
  /// See session.hpp.
  virtual void lock_book(soci::session& sql, std::string_view job) const = 0;
  /// The same for the tables themselves.
  virtual void lock_schema(soci::session& sql) const = 0;
  /// Whether the database holds a table of that name.
  virtual bool has_table(soci::session& sql, std::string_view name) const = 0;
  /// Whether the database may hold tables of others.
  virtual bool shares() const = 0;
  /// What is connected is no longer what the address names, or answers no more.
  virtual bool is_gone(soci::session& sql) const = 0;
  /// `sql`: the connection it happened on, or null when there is none yet.
  virtual Trouble trouble(const std::exception& error, soci::session* sql, const Address& address) const = 0;
};

const Side& side_of(Dialect dialect);
const Side& sqlite_side();
const Side& postgresql_side();

}  // namespace firstdraw::store
