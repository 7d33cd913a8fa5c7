// The moments of a packed day: the usual step between readings, and by how many units each step departs from
// it; a log on the grid is all zeros, one that is late by some seconds nearly so.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "store/series.hpp"
#include "store/varint.hpp"

namespace firstdraw::store {

void add_times(std::string& out, std::span<const Sample> samples);
/// Samples without values; nullopt: damaged.
std::optional<std::vector<Sample>> read_times(ByteReader& in);

}  // namespace firstdraw::store
