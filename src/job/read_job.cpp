// Reading a job folder: job.toml, then the catalogue, then runs.csv and outlets.csv, so that most names are
// known when something refers to them.
#include <fmt/format.h>

#include "job/describe.hpp"
#include "job/folder.hpp"
#include "job/read_files.hpp"

namespace firstdraw::job {

namespace fs = std::filesystem;

namespace {

std::optional<Diagnostic> wrong_folder(const fs::path& folder) {
  std::error_code error;
  const auto status = fs::status(folder, error);
  const std::string name = folder.string();
  if (!fs::exists(status))
    return Diagnostic{name, 0, 0, "", "there is no such folder", "firstdraw new makes one"};
  if (!fs::is_directory(status))
    return Diagnostic{name, 0, 0, "", "is not a folder", "give the folder of job.toml"};
  return std::nullopt;
}

}  // namespace

Result<Job> read_job(const fs::path& folder) {
  if (auto wrong = wrong_folder(folder)) return std::unexpected(std::vector{std::move(*wrong)});
  Context context;
  Job job;
  job.folder = folder.string();
  read_catalog(folder, job, context);
  read_job_toml(folder, job, context);
  read_runs(folder, job, context);
  read_outlets(folder, job, context);
  context.settle_references();
  if (!context.problems.empty()) return std::unexpected(std::move(context.problems));
  job.assumptions.insert(job.assumptions.end(), context.assumptions.begin(), context.assumptions.end());
  return job;
}

}  // namespace firstdraw::job
