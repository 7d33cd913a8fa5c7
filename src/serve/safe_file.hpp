// Small private files: for the user alone, whole or not at all.
#pragma once

#include <expected>
#include <filesystem>
#include <string>

namespace firstdraw::serve {

/// Mode 600, in a folder of mode 700 that is made if missing; on the disk on return. Why not, in words.
std::expected<void, std::string> write_safely(const std::filesystem::path& file, const std::string& bytes);
std::expected<std::string, std::string> read_whole(const std::filesystem::path& file);

}  // namespace firstdraw::serve
