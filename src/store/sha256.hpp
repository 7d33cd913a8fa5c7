// SHA-256 (FIPS 180-4) by libcrypto.
#pragma once

#include <string>
#include <string_view>

namespace firstdraw::store {

/// 64 lower-case hexadecimal digits.
std::string sha256_hex(std::string_view bytes);
/// 64 characters, each 0-9 or a-f.
bool is_sha256_hex(std::string_view text);

}  // namespace firstdraw::store
