// What a job's store holds of tests and records, for the pack.
#pragma once

#include <expected>
#include <optional>
#include <string>

#include "cli/store_input.hpp"
#include "job/job.hpp"
#include "paper/recorded.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {

/// None when nobody named a store and the job has none beside it.
std::expected<std::optional<paper::Recorded>, ExitCode> recorded_of(const StoreOptions& options,
                                                                    const std::string& folder,
                                                                    const Context& context);

/// Readings judged again by the job as it is now. A record that cannot be read is an error that names it.
std::expected<paper::FieldBook, ExitCode> field_book_of(paper::Recorded recorded, const job::Job& job,
                                                        const plan::Plan& plan, const Context& context);

}  // namespace firstdraw::cli
