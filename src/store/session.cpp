#include "store/session.hpp"

#include <fmt/format.h>

#include <thread>

#include "store/schema.hpp"

namespace firstdraw::store {
namespace {

using Clock = std::chrono::steady_clock;

constexpr int most_attempts = 5;
constexpr auto patience_before_commit = std::chrono::seconds(10);
constexpr auto patience_after_commit = std::chrono::seconds(20);

Failure unknown_fate(const Address& address) {
  return {
      FailureKind::unreachable,
      fmt::format("{} went away while it was storing, and whether it did is not known yet.", address.shown),
      "Do the same again once it is back, or look at the list of records first: it may be there already."};
}

Failure changed_underneath(const Address& address) {
  return {FailureKind::damaged,
          fmt::format("{} no longer holds the records that it held a moment ago.", address.shown),
          "Look at what was put in its place, then start again."};
}

}  // namespace

std::string from_hex(std::string_view hex) {
  auto bytes = bytes_of_hex(hex);
  if (!bytes)
    throw Stop{{FailureKind::damaged, "The database gave bytes that are none.",
                "Look at the database with its own tools, or put the last back-up in its place."}};
  return *std::move(bytes);
}

void lock_book(soci::session& sql, Dialect dialect, std::string_view job) {
  side_of(dialect).lock_book(sql, job);
}

const Side& side_of(Dialect dialect) {
  return dialect == Dialect::sqlite ? sqlite_side() : postgresql_side();
}

/// What became of the transaction and the connection. One that never began needs no undoing: a file that is
/// busy is not gone.
Trouble Store::Inside::after(const std::exception& error, bool begun) {
  Trouble trouble = side.trouble(error, connection.get(), address);
  if (!connection) return trouble;
  try {
    if (!trouble.lost && begun) connection->rollback();
  } catch (const soci::soci_error&) {
    trouble.lost = true;  // nothing was open any more, or nothing answers: a new connection knows
    connection.reset();
  }
  if (trouble.lost) connection.reset();
  return trouble;
}

void Store::Inside::connect_again() {
  if (connection && side.is_gone(*connection)) connection.reset();
  if (connection) return;
  auto fresh = side.connect(address, false);
  const auto known = static_cast<int>(schema_steps(address.dialect).size());
  if (schema_version(*fresh, address.dialect) != known) throw Stop{changed_underneath(address)};
  connection = std::move(fresh);
}

Result<void> Store::Inside::open(bool create) {
  try {
    connection = side.connect(address, create);
    migrate(*connection, address, schema_steps(address.dialect));
    return {};
  } catch (const Stop& stop) {
    connection.reset();
    return std::unexpected(stop.failure);
  } catch (const soci::soci_error& error) {
    return std::unexpected(after(error).failure);
  }
}

/// Nothing: it is done. `committing`: whether it broke during the commit.
std::optional<Trouble> Store::Inside::attempt(Access access, const Work& work, bool& committing) {
  committing = false;
  bool begun = false;
  try {
    connect_again();
    side.begin(*connection, access == Access::write);
    begun = true;
    work(*connection);
    committing = true;
    connection->commit();
    return std::nullopt;
  } catch (const soci::soci_error& error) {
    return after(error, begun);
  } catch (...) {
    // Stop, or what is no database's fault: undone and passed on.
    if (connection) after(std::runtime_error(""), begun);
    throw;
  }
}

/// Until there is a connection again; the last failure when time is up.
std::optional<Failure> Store::Inside::wait_for_connection(const Trouble& trouble,
                                                          std::chrono::seconds patience) {
  const auto end = Clock::now() + patience;
  for (Failure last = trouble.failure;; std::this_thread::sleep_for(std::chrono::milliseconds(100))) {
    try {
      connect_again();
      return std::nullopt;
    } catch (const Stop& stop) {
      last = stop.failure;
    } catch (const soci::soci_error& error) {
      last = after(error).failure;
    }
    if (Clock::now() > end) return last;
  }
}

Result<bool> Store::Inside::settle(const Confirm& confirm) {
  const auto end = Clock::now() + patience_after_commit;
  while (Clock::now() < end) {
    bool through = false, committing = false;
    try {
      const auto trouble =
          attempt(Access::write, [&](soci::session& sql) { through = confirm(sql); }, committing);
      if (!trouble) return through;
    } catch (const Stop& stop) {
      if (stop.failure.kind != FailureKind::unreachable) return std::unexpected(stop.failure);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  return std::unexpected(unknown_fate(address));
}

Result<void> Store::Inside::run(Access access, const Work& work, const Confirm& confirm) {
  const std::scoped_lock alone(one_at_a_time);
  fate_unknown = false;
  bool was_connected = connection != nullptr;
  try {
    for (int count = 1;; ++count) {
      bool committing = false;
      const auto trouble = attempt(access, work, committing);
      if (!trouble) return {};
      if (trouble->lost && committing && confirm) {
        const auto through = settle(confirm);
        fate_unknown = !through;
        if (!through) return std::unexpected(through.error());
        if (*through) return {};
      }
      if ((!trouble->lost && !trouble->again) || count == most_attempts)
        return std::unexpected(trouble->failure);
      // One that was not there to begin with is not waited for, unless the server says that it is starting.
      const bool worth_waiting = was_connected || trouble->again;
      const auto failure =
          wait_for_connection(*trouble, worth_waiting ? patience_before_commit : std::chrono::seconds(0));
      if (failure) return std::unexpected(*failure);
      was_connected = true;
    }
  } catch (const Stop& stop) {
    return std::unexpected(stop.failure);
  }
}

}  // namespace firstdraw::store
