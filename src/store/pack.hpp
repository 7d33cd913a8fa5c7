// The samples of one series over one day as few bytes, and back, to the bit. Pure. The layout is in
// docs/archive.md; damaged bytes are a Failure.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "store/failure.hpp"
#include "store/series.hpp"

namespace firstdraw::store {

/// More than ten a second; a bound on what a damaged or hostile blob can make the program hold.
inline constexpr std::size_t most_samples_a_day = 1'000'000;

/// `samples`: one at least, at most `most_samples_a_day`, strictly rising, times within `latest_ms` of 1970.
/// A broken promise throws.
std::string pack(std::span<const Sample> samples);

/// What `pack` was given. `damaged`: cut, altered, or no packed day at all; `newer`: of a later layout.
Result<std::vector<Sample>> unpack(std::string_view blob);

/// End of the year 9999: later or earlier than that before 1970 is no time of a reading.
inline constexpr std::int64_t latest_ms = 253'402'300'799'999;

}  // namespace firstdraw::store
