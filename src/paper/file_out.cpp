#include "paper/file_out.hpp"

#include <fstream>
#include <system_error>

namespace firstdraw::paper {

std::vector<job::Diagnostic> file_trouble(const std::filesystem::path& path, const std::string& message,
                                          const std::string& hint) {
  job::Diagnostic trouble;
  trouble.file = path.string();
  trouble.message = message;
  trouble.hint = hint;
  return {trouble};
}

job::Result<void> write_beside(const std::filesystem::path& path,
                               const std::function<std::string(const std::filesystem::path&)>& write) {
  std::filesystem::path beside = path;
  beside += ".part";
  std::error_code error;
  std::string trouble = write(beside);
  if (trouble.empty()) {
    std::filesystem::rename(beside, path, error);
    if (error) trouble = error.message();
  }
  if (trouble.empty()) return {};
  std::filesystem::remove(beside, error);
  return std::unexpected(file_trouble(path, "cannot be written: " + trouble,
                                      "check that the folder may be written, that the disk has room, and "
                                      "that no program holds the file open"));
}

job::Result<void> write_file(const std::filesystem::path& path, std::string_view bytes) {
  return write_beside(path, [&](const std::filesystem::path& beside) -> std::string {
    std::ofstream file(beside, std::ios::binary | std::ios::trunc);
    if (!file) return "it cannot be opened";
    file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    file.close();
    return file ? "" : "not all of it could be stored";
  });
}

job::Result<void> make_folder(const std::filesystem::path& folder) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (!error && std::filesystem::is_directory(folder, error)) return {};
  return std::unexpected(file_trouble(
      folder, "the folder for the pack cannot be made" + (error ? ": " + error.message() : std::string()),
      "name a folder that may be written"));
}

}  // namespace firstdraw::paper
