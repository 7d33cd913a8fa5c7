#include "job/source.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>

namespace firstdraw::job {

namespace fs = std::filesystem;

namespace {

std::nullopt_t fail(Context& context, std::string_view name, std::string message) {
  context.problem({name, 0, 0}, "", std::move(message));
  return std::nullopt;
}

}  // namespace

std::optional<std::string> FolderSource::text(std::string_view name, Context& context) const {
  const fs::path path = folder_ / name;
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!fs::exists(status)) return fail(context, name, "the job folder has no such file");
  if (!fs::is_regular_file(status)) return fail(context, name, "is not a file");
  errno = 0;
  std::ifstream file(path, std::ios::binary);
  if (!file) return fail(context, name, std::string("cannot be read: ") + std::strerror(errno));
  std::string text(std::istreambuf_iterator<char>(file), {});
  if (file.bad()) return fail(context, name, std::string("cannot be read: ") + std::strerror(errno));
  return text;
}

bool FolderSource::has(std::string_view name) const {
  std::error_code error;
  return fs::exists(folder_ / name, error);
}

std::expected<std::vector<std::string>, std::string> FolderSource::names(std::string_view under) const {
  std::error_code error;
  const fs::path folder = under.empty() ? folder_ : folder_ / under;
  if (!fs::exists(folder, error)) return {};
  const std::string before = under.empty() ? "" : std::string(under) + "/";
  std::vector<std::string> names;
  for (fs::directory_iterator item(folder, error), end; !error && item != end; item.increment(error))
    names.push_back(before + item->path().filename().string());
  if (error) return std::unexpected(error.message());
  std::ranges::sort(names);
  return names;
}

std::optional<std::string> TextSource::text(std::string_view name, Context& context) const {
  const auto found = texts_.find(std::string(name));
  if (found == texts_.end()) return fail(context, name, "the job folder has no such file");
  return found->second;
}

bool TextSource::has(std::string_view name) const { return texts_.contains(std::string(name)); }

std::expected<std::vector<std::string>, std::string> TextSource::names(std::string_view under) const {
  std::vector<std::string> names;
  for (const auto& [name, text] : texts_) {
    const auto slash = name.rfind('/');
    const std::string_view of = slash == std::string::npos ? "" : std::string_view(name).substr(0, slash);
    if (of == under) names.push_back(name);
  }
  return names;
}

}  // namespace firstdraw::job
