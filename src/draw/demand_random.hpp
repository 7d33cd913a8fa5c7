// Random numbers that are the same with every standard library: SplitMix64 (Steele, Lea, Flood 2014) and the
// distributions draws need.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>

namespace firstdraw::draw {

constexpr std::uint64_t scrambled(std::uint64_t bits) {
  bits = (bits ^ bits >> 30) * 0xbf58476d1ce4e5b9U;
  bits = (bits ^ bits >> 27) * 0x94d049bb133111ebU;
  return bits ^ bits >> 31;
}

class Stream {
 public:
  /// One stream for each combination.
  Stream(std::uint64_t seed, std::uint64_t key, std::uint64_t day)
      : state_(scrambled(scrambled(scrambled(seed + step_) + key + step_) + day + step_)) {}

  std::uint64_t bits() { return scrambled(state_ += step_); }
  /// Above 0 and below 1.
  double uniform() { return (static_cast<double>(bits() >> 12) + 0.5) * 0x1p-52; }
  double exponential() { return -std::log(uniform()); }
  /// Box and Muller 1958.
  double normal() {
    const double radius = std::sqrt(2 * exponential());
    return radius * std::cos(2 * std::numbers::pi * uniform());
  }
  /// By mean and coefficient of variation.
  double log_normal(double mean, double cv) {
    const double variance = std::log1p(cv * cv);
    return mean * std::exp(std::sqrt(variance) * normal() - variance / 2);
  }
  /// Mean 1. Marsaglia and Tsang 2000, with their step for shapes below 1.
  double gamma(double cv) {
    if (cv <= 0) return 1;
    const double shape = 1 / (cv * cv);
    if (shape >= 1) return standard_gamma(shape) / shape;
    return standard_gamma(shape + 1) * std::pow(uniform(), 1 / shape) / shape;
  }

 private:
  double standard_gamma(double shape) {
    const double d = shape - 1.0 / 3, c = 1 / std::sqrt(9 * d);
    for (;;) {
      const double x = normal(), root = 1 + c * x;
      if (root <= 0) continue;
      const double v = root * root * root;
      if (std::log(uniform()) < x * x / 2 + d * (1 - v + std::log(v))) return d * v;
    }
  }
  static constexpr std::uint64_t step_ = 0x9e3779b97f4a7c15U;
  std::uint64_t state_;
};

}  // namespace firstdraw::draw
