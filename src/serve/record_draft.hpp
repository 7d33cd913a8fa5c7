// From what a device wants kept to what the store is given.
#pragma once

#include <vector>

#include "serve/books.hpp"
#include "serve/house.hpp"
#include "serve/readings_in.hpp"

namespace firstdraw::serve {

struct DraftOfRecord {
  store::Draft draft{};
  std::vector<ReadRow> rows{};  // of a test
};
/// Whether `record` is what these words and cells came to when they were first sent, whatever became of the
/// job, the book and the files since.
bool is_made_of(const store::Record& record, const NewRecord& asked);

/// Puts the files it names into the job's store. Refused: a reading that is none, a file that is not here, a
/// sign-off for nothing or for a broken chain.
Maybe<DraftOfRecord> draft_of(House& house, OpenJob& job, const Looked& looked, const NewRecord& asked);

}  // namespace firstdraw::serve
