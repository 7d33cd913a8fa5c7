#include "serve/uploads.hpp"

#include "serve/safe_file.hpp"
#include "store/sha256.hpp"

namespace firstdraw::serve {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t most_waiting = 1UL << 30U;

bool has_brand(std::string_view bytes) {
  if (bytes.substr(4, 4) != "ftyp") return false;
  const std::string_view brand = bytes.substr(8, 4);
  return brand == "heic" || brand == "heix" || brand == "mif1" || brand == "hevc";
}

}  // namespace

std::string_view type_by_content(std::string_view bytes) {
  if (bytes.starts_with("\xFF\xD8\xFF")) return "image/jpeg";
  if (bytes.starts_with("\x89PNG\r\n\x1A\n")) return "image/png";
  if (bytes.size() < 12) return "";
  if (bytes.starts_with("RIFF") && bytes.substr(8, 4) == "WEBP") return "image/webp";
  if (has_brand(bytes)) return "image/heic";
  return bytes.starts_with("%PDF-") ? "application/pdf" : "";
}

std::uintmax_t Uploads::waiting() const {
  std::uintmax_t bytes = 0;
  std::error_code error;
  for (fs::directory_iterator each(folder_, error), end; !error && each != end; each.increment(error)) {
    const std::uintmax_t size = each->file_size(error);
    if (!error) bytes += size;
  }
  return bytes;
}

Maybe<std::string> Uploads::put(const std::string& bytes) {
  if (type_by_content(bytes).empty())
    return refuse(Why::bad_input, "this is no photo", "JPEG, PNG, WebP, HEIC and PDF are kept");
  std::string hash = store::sha256_hex(bytes);
  const std::lock_guard lock(mutex_);
  std::error_code error;
  if (fs::exists(folder_ / hash, error)) return hash;
  if (waiting() + bytes.size() > most_waiting)
    return refuse(Why::busy, "too many files wait for a record that names them",
                  "keep the records they belong to, or remove old ones from " + folder_.string());
  if (const auto written = write_safely(folder_ / hash, bytes); !written)
    return refuse(Why::failed, "the file cannot be kept: " + written.error());
  return hash;
}

std::optional<std::string> Uploads::get(const std::string& sha256) const {
  if (!store::is_sha256_hex(sha256)) return std::nullopt;
  const std::lock_guard lock(mutex_);
  auto bytes = read_whole(folder_ / sha256);
  // What was damaged on the disk is not what was put.
  if (!bytes || store::sha256_hex(*bytes) != sha256) return std::nullopt;
  return *std::move(bytes);
}

void Uploads::done(const std::string& sha256) {
  if (!store::is_sha256_hex(sha256)) return;
  const std::lock_guard lock(mutex_);
  std::error_code ignored;
  fs::remove(folder_ / sha256, ignored);
}

}  // namespace firstdraw::serve
