// Putting a set of files into a folder, all or none as far as the file system allows.
#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "job/diagnostic.hpp"

namespace firstdraw::job {

struct Job;

/// The text of every file of a job folder by its name, such as "catalog/LT-8.toml".
std::map<std::string, std::string> job_files(const Job& job);

/// Writes each file beside its place and, when all are complete, moves them in. On failure the files beside
/// are removed.
Result<void> write_files(const std::map<std::string, std::string>& files,
                         const std::filesystem::path& folder);

}  // namespace firstdraw::job
