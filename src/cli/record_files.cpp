#include "cli/record_files.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace firstdraw::cli {
namespace {

namespace fs = std::filesystem;

job::Diagnostic trouble(const std::string& file, std::string message, std::string hint = "") {
  return {file, 0, 0, "", std::move(message), std::move(hint)};
}

/// The first part is checked only: hidden folders are not walked into.
bool is_left_out(const fs::path& relative) {
  const std::string name = relative.filename().string();
  return name.starts_with(".") || (!relative.has_parent_path() && name.starts_with("records.db"));
}

/// A name from a record must not lead out of the folder.
bool stays_inside(const std::string& name) {
  const fs::path path(name);
  return path.is_relative() && !path.empty() && std::ranges::none_of(path, [](const fs::path& part) {
           return part == ".." || part == "." || part.empty();
         });
}

bool write_file(const fs::path& path, const std::string& bytes) {
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  std::ofstream out(path, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  return !out.fail();
}

std::expected<void, ExitCode> write_all(const store::Store& store, const store::Record& revision,
                                        const fs::path& folder, const Context& context) {
  for (const store::Attachment& file : revision.attachments) {
    if (!stays_inside(file.name))
      return std::unexpected(
          context.fail(ExitCode::job_unreadable,
                       {complaint("--restore", fmt::format("the record names a file \"{}\", which leads "
                                                           "out of the folder",
                                                           file.name))}));
    const auto bytes = store.file(file.sha256);
    if (!bytes) return std::unexpected(complain(bytes.error(), false, context));
    if (!write_file(folder / file.name, *bytes))
      return std::unexpected(context.fail(ExitCode::cannot_write,
                                          {trouble((folder / file.name).string(), "cannot be written")}));
  }
  return {};
}

std::expected<std::ifstream, job::Diagnostic> open_file(const std::string& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (fs::exists(status) && !fs::is_regular_file(status))
    return std::unexpected(trouble(path, "is not a file"));
  errno = 0;
  std::ifstream in(path, std::ios::binary);
  if (!in) return std::unexpected(trouble(path, fmt::format("cannot be read: {}", std::strerror(errno))));
  return in;
}

}  // namespace

std::expected<std::string, job::Diagnostic> bytes_of_file(const std::string& path) {
  auto in = open_file(path);
  if (!in) return std::unexpected(in.error());
  std::string bytes(std::istreambuf_iterator<char>(*in), {});
  if (in->bad()) return std::unexpected(trouble(path, "cannot be read"));
  return bytes;
}

std::expected<std::uint64_t, job::Diagnostic> size_of_file(const std::string& path) {
  auto in = open_file(path);
  if (!in) return std::unexpected(in.error());
  in->seekg(0, std::ios::end);
  const std::streamoff size = in->tellg();
  if (size < 0) return std::unexpected(trouble(path, "cannot be read"));
  return static_cast<std::uint64_t>(size);
}

std::expected<std::vector<DraftFile>, job::Diagnostic> files_of_folder(const std::string& folder) {
  std::vector<DraftFile> files;
  std::error_code error;
  auto walk = fs::recursive_directory_iterator(folder, error);
  for (; !error && walk != fs::recursive_directory_iterator(); walk.increment(error)) {
    const fs::path relative = walk->path().lexically_relative(folder);
    if (is_left_out(relative)) {
      if (walk->is_directory(error)) walk.disable_recursion_pending();
    } else if (walk->is_regular_file(error)) {
      files.push_back({relative.generic_string(), walk->path().string()});
    }
  }
  if (error) return std::unexpected(trouble(folder, fmt::format("cannot be read: {}", error.message())));
  if (files.empty()) return std::unexpected(trouble(folder, "there is no file to keep"));
  std::ranges::sort(files, {}, &DraftFile::name);
  return files;
}

std::expected<void, ExitCode> restore(const store::Store& store, const store::Record& revision,
                                      const std::string& to, const Context& context) {
  std::error_code error;
  if (fs::exists(fs::symlink_status(to, error)))
    return std::unexpected(context.fail(ExitCode::cannot_write, {trouble(to, "is there already",
                                                                         "give a new folder: "
                                                                         "nothing is written over")}));
  std::string bare = to;
  while (bare.size() > 1 && bare.ends_with('/')) bare.pop_back();
  const fs::path beside = fmt::format("{}.part-{}", bare, getpid());
  auto written = write_all(store, revision, beside, context);
  if (written) fs::rename(beside, bare, error);
  if (!written || error) {
    const std::string why = error.message();
    fs::remove_all(beside, error);
    if (written)
      return std::unexpected(
          context.fail(ExitCode::cannot_write, {trouble(to, "cannot be written: " + why)}));
  }
  return written;
}

}  // namespace firstdraw::cli
