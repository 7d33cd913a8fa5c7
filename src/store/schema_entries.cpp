// Step 3: the entry a record was sent under, once in a book. Released: never edit, add a step instead.
#include "store/schema.hpp"

namespace firstdraw::store {

SchemaStep schema_entries(Dialect /*dialect*/) {
  return {"entries",
          {"ALTER TABLE records ADD COLUMN entry text CHECK (length(entry) BETWEEN 1 AND 64)",
           "CREATE UNIQUE INDEX records_entry ON records (job, entry) WHERE entry IS NOT NULL"}};
}

}  // namespace firstdraw::store
