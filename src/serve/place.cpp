#include "serve/place.hpp"

#include <fmt/format.h>
#include <pwd.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>

#include "serve/jobs.hpp"
#include "store/address.hpp"

namespace firstdraw::serve {
namespace fs = std::filesystem;
namespace {

std::unexpected<job::Diagnostic> complain(const std::string& place, std::string message, std::string hint) {
  job::Diagnostic diagnostic;
  diagnostic.field = place;
  diagnostic.message = std::move(message);
  diagnostic.hint = std::move(hint);
  return std::unexpected(std::move(diagnostic));
}

bool is_sqlite_file(const fs::path& file) {
  constexpr std::string_view begins = "SQLite format 3";
  std::string head(begins.size(), '\0');
  std::ifstream in(file, std::ios::binary);
  return in.read(head.data(), static_cast<std::streamsize>(head.size())) && head == begins;
}

bool is_store(const std::string& what) {
  const bool address = what.starts_with("postgres") || what.starts_with("sqlite:");
  return (address && what.find(':') != std::string::npos && store::parse_address(what)) ||
         is_sqlite_file(what);
}

std::expected<Place, job::Diagnostic> current_folder(const std::string& store) {
  if (holds_jobs(".")) return Place{fs::current_path(), store};
  return complain("", "the current folder is no job and holds none",
                  "name a folder for your jobs, which is made if it is missing: firstdraw serve my-jobs");
}

}  // namespace

std::expected<Place, job::Diagnostic> find_place(const std::string& what) {
  if (what.empty()) return current_folder("");
  if (is_store(what)) return current_folder(what);
  std::error_code error;
  if (fs::exists(what, error) && !fs::is_directory(what, error))
    return complain(what, "is neither a folder nor a store of records",
                    "give a job folder or a folder of jobs");
  if (!fs::exists(what, error)) fs::create_directories(what, error);
  if (error) return complain(what, fmt::format("the folder cannot be made: {}", error.message()), "");
  return Place{fs::absolute(what).lexically_normal(), ""};
}

fs::path state_folder() {
  const char* set = std::getenv("XDG_STATE_HOME");
  if (set != nullptr && *set == '/') return fs::path(set) / "firstdraw";
  const char* home = std::getenv("HOME");
  if (home == nullptr || *home == '\0') {
    const passwd* user = getpwuid(getuid());
    home = user == nullptr ? "/" : user->pw_dir;
  }
  return fs::path(home) / ".local" / "state" / "firstdraw";
}

}  // namespace firstdraw::serve
