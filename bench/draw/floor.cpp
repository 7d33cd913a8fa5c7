#include "floor.hpp"

namespace firstdraw::bench {

__attribute__((target_clones("avx2", "default"))) void relax(std::span<float> values, float share,
                                                             float goal) {
  float* value = values.data();
  const std::size_t count = values.size();
  for (std::size_t i = 0; i < count; ++i) value[i] += share * (goal - value[i]);
}

}  // namespace firstdraw::bench
