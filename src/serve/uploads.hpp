// Photos on their way into a record: kept under their hash until a record names them.
#pragma once

#include <filesystem>
#include <mutex>
#include <optional>
#include <string>

#include "serve/answer.hpp"

namespace firstdraw::serve {

inline constexpr std::size_t largest_upload = 20UL << 20U;  // bytes

class Uploads {
 public:
  explicit Uploads(std::filesystem::path folder) : folder_(std::move(folder)) {}

  /// The SHA-256 under which they are on the disk. Refused: not a kind of file that is taken, or no room:
  /// a gigabyte waits at most.
  Maybe<std::string> put(const std::string& bytes);
  std::optional<std::string> get(const std::string& sha256) const;
  /// A record has it now.
  void done(const std::string& sha256);

 private:
  std::uintmax_t waiting() const;
  const std::filesystem::path folder_;
  mutable std::mutex mutex_;
};

/// "image/jpeg", "image/png", "image/webp", "image/heic", "application/pdf", by what the file begins with;
/// empty for any other.
std::string_view type_by_content(std::string_view bytes);

}  // namespace firstdraw::serve
