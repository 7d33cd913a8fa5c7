// Bytes through zstd with its checksum, within a bound.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace firstdraw::store {

/// One zstd frame that carries its size and the checksum of its contents.
std::string squeezed(std::string_view bytes);
/// nullopt: not one whole frame, altered, or of more than `most_bytes`.
std::optional<std::string> unsqueezed(std::string_view frame, std::size_t most_bytes);

}  // namespace firstdraw::store
