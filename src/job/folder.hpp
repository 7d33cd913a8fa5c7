// Reading and writing a job folder: job.toml and the file of its tariff, runs.csv, outlets.csv, circuits.csv,
// catalog/*.toml.
// docs/formats/job-folder.md.
#pragma once

#include <filesystem>

#include "job/diagnostic.hpp"
#include "job/job.hpp"

namespace firstdraw::job {

/// Strict: unknown keys and columns, missing or malformed values and names that lead nowhere are all
/// collected with their file, line, column and nearest known name. What is left out and has a stated default
/// becomes an Assumption. What a survey can get wrong but can still be drawn (loops, strays, zero lengths) is
/// not an error here: it is a finding of the plan.
Result<Job> read_job(const std::filesystem::path& folder);

/// One cable data sheet by itself, as strict as in a catalogue; its id is the file's name.
Result<physics::CableSheet> read_cable_sheet(const std::filesystem::path& file);

/// Writes every value, defaults included, so that read_job gives an equal Job. Files are written beside and
/// moved into place.
Result<void> write_job(const Job& job, const std::filesystem::path& folder);

/// circuits.csv alone; one that is there is replaced.
Result<void> write_known_circuits(const std::vector<KnownCircuit>& circuits,
                                  const std::filesystem::path& folder);

/// The commented template of `firstdraw new`. Fails if the folder exists and is not empty.
Result<void> write_template(const std::filesystem::path& folder);

}  // namespace firstdraw::job
