// Private to the room: a connection to either database, transactions on it, and what becomes of their errors.
// A member function of Store does its work as `inside_->read(work)` or `inside_->write(work)`; `work` takes
// the soci::session, may run twice (see write), and throws Stop to undo everything and answer with a Failure.
#pragma once

#include <soci/soci.h>

#include <chrono>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>

#include "store/address.hpp"
#include "store/hex.hpp"
#include "store/side.hpp"
#include "store/store.hpp"

namespace firstdraw::store {

/// Thrown by work inside a transaction: roll back and answer with this.
struct Stop {
  Failure failure;
};

/// Where bytes go into a BLOB or bytea column write `decode(:name, 'hex')` and bind to_hex(bytes); where they
/// come out select `encode(column, 'hex')` and call from_hex: PostgreSQL has these functions, and SQLite
/// connections are given them.
std::string from_hex(std::string_view hex);  // throws Stop (damaged) when it is none

/// Waits until no other transaction writes this book (at most some 10 s, then `busy`); until the end of the
/// transaction. SQLite: write transactions exclude each other anyway.
void lock_book(soci::session& sql, Dialect dialect, std::string_view job);

struct Store::Inside {
  Address address;
  const Side& side;
  std::recursive_mutex one_at_a_time;
  std::unique_ptr<soci::session> connection;  // none: made anew by the next call

  /// An append whose fate was not known yet when the call had to answer; the same draft is looked for first.
  struct Unsure {
    Draft draft;
    Record record;
  };
  std::optional<Unsure> unsure;

  explicit Inside(Address where) : address(std::move(where)), side(side_of(address.dialect)) {}
  Dialect dialect() const { return address.dialect; }

  enum class Access { read, write };
  using Work = std::function<void(soci::session&)>;
  using Confirm = std::function<bool(soci::session&)>;

  /// One transaction. A connection found broken before the commit is made anew and the work done again.
  /// When it breaks during the commit, `confirm` is asked on a new connection, in a transaction of its own,
  /// whether the work got through (work without `confirm` must be such that doing it again does no harm).
  /// PostgreSQL's confirm must lock_book first, so that it sees the end of what it asks about. When the
  /// database does not come back in time, `fate_unknown` is true beside the Failure.
  Result<void> run(Access access, const Work& work, const Confirm& confirm = {});
  bool fate_unknown = false;

  /// The first connection, with the tables brought up to date.
  Result<void> open(bool create);

  /// What `work` returns, from one unchanging view of the database.
  template <class Function>
  auto read(Function work) -> Result<std::invoke_result_t<Function&, soci::session&>> {
    return run_for(Access::read, work, {});
  }
  /// What `work` returns, once it is on the disk. SQLite: BEGIN IMMEDIATE.
  template <class Function>
  auto write(Function work, const Confirm& confirm = {})
      -> Result<std::invoke_result_t<Function&, soci::session&>> {
    return run_for(Access::write, work, confirm);
  }

 private:
  void connect_again();
  std::optional<Trouble> attempt(Access access, const Work& work, bool& committing);
  Trouble after(const std::exception& error, bool begun = true);
  std::optional<Failure> wait_for_connection(const Trouble& trouble, std::chrono::seconds patience);
  Result<bool> settle(const Confirm& confirm);

  template <class Function>
  auto run_for(Access access, Function& work, const Confirm& confirm)
      -> Result<std::invoke_result_t<Function&, soci::session&>> {
    std::optional<std::invoke_result_t<Function&, soci::session&>> answer;
    auto done = run(access, [&](soci::session& sql) { answer.emplace(work(sql)); }, confirm);
    if (!done) return std::unexpected(std::move(done).error());
    return *std::move(answer);
  }
};

}  // namespace firstdraw::store
