// Reading a job folder: job.toml with the file of its tariff, then the catalogue, then runs.csv, outlets.csv
// and circuits.csv, so that most names are known when something refers to them.
#include <algorithm>
#include <tuple>

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

/// In the order of the files and down each of them, whatever the order they were found in.
void sort_by_place(std::vector<Diagnostic>& problems) {
  const auto rank = [](const std::string& file) {
    return file == "job.toml" ? 0 : file.starts_with("catalog") ? 1 : file == "runs.csv" ? 2 : 3;
  };
  std::ranges::stable_sort(problems, {}, [&](const Diagnostic& problem) {
    return std::tuple(rank(problem.file), problem.file, problem.line, problem.column);
  });
}

/// An assumption that the folder already lists, because the program wrote it, is not listed again.
void add_new(std::vector<Assumption>& listed, const std::vector<Assumption>& made) {
  for (const auto& assumption : made) {
    if (std::ranges::find(listed, assumption) == listed.end()) listed.push_back(assumption);
  }
}

}  // namespace

Result<Job> read_job(const fs::path& folder) {
  if (auto wrong = wrong_folder(folder)) return std::unexpected(std::vector{std::move(*wrong)});
  return read_job(FolderSource(folder), folder.string());
}

Result<Job> read_job(const Source& source, const std::string& folder) {
  Context context;
  Job job;
  job.folder = folder;
  read_catalog(source, job, context);
  read_job_toml(source, job, context);
  read_runs(source, job, context);
  read_outlets(source, job, context);
  read_known_circuits(source, job, context);
  context.settle_references();
  if (!context.problems.empty()) {
    sort_by_place(context.problems);
    return std::unexpected(std::move(context.problems));
  }
  add_new(job.assumptions, context.assumptions);
  return job;
}

}  // namespace firstdraw::job
