// The files of a job, one function each. Every one reports all it finds wrong to the context and reads
// on.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "job/context.hpp"
#include "job/source.hpp"

namespace firstdraw::job {

/// Whole text of a file; a problem when it is missing or cannot be read.
std::optional<std::string> read_text(const std::filesystem::path& folder, std::string_view name,
                                     Context& context);

/// catalog/*.toml by name; a missing folder is an empty catalogue.
void read_catalog(const Source& source, Job& job, Context& context);
/// Sections and lists of sections of job.toml.
const std::vector<std::string>& known_sections();
/// Needs the catalogue's names.
void read_job_toml(const Source& source, Job& job, Context& context);
/// Need the names of job.toml and the catalogue; outlets also the nodes of the runs.
void read_runs(const Source& source, Job& job, Context& context);
void read_outlets(const Source& source, Job& job, Context& context);
/// circuits.csv, which may be missing: nothing is then known of earlier circuits. Needs runs and nodes.
void read_known_circuits(const Source& source, Job& job, Context& context);

}  // namespace firstdraw::job
