// Numbers of a query, strictly.
#pragma once

#include <charconv>
#include <cstdint>
#include <optional>
#include <string_view>

namespace firstdraw::serve {

inline std::optional<std::int64_t> whole_number(std::string_view text, std::int64_t least,
                                                std::int64_t most) {
  std::int64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || value < least || value > most)
    return std::nullopt;
  return value;
}

inline std::optional<double> number_of(std::string_view text, double least, double most) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  if (!whole || !(value >= least && value <= most)) return std::nullopt;
  return value;
}

}  // namespace firstdraw::serve
