#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>

#include "job/read_files.hpp"

namespace firstdraw::job {

namespace fs = std::filesystem;

std::optional<std::string> read_text(const fs::path& folder, std::string_view name, Context& context) {
  const fs::path path = folder / name;
  std::error_code error;
  const auto status = fs::status(path, error);
  const auto fail = [&](std::string message) {
    context.problem({name, 0, 0}, "", std::move(message));
    return std::nullopt;
  };
  if (!fs::exists(status)) return fail("the job folder has no such file");
  if (!fs::is_regular_file(status)) return fail("is not a file");
  errno = 0;
  std::ifstream file(path, std::ios::binary);
  if (!file) return fail(std::string("cannot be read: ") + std::strerror(errno));
  std::string text(std::istreambuf_iterator<char>(file), {});
  if (file.bad()) return fail(std::string("cannot be read: ") + std::strerror(errno));
  return text;
}

}  // namespace firstdraw::job
