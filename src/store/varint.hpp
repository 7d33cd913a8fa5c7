// Whole numbers in few bytes: seven bits a byte, low ones first, the eighth says that more follow; signed
// ones zigzag (0, -1, 1, -2, …), so that small ones of either sign are short.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace firstdraw::store {

constexpr std::uint64_t zigzag(std::int64_t value) {
  return (static_cast<std::uint64_t>(value) << 1U) ^ static_cast<std::uint64_t>(value >> 63);
}
constexpr std::int64_t unzigzag(std::uint64_t value) {
  return static_cast<std::int64_t>((value >> 1U) ^ (0 - (value & 1U)));
}

inline void add_varint(std::string& out, std::uint64_t value) {
  while (value >= 0x80U) {
    out += static_cast<char>(static_cast<unsigned char>(value | 0x80U));
    value >>= 7U;
  }
  out += static_cast<char>(static_cast<unsigned char>(value));
}

/// Reads what may be cut or altered: a read past the end or of a number too large gives nothing.
class ByteReader {
 public:
  explicit ByteReader(std::string_view bytes) : left_(bytes) {}

  std::optional<std::uint64_t> varint() {
    std::uint64_t value = 0;
    for (unsigned shift = 0; shift < 64; shift += 7) {
      const auto byte = this->byte();
      if (!byte || (shift == 63 && *byte > 1)) return std::nullopt;
      value |= static_cast<std::uint64_t>(*byte & 0x7fU) << shift;
      if (*byte < 0x80) return value;
    }
    return std::nullopt;
  }
  std::optional<std::int64_t> signed_varint() {
    const auto value = varint();
    if (!value) return std::nullopt;
    return unzigzag(*value);
  }
  /// A number from `least` to `most`.
  std::optional<std::int64_t> varint_within(std::int64_t least, std::int64_t most) {
    const auto number = varint();
    if (!number || *number < static_cast<std::uint64_t>(least) || *number > static_cast<std::uint64_t>(most))
      return std::nullopt;
    return static_cast<std::int64_t>(*number);
  }
  std::optional<std::uint8_t> byte() {
    if (left_.empty()) return std::nullopt;
    const auto value = static_cast<std::uint8_t>(left_.front());
    left_.remove_prefix(1);
    return value;
  }
  std::optional<std::string_view> bytes(std::size_t count) {
    if (count > left_.size()) return std::nullopt;
    const std::string_view taken = left_.substr(0, count);
    left_.remove_prefix(count);
    return taken;
  }
  std::size_t left() const { return left_.size(); }

 private:
  std::string_view left_;
};

}  // namespace firstdraw::store
