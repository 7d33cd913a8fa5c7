// What the targets share: a folder of this process, several files in one input, and a promise that was
// broken.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <string_view>

namespace firstdraw::fuzz {

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// A folder in memory where the machine has one; emptied at every call, removed at the end.
std::filesystem::path empty_folder(std::string_view name);

/// "@@ runs.csv" on a line of its own begins a file; what stands before the first is left out.
std::map<std::string, std::string, std::less<>> files_in(std::string_view input);

void write(const std::filesystem::path& file, std::string_view text);

/// Ends the program, so that a fuzzer and a test see it.
[[noreturn]] void broken(const char* promise);

}  // namespace firstdraw::fuzz
