// What libFuzzer calls; which target it is comes from the build.
#include <cstddef>
#include <cstdint>

#include "fuzz_targets.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return firstdraw::fuzz::FIRSTDRAW_ONE(data, size);
}
