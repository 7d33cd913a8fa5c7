// Files that appear whole or not at all: written beside under a temporary name, then moved into place.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

#include "job/diagnostic.hpp"

namespace firstdraw::paper {

/// `write` makes the file at the path it is given and returns what went wrong, or "".
job::Result<void> write_beside(const std::filesystem::path& path,
                               const std::function<std::string(const std::filesystem::path&)>& write);
job::Result<void> write_file(const std::filesystem::path& path, std::string_view bytes);
/// Makes the folder if it is missing.
job::Result<void> make_folder(const std::filesystem::path& folder);

/// One diagnostic about a file.
std::vector<job::Diagnostic> file_trouble(const std::filesystem::path& path, const std::string& message,
                                          const std::string& hint);

}  // namespace firstdraw::paper
