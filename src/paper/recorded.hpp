// From the records of a job's book to what was measured: readings judged again by the job as it is now.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "job/diagnostic.hpp"
#include "job/job.hpp"
#include "paper/field_book.hpp"
#include "plan/plan.hpp"

namespace firstdraw::paper {

/// A reading and the number of the record that holds it.
struct RecordedReading {
  prove::Reading reading;
  std::int64_t record = 0;
};
/// Of the test records among these, corrected ones left out, in their order. A reading without a time of its
/// own, person or instrument takes that of its record. A record that cannot be read is an error that names it
/// and `where`.
job::Result<std::vector<RecordedReading>> readings_in(const std::vector<store::Record>& records,
                                                      const std::string& where);

/// What a job's store holds.
struct Recorded {
  std::string where;  // the store
  std::vector<store::Record> records;
  store::Verification chain;
};
/// Readings judged again by the job as it is now.
job::Result<FieldBook> field_book_of(Recorded recorded, const job::Job& job, const plan::Plan& plan);

/// Findings accepted on record, as if they stood in job.toml; before the job is planned.
void accept_as_recorded(const std::vector<store::Record>& records, job::Job& job);

/// What a record is about, in a few words: "as-built, 6 files", "12 readings: 11 pass, 1 fail".
std::string about(const store::Record& record);

}  // namespace firstdraw::paper
