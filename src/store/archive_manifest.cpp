#include "store/archive_manifest.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "store/archive_layout.hpp"

namespace firstdraw::store {

namespace {

using Json = nlohmann::ordered_json;
constexpr std::string_view kFormat = "firstdraw-archive";

Json json_of(const ArchiveBook& book) {
  return {{"job", book.job},         {"folder", book_folder(book.job)},
          {"records", book.records}, {"head_hash", book.head_hash},
          {"series", book.series},   {"samples", book.samples}};
}

/// A fraction, or what no integer holds, must not be converted.
std::int64_t count_of(const Json& json, const char* key) {
  const Json& value = json.at(key);
  if (!value.is_number_integer()) throw std::invalid_argument(fmt::format("{} is no whole number", key));
  return value.get<std::int64_t>();
}

ArchiveBook book_of(const Json& json) {
  return {json.at("job").get<std::string>(), count_of(json, "records"),
          json.at("head_hash").get<std::string>(), count_of(json, "series"), count_of(json, "samples")};
}

ArchiveEntry entry_of(const Json& json) {
  return {json.at("path").get<std::string>(), count_of(json, "bytes"), json.at("sha256").get<std::string>()};
}

/// Deeper than a manifest goes is an attempt on the stack.
bool too_deep(std::string_view json) {
  int depth = 0;
  for (const char c : json) {
    if (c == '{' || c == '[') ++depth;
    if (c == '}' || c == ']') --depth;
    if (depth > 64) return true;
  }
  return false;
}

Manifest manifest_of(const Json& json) {
  Manifest manifest;
  for (const Json& book : json.at("books")) manifest.books.push_back(book_of(book));
  for (const Json& entry : json.at("entries")) manifest.entries.push_back(entry_of(entry));
  return manifest;
}

}  // namespace

std::string to_json(const Manifest& manifest) {
  Json json{{"format", kFormat},
            {"version", archive_version},
            {"books", Json::array()},
            {"entries", Json::array()}};
  for (const ArchiveBook& book : manifest.books) json["books"].push_back(json_of(book));
  for (const ArchiveEntry& entry : manifest.entries)
    json["entries"].push_back({{"path", entry.path}, {"bytes", entry.bytes}, {"sha256", entry.sha256}});
  return json.dump(1) + "\n";
}

std::expected<Manifest, std::string> read_manifest(std::string_view text) {
  if (too_deep(text)) return std::unexpected("manifest.json is nested too deeply");
  const Json json = Json::parse(text, nullptr, false);
  if (!json.is_object()) return std::unexpected("manifest.json is no JSON object");
  try {
    if (json.at("format") != kFormat) return std::unexpected("manifest.json names another format");
    if (json.at("version") != archive_version)
      return std::unexpected(fmt::format("it has layout {}, and this program reads layout {}",
                                         json.at("version").dump(), archive_version));
    return manifest_of(json);
  } catch (const std::exception& wrong) {  // Json::exception, std::invalid_argument
    return std::unexpected(fmt::format("manifest.json is not as it should be ({})", wrong.what()));
  }
}

}  // namespace firstdraw::store
