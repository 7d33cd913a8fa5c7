// What is to be served: where the jobs are, and where the server keeps what is its own.
#pragma once

#include <expected>
#include <filesystem>
#include <string>

#include "job/diagnostic.hpp"

namespace firstdraw::serve {

struct Place {
  std::filesystem::path folder;  // a job, or one of jobs
  std::string store{};           // where a store was named instead of a folder
};

/// `what`: a job folder, a folder of jobs (made when it is missing), or a store of records, which are then
/// those of the jobs in the current folder; empty: the current folder, when it is a job or holds some.
std::expected<Place, job::Diagnostic> find_place(const std::string& what);

/// XDG_STATE_HOME/firstdraw, else ~/.local/state/firstdraw.
std::filesystem::path state_folder();

}  // namespace firstdraw::serve
