// Private to the room: the tables, as numbered steps that are never changed once released. docs/records.md.
#pragma once

#include <soci/soci.h>

#include <string>
#include <string_view>
#include <vector>

#include "store/address.hpp"
#include "store/failure.hpp"

namespace firstdraw::store {

/// What takes a store from step N-1 to step N, one statement after the other in one transaction. No colons in
/// the SQL: SOCI takes what follows them for parameters.
struct SchemaStep {
  std::string_view name;
  std::vector<std::string> statements;
};

/// All steps in order, for a new store; step N is element N-1.
std::vector<SchemaStep> schema_steps(Dialect dialect);

/// Step 1: records, files. Step 2: logged readings: schema_series.cpp. A series' table must be called
/// `series` and have a column `job`.
SchemaStep schema_records(Dialect dialect);
SchemaStep schema_series(Dialect dialect);
/// Step 3: what was sent twice is one record.
SchemaStep schema_entries(Dialect dialect);

/// The last step that was taken; 0 for an empty database. Throws soci::soci_error; Stop when the SQLite file
/// holds something else's tables.
int schema_version(soci::session& sql, Dialect dialect);

/// Takes the steps that are missing, each in a transaction of its own. Throws Stop: `newer` when the store
/// has more steps than this program knows.
void migrate(soci::session& sql, const Address& address, const std::vector<SchemaStep>& steps);

}  // namespace firstdraw::store
