// Files that go into a record and come out of one.
#pragma once

#include <cstdint>
#include <expected>
#include <string>
#include <vector>

#include "cli/record_draft.hpp"
#include "job/diagnostic.hpp"

namespace firstdraw::cli {

std::expected<std::string, job::Diagnostic> bytes_of_file(const std::string& path);
/// The same without reading more than whether it can be read.
std::expected<std::uint64_t, job::Diagnostic> size_of_file(const std::string& path);

/// Every file of a job folder and the folders in it, by path, with names from the folder on; without hidden
/// ones and without the records themselves (records.db*).
std::expected<std::vector<DraftFile>, job::Diagnostic> files_of_folder(const std::string& folder);

/// The files of a revision as a new folder `to`, whole or not at all.
std::expected<void, ExitCode> restore(const store::Store& store, const store::Record& revision,
                                      const std::string& to, const Context& context);

}  // namespace firstdraw::cli
