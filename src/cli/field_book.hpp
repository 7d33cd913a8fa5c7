// What a job's store holds of tests and records, for the pack.
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <vector>

#include "cli/store_input.hpp"
#include "job/job.hpp"
#include "paper/field_book.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {

struct Recorded {
  std::string where;  // the store
  std::vector<store::Record> records;
  store::Verification chain;
};
/// None when nobody named a store and the job has none beside it.
std::expected<std::optional<Recorded>, ExitCode> recorded_of(const StoreOptions& options,
                                                             const std::string& folder,
                                                             const Context& context);

/// Findings accepted on record, as if they stood in job.toml; before the job is planned.
void accept_as_recorded(const std::vector<store::Record>& records, job::Job& job);

/// Readings judged again by the job as it is now. A record that cannot be read is an error that names it.
std::expected<paper::FieldBook, ExitCode> field_book_of(Recorded recorded, const job::Job& job,
                                                        const plan::Plan& plan, const Context& context);

}  // namespace firstdraw::cli
