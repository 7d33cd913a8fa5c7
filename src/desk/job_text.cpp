#include "desk/job_text.hpp"

#include "desk/saving.hpp"
#include "job/source.hpp"

namespace firstdraw::desk {

namespace fs = std::filesystem;

namespace {

// A job names at most one other file, that of its tariff. Whatever is larger than this is a log.
constexpr std::uintmax_t largest_side_file = 16 << 20;

bool table_of_the_job(const std::string& name) {
  return name == "job.toml" || name == "runs.csv" || name == "outlets.csv" || name == "circuits.csv";
}

bool belongs(const fs::path& folder, const std::string& name) {
  std::error_code error;
  if (!good_name(name) || !fs::is_regular_file(folder / name, error)) return false;
  if (table_of_the_job(name) || name.ends_with(".toml")) return true;
  return fs::file_size(folder / name, error) <= largest_side_file && !error;
}

}  // namespace

job::Result<std::vector<std::string>> names_of_job(const fs::path& folder) {
  std::error_code error;
  const std::string where = folder.string();
  if (!fs::exists(folder, error))
    return std::unexpected(std::vector{job::Diagnostic{where, 0, 0, "", "there is no such folder", ""}});
  if (!fs::is_directory(folder, error))
    return std::unexpected(std::vector{job::Diagnostic{where, 0, 0, "", "is not a folder", ""}});
  const job::FolderSource source(folder);
  std::vector<std::string> names;
  for (const char* under : {"", "catalog"}) {
    const auto found = source.names(under);
    if (!found)
      return std::unexpected(
          std::vector{job::Diagnostic{where, 0, 0, "", "cannot be read: " + found.error(), ""}});
    for (const auto& name : *found)
      if (belongs(folder, name)) names.push_back(name);
  }
  return names;
}

job::Result<JobText> load(const fs::path& folder) {
  const auto names = names_of_job(folder);
  if (!names) return std::unexpected(names.error());
  const job::FolderSource source(folder);
  job::Context context;
  JobText text;
  for (const auto& name : *names)
    if (auto file = source.text(name, context)) text.emplace(name, std::move(*file));
  if (!context.problems.empty()) return std::unexpected(std::move(context.problems));
  return text;
}

job::Result<job::Job> read(const JobText& text, const fs::path& folder) {
  return job::read_job(job::TextSource(text), folder.string());
}

}  // namespace firstdraw::desk
