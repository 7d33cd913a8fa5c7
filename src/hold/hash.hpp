// Small deterministic random numbers: the same on every machine and for every number of threads.
#pragma once

#include <cstdint>

namespace firstdraw::hold {

/// The finishing step of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
inline std::uint64_t scrambled(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9;
  x = (x ^ (x >> 27)) * 0x94d049bb133111eb;
  return x ^ (x >> 31);
}

inline std::uint64_t mixed(std::uint64_t seed, std::uint64_t value) {
  return scrambled(scrambled(seed) ^ value);
}

/// A stream of numbers from one seed.
class Stream {
 public:
  explicit Stream(std::uint64_t seed) : state_(seed) {}
  /// Uniform below `count` (at most 2^32), with a bias of at most count / 2^32.
  std::uint64_t below(std::uint64_t count) {
    state_ += 0x9e3779b97f4a7c15;
    return ((scrambled(state_) >> 32) * count) >> 32;
  }

 private:
  std::uint64_t state_;
};

}  // namespace firstdraw::hold
