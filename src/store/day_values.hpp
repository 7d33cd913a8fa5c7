// The values of a packed day, in the first of three forms that can give them back to the bit: whole numbers
// under a law (value_law.hpp), a table of the few values there are, the doubles themselves.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "store/series.hpp"
#include "store/varint.hpp"

namespace firstdraw::store {

/// `head` (the times) and the values behind it, squeezed: the smaller of what can be tried.
std::string with_values(std::string head, std::span<const Sample> samples);
/// Fills in the values; false: damaged.
bool read_values(ByteReader& in, std::vector<Sample>& samples);

}  // namespace firstdraw::store
