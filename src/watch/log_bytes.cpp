#include "watch/log_bytes.hpp"

#include <fmt/format.h>
#include <iconv.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <optional>
#include <stdexcept>

namespace firstdraw::watch {
namespace {

constexpr std::string_view utf_8_mark = "\xef\xbb\xbf", utf_16le_mark = "\xff\xfe",
                           utf_16be_mark = "\xfe\xff";

const char* library_name(std::string_view encoding) {
  if (encoding == utf_16le) return "UTF-16LE";
  if (encoding == utf_16be) return "UTF-16BE";
  return "ISO-8859-1";
}

std::string no_text(std::string_view encoding) {
  return fmt::format("holds bytes that are not {}", encoding);
}

/// Length of the character at the start of `text`; 0: none, or cut off.
std::size_t character_length(std::string_view text) {
  const auto byte = [&text](std::size_t at) { return static_cast<unsigned char>(text[at]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xc2 && first < 0xe0 ? 2 : first >= 0xe0 && first < 0xf0 ? 3 : 4;
  if (first < 0xc2 || first > 0xf4 || length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xc0U) != 0x80) return 0;
  }
  return length;
}

/// NULs at even and at odd places.
std::array<std::size_t, 2> nuls(std::string_view text) {
  std::array<std::size_t, 2> count{};
  for (std::size_t i = 0; i < text.size(); ++i) count[i % 2] += text[i] == '\0' ? 1 : 0;
  return count;
}

std::size_t control_characters(std::string_view text) {
  std::size_t count = 0;
  for (const char letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    count += byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r' && byte != '\f' ? 1 : 0;
  }
  return count;
}

}  // namespace

struct LogBytes::Converter {
  explicit Converter(std::string_view encoding)
      : name(encoding), handle(iconv_open("UTF-8", library_name(encoding))) {
    constexpr std::uintptr_t failed = ~std::uintptr_t{0};
    std::uintptr_t bits = 0;
    std::memcpy(&bits, &handle, sizeof(bits));
    if (bits == failed) throw std::runtime_error("the C library converts no text of " + name);
  }
  Converter(const Converter&) = delete;
  Converter& operator=(const Converter&) = delete;
  ~Converter() { iconv_close(handle); }

  /// Bytes of `in` that were taken; nullopt: they are no text.
  std::optional<std::size_t> convert(std::string& in, std::string& out) const {
    char* from = in.data();
    std::size_t left = in.size();
    while (left > 0) {
      std::array<char, 16384> room{};
      char* to = room.data();
      std::size_t free = room.size();
      const std::size_t result = iconv(handle, &from, &left, &to, &free);
      const int why = errno;
      out.append(room.data(), room.size() - free);
      if (result != static_cast<std::size_t>(-1) || why == E2BIG) continue;
      if (why == EINVAL) break;  // cut off
      return std::nullopt;
    }
    return in.size() - left;
  }

  std::string name;
  iconv_t handle;
};

LogBytes::LogBytes(std::string_view encoding)
    : converter_(encoding == utf_8 ? nullptr : std::make_unique<Converter>(encoding)) {}
LogBytes::LogBytes(LogBytes&&) noexcept = default;
LogBytes& LogBytes::operator=(LogBytes&&) noexcept = default;
LogBytes::~LogBytes() = default;

std::expected<void, std::string> LogBytes::add(std::string_view bytes, bool last, std::string& text) {
  std::size_t before = text.size();
  if (!converter_) {
    text += bytes;
  } else {
    waiting_ += bytes;
    const auto taken = converter_->convert(waiting_, text);
    if (!taken || (last && *taken < waiting_.size())) return std::unexpected(no_text(converter_->name));
    waiting_.erase(0, *taken);
  }
  if (!begun_ && (last || text.size() >= utf_8_mark.size())) {
    begun_ = true;
    if (text.starts_with(utf_8_mark)) text.erase(0, utf_8_mark.size());
    before = 0;
  }
  if (std::memchr(text.data() + before, '\0', text.size() - before) != nullptr)
    return std::unexpected("holds NUL bytes: this is no text, or its encoding is another one");
  return {};
}

std::size_t valid_utf_8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t length = character_length(text.substr(at));
    if (length == 0) break;
    at += length;
  }
  return at;
}

std::expected<GuessedEncoding, std::string> guess_encoding(std::string_view start) {
  if (start.starts_with(utf_16le_mark)) return GuessedEncoding{std::string(utf_16le)};
  if (start.starts_with(utf_16be_mark)) return GuessedEncoding{std::string(utf_16be)};
  const auto [even, odd] = nuls(start);
  const std::size_t half = start.size() / 2;
  if (odd > half * 3 / 4 && even < half / 100 + 1) return GuessedEncoding{std::string(utf_16le)};
  if (even > half * 3 / 4 && odd < half / 100 + 1) return GuessedEncoding{std::string(utf_16be)};
  if (even + odd > 0) return std::unexpected("holds NUL bytes: this is no text that a logger wrote");
  if (control_characters(start) > start.size() / 500)
    return std::unexpected("holds control characters: this is no text that a logger wrote");
  // The last character may be cut off where the start of the file ends.
  if (valid_utf_8(start) + 3 >= start.size()) return GuessedEncoding{std::string(utf_8)};
  return GuessedEncoding{std::string(latin_1)};
}

}  // namespace firstdraw::watch
