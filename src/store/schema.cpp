#include "store/schema.hpp"

#include <fmt/format.h>

#include "store/rfc3339.hpp"
#include "store/session.hpp"

namespace firstdraw::store {
namespace {

constexpr std::string_view steps_table = "schema_steps";

Failure newer(const Address& address, int found, std::size_t known) {
  return {
      FailureKind::newer,
      fmt::format("{} was written by a later version of this program: its tables are at step {}, and this "
                  "version knows {}.",
                  address.shown, found, known),
      "Use the later version; nothing was changed."};
}

void refuse_others_tables(soci::session& sql, const Side& side) {
  if (side.shares()) return;
  int tables = 0;
  sql << "SELECT count(*) FROM sqlite_master", soci::into(tables);
  if (tables > 0)
    throw Stop{{FailureKind::damaged, "The file is a database of something else.",
                "Give another path, or put the right file back."}};
}

void create_steps_table(soci::session& sql) {
  sql << "CREATE TABLE " << steps_table
      << " (step integer PRIMARY KEY, name text NOT NULL, taken_at text NOT NULL)";
}

void take(soci::session& sql, int number, const SchemaStep& step) {
  if (number == 1) create_steps_table(sql);
  for (const std::string& statement : step.statements) sql << statement;
  const std::string name(step.name);
  const std::string now =
      utc_text(std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now()));
  sql << "INSERT INTO " << steps_table << " (step, name, taken_at) VALUES (:step, :name, :taken_at)",
      soci::use(number, "step"), soci::use(name, "name"), soci::use(now, "taken_at");
}

/// The next step that is missing, unless another program took it while this one waited; true: all are there.
bool take_next(soci::session& sql, const Address& address, const std::vector<SchemaStep>& steps) {
  const Side& side = side_of(address.dialect);
  side.begin(sql, true);
  try {
    side.lock_schema(sql);
    const int version = schema_version(sql, address.dialect);
    const auto done = static_cast<std::size_t>(version);
    if (done > steps.size()) throw Stop{newer(address, version, steps.size())};
    if (done < steps.size()) take(sql, version + 1, steps[done]);
    sql.commit();
    return done >= steps.size();
  } catch (...) {
    try {
      sql.rollback();
    } catch (const soci::soci_error&) {  // NOLINT(bugprone-empty-catch): the first error is the one to report
    }
    throw;
  }
}

}  // namespace

std::vector<SchemaStep> schema_steps(Dialect dialect) {
  return {schema_records(dialect), schema_series(dialect), schema_entries(dialect)};
}

int schema_version(soci::session& sql, Dialect dialect) {
  const Side& side = side_of(dialect);
  if (!side.has_table(sql, steps_table)) {
    refuse_others_tables(sql, side);
    return 0;
  }
  int version = 0;
  sql << "SELECT coalesce(max(step), 0) FROM " << steps_table, soci::into(version);
  return version;
}

void migrate(soci::session& sql, const Address& address, const std::vector<SchemaStep>& steps) {
  const int version = schema_version(sql, address.dialect);
  if (static_cast<std::size_t>(version) > steps.size()) throw Stop{newer(address, version, steps.size())};
  if (static_cast<std::size_t>(version) == steps.size()) return;
  while (!take_next(sql, address, steps)) {
  }
}

}  // namespace firstdraw::store
