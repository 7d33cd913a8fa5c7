// Step 1: records and files, and that neither is ever changed. Released: never edit, add a step instead.
#include <fmt/format.h>

#include "store/schema.hpp"

namespace firstdraw::store {
namespace {

constexpr std::string_view records =
    "CREATE TABLE records ("
    "job text NOT NULL, "
    "number bigint NOT NULL CHECK (number >= 1), "
    "kind text NOT NULL, "
    "at text NOT NULL, "
    "who text NOT NULL, "
    "instruments text NOT NULL, "
    "body text NOT NULL, "
    "attachments text NOT NULL, "
    "corrects bigint, "
    "stored_at text NOT NULL, "
    "previous_hash text NOT NULL, "
    "hash text NOT NULL, "
    "PRIMARY KEY (job, number), "
    "UNIQUE (job, corrects), "
    "FOREIGN KEY (job, corrects) REFERENCES records (job, number), "
    "CHECK (corrects < number))";

std::string files(Dialect dialect) {
  return fmt::format(
      "CREATE TABLE files ("
      "sha256 text PRIMARY KEY, "
      "size bigint NOT NULL, "
      "stored_at text NOT NULL, "
      "content {} NOT NULL)",
      dialect == Dialect::sqlite ? "blob" : "bytea");
}

/// Whoever has the password can drop a trigger; it is there so that nobody changes a record by mistake.
void refuse_changes_sqlite(std::vector<std::string>& statements, std::string_view table) {
  for (const std::string_view change : {"update", "delete"})
    statements.push_back(
        fmt::format("CREATE TRIGGER {0}_no_{1} BEFORE {1} ON {0} "
                    "BEGIN SELECT RAISE(ABORT, '{0} are only ever added'); END",
                    table, change));
}

void refuse_changes_postgresql(std::vector<std::string>& statements, std::string_view table) {
  statements.push_back(
      fmt::format("CREATE FUNCTION {0}_are_only_added() RETURNS trigger LANGUAGE plpgsql AS "
                  "$$ BEGIN RAISE EXCEPTION '{0} are only ever added'; END $$",
                  table));
  statements.push_back(
      fmt::format("CREATE TRIGGER {0}_no_change BEFORE UPDATE OR DELETE ON {0} "
                  "FOR EACH ROW EXECUTE FUNCTION {0}_are_only_added()",
                  table));
  statements.push_back(
      fmt::format("CREATE TRIGGER {0}_no_truncate BEFORE TRUNCATE ON {0} "
                  "FOR EACH STATEMENT EXECUTE FUNCTION {0}_are_only_added()",
                  table));
}

}  // namespace

SchemaStep schema_records(Dialect dialect) {
  SchemaStep step{"records", {std::string(records), files(dialect)}};
  for (const std::string_view table : {"records", "files"}) {
    if (dialect == Dialect::sqlite)
      refuse_changes_sqlite(step.statements, table);
    else
      refuse_changes_postgresql(step.statements, table);
  }
  return step;
}

}  // namespace firstdraw::store
