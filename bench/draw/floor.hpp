// The least a machine could do: one pass over all cells now and then.
#pragma once

#include <span>

namespace firstdraw::bench {

/// Every value moves towards `goal` by a share of the way, in single precision and vector registers.
void relax(std::span<float> values, float share, float goal);

}  // namespace firstdraw::bench
