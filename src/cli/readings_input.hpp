// Readings for a command: from a file, or from the test records of a job's store.
#pragma once

#include <expected>
#include <string>
#include <vector>

#include "cli/store_input.hpp"
#include "plan/plan.hpp"
#include "prove/reading.hpp"

namespace firstdraw::cli {

/// Every slip of the file, with its place.
std::expected<std::vector<prove::Reading>, ExitCode> read_readings_or_complain(const std::string& file,
                                                                               const job::Job& job,
                                                                               const plan::Plan& plan,
                                                                               const Context& context);

/// Of the test records of a job's whole book, as paper::readings_in. Complains when there is no store.
std::expected<std::vector<prove::Reading>, ExitCode> recorded_readings_or_complain(
    const StoreOptions& options, const std::string& folder, const Context& context);

}  // namespace firstdraw::cli
