#include "serve/temporary_folder.hpp"

#include <stdlib.h>  // NOLINT(modernize-deprecated-headers): mkdtemp is POSIX

#include <cerrno>
#include <system_error>

#include "serve/safe_file.hpp"

namespace firstdraw::serve {

namespace fs = std::filesystem;

TemporaryFolder::TemporaryFolder() {
  std::string form = (fs::temp_directory_path() / "firstdraw-XXXXXX").string();
  if (mkdtemp(form.data()) == nullptr)
    throw fs::filesystem_error("no temporary folder", form, std::error_code(errno, std::generic_category()));
  path_ = form;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::expected<std::map<std::string, std::string>, std::string> TemporaryFolder::files() const {
  std::map<std::string, std::string> files;
  std::error_code error;
  for (fs::recursive_directory_iterator each(path_, error), end; !error && each != end;
       each.increment(error)) {
    if (!each->is_regular_file(error)) continue;
    auto bytes = read_whole(each->path());
    if (!bytes) return std::unexpected(bytes.error());
    files.emplace(each->path().lexically_relative(path_).generic_string(), *std::move(bytes));
  }
  if (error) return std::unexpected(path_.string() + ": " + error.message());
  return files;
}

}  // namespace firstdraw::serve
