// Is what somebody wants to record well formed? The store asks, and whoever wants to know before there is
// one.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "store/failure.hpp"
#include "store/record.hpp"

namespace firstdraw::store {

inline constexpr std::size_t longest_name = 500;           // bytes of a name, who, a path
inline constexpr std::size_t longest_entry = 64;           // bytes
inline constexpr std::size_t longest_body = 64UL << 20U;   // bytes
inline constexpr std::size_t largest_file = 256UL << 20U;  // bytes

/// The first thing that is wrong, as `bad_input`. Whether attachments and the corrected record are there,
/// only the store can tell.
std::optional<Failure> complaint_about(std::string_view job, const Draft& draft);

/// The same of a file that is to be put into a store.
std::optional<Failure> complaint_about_file(std::string_view name, std::string_view media_type,
                                            std::uint64_t bytes);

/// A name of a book, person, file…: not empty, UTF-8, no control characters, not longer than longest_name.
std::optional<Failure> complaint_about_name(std::string_view what, std::string_view name);

}  // namespace firstdraw::store
