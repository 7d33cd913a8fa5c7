// How the doubles of a log came from the few digits that a device gave: the law under which every value of a
// day is a whole number again, to the bit. A table of formats of packed days (docs/archive.md names it), so
// laws are only ever added at its end.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "store/series.hpp"

namespace firstdraw::store {

/// value = (x - offset) * numerator / denominator, where x = k / 10^decimals (a decimal that was read) or,
/// with `times_step`, k * 10^-decimals (a register times its scale, which rounds otherwise).
struct ValueLaw {
  int unit = 0;  // row of the table of units: 0 is SI
  int decimals = 0;
  bool times_step = false;

  double value_of(std::int64_t k) const;
  bool operator==(const ValueLaw&) const = default;
};

inline constexpr int most_decimals = 6;
int law_units();

struct WholeNumbers {
  ValueLaw law;
  std::vector<std::int64_t> k;
};
/// The first law, by unit, then by decimals, that gives every value back bit by bit; nullopt: none does.
std::optional<WholeNumbers> whole_numbers(std::span<const Sample> samples);

}  // namespace firstdraw::store
