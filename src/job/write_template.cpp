// The commented template of `firstdraw new` is the example clinic, built into the program.
#include "job/folder.hpp"
#include "job/write_files.hpp"

const std::map<std::string_view, std::string_view>& embedded_job();

namespace firstdraw::job {

namespace fs = std::filesystem;

namespace {

std::map<std::string, std::string> template_files() {
  std::map<std::string, std::string> files;
  for (const auto& [name, text] : embedded_job()) {
    const bool sheet = name.ends_with(".toml") && name != "job.toml";
    files.emplace((sheet ? "catalog/" : "") + std::string(name), text);
  }
  return files;
}

}  // namespace

Result<void> write_template(const fs::path& folder) {
  std::error_code error;
  const auto refuse = [&](const char* message, const char* hint) {
    return std::unexpected(std::vector{Diagnostic{folder.string(), 0, 0, "", message, hint}});
  };
  if (fs::exists(folder, error) && !fs::is_directory(folder, error))
    return refuse("is a file", "give a folder");
  if (fs::exists(folder, error) && !fs::is_empty(folder, error)) {
    return refuse("the folder is not empty", "give a new or an empty folder");
  }
  return write_files(template_files(), folder);
}

}  // namespace firstdraw::job
