// The bytes of a log as UTF-8, whatever the logger wrote, piece by piece.
#pragma once

#include <expected>
#include <memory>
#include <string>
#include <string_view>

namespace firstdraw::watch {

/// Encodings a format may name.
inline constexpr std::string_view utf_8 = "utf-8", utf_16le = "utf-16le", utf_16be = "utf-16be",
                                  latin_1 = "latin-1";

class LogBytes {
 public:
  /// One of the four names above.
  explicit LogBytes(std::string_view encoding);
  LogBytes(LogBytes&&) noexcept;
  LogBytes& operator=(LogBytes&&) noexcept;
  ~LogBytes();

  /// Appends `bytes` to `text`, without a byte-order mark (nothing may be taken from it before it holds three
  /// bytes); a character that is cut off waits for the next
  /// piece. One sentence on NULs and on bytes that are no text.
  std::expected<void, std::string> add(std::string_view bytes, bool last, std::string& text);

 private:
  struct Converter;
  std::unique_ptr<Converter> converter_;  // null: UTF-8 already
  std::string waiting_;
  bool begun_ = false;
};

struct GuessedEncoding {
  std::string name;
  std::string doubt{};  // empty: none
};
/// From byte-order marks, NULs at every other byte, and whether the bytes are UTF-8. On failure: why this is
/// no text.
std::expected<GuessedEncoding, std::string> guess_encoding(std::string_view start);

/// Bytes at the start of `text` that are whole UTF-8 characters.
std::size_t valid_utf_8(std::string_view text);

}  // namespace firstdraw::watch
