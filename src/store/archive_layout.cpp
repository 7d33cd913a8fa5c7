#include "store/archive_layout.hpp"

#include <fmt/format.h>

#include <charconv>

#include "store/hex.hpp"
#include "store/sha256.hpp"

namespace firstdraw::store {

namespace {

constexpr std::string_view kBooks = "books/";
constexpr std::string_view kFiles = "files/";
constexpr std::string_view kReadings = "readings/";

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
}

/// nullopt: not what `encoded` makes of any name.
std::optional<std::string> decoded(std::string_view text) {
  std::string job;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '%') {
      job += text[i];
      continue;
    }
    const auto byte = bytes_of_hex(text.substr(i + 1, 2));
    if (!byte || byte->size() != 1) return std::nullopt;
    job += *byte;
    i += 2;
  }
  if (job.empty() || book_folder(job).substr(kBooks.size()) != text) return std::nullopt;
  return job;
}

/// "12.csv".
std::optional<std::int64_t> number_of_csv(std::string_view name) {
  std::int64_t number = 0;
  const auto [stop, error] = std::from_chars(name.data(), name.data() + name.size(), number);
  if (error != std::errc() || number < 1 || name != fmt::format("{}.csv", number)) return std::nullopt;
  return number;
}

std::optional<ArchivePath> path_in_book(std::string job, std::string_view rest) {
  using Kind = ArchivePath::Kind;
  if (rest == "records.jsonl") return ArchivePath{Kind::records, std::move(job)};
  if (rest == "series.csv") return ArchivePath{Kind::series, std::move(job)};
  if (!rest.starts_with(kReadings)) return std::nullopt;
  const auto number = number_of_csv(rest.substr(kReadings.size()));
  if (!number) return std::nullopt;
  return ArchivePath{Kind::readings, std::move(job), *number};
}

}  // namespace

std::string book_folder(std::string_view job) {
  std::string folder(kBooks);
  bool first = true;
  for (const char c : job) {
    const bool kept = is_plain(c) || (c == '.' && !first);
    folder += kept ? std::string(1, c) : fmt::format("%{:02x}", static_cast<unsigned char>(c));
    first = false;
  }
  return folder;
}

std::optional<ArchivePath> archive_path(std::string_view path) {
  if (path == "manifest.json") return ArchivePath{ArchivePath::Kind::manifest};
  if (path.starts_with(kFiles)) {
    const std::string_view hash = path.substr(kFiles.size());
    if (!is_sha256_hex(hash)) return std::nullopt;
    return ArchivePath{ArchivePath::Kind::file, {}, 0, std::string(hash)};
  }
  if (!path.starts_with(kBooks)) return std::nullopt;
  const std::string_view rest = path.substr(kBooks.size());
  const std::size_t slash = rest.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  auto job = decoded(rest.substr(0, slash));
  if (!job) return std::nullopt;
  return path_in_book(*std::move(job), rest.substr(slash + 1));
}

std::string below_root(std::string_view path) { return fmt::format("{}{}", archive_root, path); }

std::string text_of(const ArchivePath& path) {
  switch (path.kind) {
    case ArchivePath::Kind::manifest:
      return "manifest.json";
    case ArchivePath::Kind::records:
      return book_folder(path.job) + "/records.jsonl";
    case ArchivePath::Kind::series:
      return book_folder(path.job) + "/series.csv";
    case ArchivePath::Kind::readings:
      return fmt::format("{}/readings/{}.csv", book_folder(path.job), path.series);
    case ArchivePath::Kind::file:
      return std::string(kFiles) + path.sha256;
  }
  return {};
}

}  // namespace firstdraw::store
