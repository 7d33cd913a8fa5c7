// JSON text in one form only, so that equal contents give equal bytes and equal hashes. RFC 8785 (JSON
// Canonicalization Scheme) but for numbers, which stay as they were written: a reading of "4.20" keeps its
// last digit. docs/records.md.
#pragma once

#include <expected>
#include <string>
#include <string_view>

namespace firstdraw::store {

/// Keys sorted by their UTF-16 units, no blanks, strings escaped as RFC 8785 has it, numbers as written but
/// for
/// "-0", which becomes 0. Errors in one sentence: no JSON, no object at the top, a key twice, nested deeper
/// than 64, a number beyond a double's range.
std::expected<std::string, std::string> canonical_json(std::string_view text);

/// One string between quotation marks, escaped. Broken UTF-8 becomes U+FFFD.
std::string json_string(std::string_view text);

/// Well-formed UTF-8 (nothing over-long, no surrogates).
bool is_utf8(std::string_view text);

}  // namespace firstdraw::store
