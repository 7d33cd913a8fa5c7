// The page, built into the program or read from a folder once at the start: no request leads to the disk.
#pragma once

#include <expected>
#include <filesystem>
#include <map>
#include <string>
#include <string_view>

namespace firstdraw::serve {

struct PageFile {
  std::string bytes, gzip;  // gzip empty: not worth it
  std::string type, etag;
  bool lasts = false;  // its name changes with its content
};
/// By path: "/index.html", "/assets/index-1a2b.js".
using PageFiles = std::map<std::string, PageFile, std::less<>>;

const PageFiles& built_in_page();
std::expected<PageFiles, std::string> page_from(const std::filesystem::path& folder);

/// By what the name ends in; "application/octet-stream" for what is not known.
std::string_view type_by_name(std::string_view name);
/// gzip at a level that costs little; empty when the bytes do not shrink.
std::string squeezed(std::string_view bytes);

}  // namespace firstdraw::serve
