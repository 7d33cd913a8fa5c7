// Invented buildings of any size, for benches and property tests: same arguments, same job, bit for bit.
#pragma once

#include <cstdint>

#include "job/job.hpp"

namespace firstdraw::bench {

/// A tree of exactly `runs` runs over `levels` levels: ground mains, risers, floor mains with drops between
/// back-to-back rooms, sizes falling downstream, taps at every end. 1..200 levels, 2..1 000 000 runs; throws
/// std::invalid_argument outside.
job::Job generate_job(int levels, int runs, std::uint64_t seed);

}  // namespace firstdraw::bench
