#include "serve/page_files.hpp"

#include <zlib.h>

#include <array>
#include <utility>

#include "serve/embedded_page.hpp"
#include "serve/safe_file.hpp"
#include "store/sha256.hpp"

namespace firstdraw::serve {
namespace {

namespace fs = std::filesystem;

bool shrinks(std::string_view type) {
  return type.starts_with("text/") || type.starts_with("application/json") ||
         type.starts_with("application/manifest") || type.starts_with("image/svg");
}

PageFile page_file(const std::string& path, std::string bytes) {
  constexpr std::size_t digits_of_etag = 20;
  PageFile file;
  file.type = type_by_name(path);
  file.etag = "\"" + store::sha256_hex(bytes).substr(0, digits_of_etag) + "\"";
  file.lasts = path.starts_with("/assets/");
  if (shrinks(file.type)) file.gzip = squeezed(bytes);
  file.bytes = std::move(bytes);
  return file;
}

}  // namespace

std::string_view type_by_name(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 17> types{
      {{".html", "text/html; charset=utf-8"},
       {".js", "text/javascript; charset=utf-8"},
       {".css", "text/css; charset=utf-8"},
       {".json", "application/json; charset=utf-8"},
       {".webmanifest", "application/manifest+json"},
       {".svg", "image/svg+xml; charset=utf-8"},
       {".png", "image/png"},
       {".ico", "image/x-icon"},
       {".woff2", "font/woff2"},
       {".txt", "text/plain; charset=utf-8"},
       {".jsonl", "application/json-seq"},
       {".csv", "text/csv; charset=utf-8"},
       {".pdf", "application/pdf"},
       {".jpg", "image/jpeg"},
       {".zip", "application/zip"},
       {".map", "application/json; charset=utf-8"},
       {".xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"}}};
  for (const auto& [ending, type] : types)
    if (name.ends_with(ending)) return type;
  return "application/octet-stream";
}

std::string squeezed(std::string_view bytes) {
  constexpr int gzip_window = 15 + 16, memory = 8, level = 5;
  z_stream stream{};
  if (deflateInit2(&stream, level, Z_DEFLATED, gzip_window, memory, Z_DEFAULT_STRATEGY) != Z_OK) return {};
  std::string out(deflateBound(&stream, bytes.size()), '\0');
  std::string in(bytes);
  stream.next_in = reinterpret_cast<Bytef*>(in.data());    // NOLINT: zlib speaks unsigned char
  stream.next_out = reinterpret_cast<Bytef*>(out.data());  // NOLINT
  stream.avail_in = static_cast<uInt>(in.size());
  stream.avail_out = static_cast<uInt>(out.size());
  const int end = deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  return end == Z_STREAM_END && out.size() < bytes.size() ? out : std::string();
}

const PageFiles& built_in_page() {
  static const PageFiles files = [] {
    PageFiles all;
    for (const auto& [path, bytes] : embedded_page())
      all.emplace(path, page_file(std::string(path), std::string(bytes)));
    return all;
  }();
  return files;
}

std::expected<PageFiles, std::string> page_from(const fs::path& folder) {
  PageFiles all;
  std::error_code error;
  for (fs::recursive_directory_iterator each(folder, error), end; !error && each != end;
       each.increment(error)) {
    if (!each->is_regular_file(error)) continue;
    auto bytes = read_whole(each->path());
    if (!bytes) return std::unexpected(bytes.error());
    const std::string path = "/" + each->path().lexically_relative(folder).generic_string();
    all.emplace(path, page_file(path, *std::move(bytes)));
  }
  if (error) return std::unexpected(folder.string() + ": " + error.message());
  if (!all.contains("/index.html")) return std::unexpected(folder.string() + " holds no index.html");
  return all;
}

}  // namespace firstdraw::serve
