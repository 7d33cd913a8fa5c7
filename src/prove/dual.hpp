// A number with its derivatives by the tolerances that readings of one visit share. Tolerances are standard
// normal, so the derivatives are what one standard deviation of each moves the number by.
#pragma once

#include <array>
#include <cstddef>

namespace firstdraw::prove {

enum Slot : std::size_t {
  batch_slot,     // output of the cable type
  volts_slot,     // at the panel
  sensor_slot,    // element, mounting and controller
  loss_slot,      // of all insulation alike: gaps, material, the film law
  own_loss_slot,  // of the sensor's run
  law_slot,       // output and current of the data sheet's curve away from the points it lists
  length_slot,    // of the cable as laid
  coupling_slot,  // of a bulb to the cable beside it
  air_slot,       // the first of `air_slots` spaces
};
inline constexpr std::size_t air_slots = 4, slots = air_slot + air_slots;

struct Dual {
  double v = 0;
  std::array<double, slots> g{};

  Dual() = default;
  Dual(double value) : v(value) {}  // NOLINT: a constant is a number without derivatives
  static Dual tolerance(double value, double sigma, std::size_t slot) {
    Dual made(value);
    made.g[slot] = sigma;
    return made;
  }

  Dual& operator+=(const Dual& other) {
    v += other.v;
    for (std::size_t i = 0; i < slots; ++i) g[i] += other.g[i];
    return *this;
  }
  Dual& operator-=(const Dual& other) {
    v -= other.v;
    for (std::size_t i = 0; i < slots; ++i) g[i] -= other.g[i];
    return *this;
  }
  Dual& operator*=(double factor) {
    v *= factor;
    for (double& one : g) one *= factor;
    return *this;
  }
};

inline Dual operator+(Dual a, const Dual& b) { return a += b; }
inline Dual operator-(Dual a, const Dual& b) { return a -= b; }
inline Dual operator*(Dual a, double factor) { return a *= factor; }
inline Dual operator*(double factor, Dual a) { return a *= factor; }
inline Dual operator*(const Dual& a, const Dual& b) {
  Dual made(a.v * b.v);
  for (std::size_t i = 0; i < slots; ++i) made.g[i] = a.g[i] * b.v + b.g[i] * a.v;
  return made;
}
inline Dual operator/(const Dual& a, const Dual& b) {
  const double quotient = a.v / b.v;
  Dual made(quotient);
  for (std::size_t i = 0; i < slots; ++i) made.g[i] = (a.g[i] - quotient * b.g[i]) / b.v;
  return made;
}
/// f(x) where f has this value and slope.
inline Dual mapped(double value, double slope, const Dual& x) {
  Dual made = x * slope;
  made.v = value;
  return made;
}
inline double covariance(const Dual& a, const Dual& b) {
  double sum = 0;
  for (std::size_t i = 0; i < slots; ++i) sum += a.g[i] * b.g[i];
  return sum;
}

}  // namespace firstdraw::prove
