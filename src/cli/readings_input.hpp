// Readings for a command: from a file, or from the test records of a job's store.
#pragma once

#include <cstdint>
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

/// A reading and the number of the record that holds it.
struct RecordedReading {
  prove::Reading reading;
  std::int64_t record = 0;
};
/// Of the test records among these, corrected ones left out, in their order. A reading without a time of its
/// own, person or instrument takes that of its record.
std::expected<std::vector<RecordedReading>, ExitCode> readings_in_or_complain(
    const std::vector<store::Record>& records, const std::string& where, const Context& context);

/// The same of a job's whole book. Complains when there is no store.
std::expected<std::vector<prove::Reading>, ExitCode> recorded_readings_or_complain(
    const StoreOptions& options, const std::string& folder, const Context& context);

}  // namespace firstdraw::cli
