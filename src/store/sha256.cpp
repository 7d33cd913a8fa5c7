#include "store/sha256.hpp"

#include <openssl/evp.h>

#include <algorithm>
#include <array>
#include <stdexcept>

#include "store/hex.hpp"

namespace firstdraw::store {

std::string sha256_hex(std::string_view bytes) {
  std::array<unsigned char, 32> digest{};
  unsigned int length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1 ||
      length != digest.size())
    throw std::runtime_error("libcrypto computes no SHA-256");
  std::string raw(digest.size(), '\0');
  std::ranges::transform(digest, raw.begin(), [](unsigned char byte) { return static_cast<char>(byte); });
  return to_hex(raw);
}

bool is_sha256_hex(std::string_view text) {
  return text.size() == 64 && std::ranges::all_of(text, [](char digit) {
           return (digit >= '0' && digit <= '9') || (digit >= 'a' && digit <= 'f');
         });
}

}  // namespace firstdraw::store
