#include "job/write_files.hpp"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <optional>

namespace firstdraw::job {

namespace fs = std::filesystem;

namespace {

fs::path beside(const fs::path& path) {
  fs::path name = path;
  name += ".new";
  return name;
}

Diagnostic failed(const std::string& name, const std::string& reason) {
  return {name, 0, 0, "", "cannot be written: " + reason, ""};
}

std::optional<Diagnostic> make_folder(const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (!error) return std::nullopt;
  return Diagnostic{folder.string(), 0, 0, "", "cannot be made: " + error.message(), ""};
}

std::optional<Diagnostic> write_beside(const fs::path& path, const std::string& name,
                                       const std::string& text) {
  errno = 0;
  std::ofstream file(beside(path), std::ios::binary | std::ios::trunc);
  file.write(text.data(), static_cast<std::streamsize>(text.size()));
  file.close();
  if (file) return std::nullopt;
  return failed(name, errno != 0 ? std::strerror(errno) : "unknown reason");
}

std::optional<Diagnostic> write_all(const std::map<std::string, std::string>& files, const fs::path& folder) {
  for (const auto& [name, text] : files) {
    const fs::path path = folder / name;
    if (auto problem = make_folder(path.parent_path())) return problem;
    if (auto problem = write_beside(path, name, text)) return problem;
  }
  return std::nullopt;
}

std::optional<Diagnostic> move_all(const std::map<std::string, std::string>& files, const fs::path& folder) {
  for (const auto& [name, text] : files) {
    std::error_code error;
    fs::rename(beside(folder / name), folder / name, error);
    if (error) return failed(name, error.message());
  }
  return std::nullopt;
}

}  // namespace

Result<void> write_files(const std::map<std::string, std::string>& files, const fs::path& folder) {
  auto problem = write_all(files, folder);
  if (!problem) problem = move_all(files, folder);
  if (!problem) return {};
  for (const auto& [name, text] : files) {
    std::error_code ignored;
    fs::remove(beside(folder / name), ignored);
  }
  return std::unexpected(std::vector{std::move(*problem)});
}

}  // namespace firstdraw::job
