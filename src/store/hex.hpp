// Bytes as hexadecimal digits and back.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace firstdraw::store {

std::string to_hex(std::string_view bytes);  // lower case
/// nullopt: an odd count, or a character that is no hexadecimal digit.
std::optional<std::string> bytes_of_hex(std::string_view hex);

}  // namespace firstdraw::store
