#include "store/value_law.hpp"

#include <array>
#include <bit>
#include <cmath>

namespace firstdraw::store {

namespace {

struct LawUnit {
  double numerator, denominator, offset;
};
constexpr std::array<LawUnit, 6> kUnits{{{1, 1, 0},     // SI
                                         {5, 9, 32},    // °F
                                         {1, 1000, 0},  // mA, mV, mW
                                         {1000, 1, 0},  // kW, kV
                                         {1, 100, 0},   // %
                                         {5, 9, 0}}};   // °F of difference
constexpr std::array<double, most_decimals + 1> kPower{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
constexpr std::array<double, most_decimals + 1> kStep{1, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6};
constexpr double kExactWhole = 9007199254740992;  // 2^53

bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

/// The only whole number that can give `value`; nullopt where it is out of reach.
std::optional<std::int64_t> nearest_whole(const ValueLaw& law, double value) {
  const LawUnit& unit = kUnits.at(static_cast<std::size_t>(law.unit));
  const double x = value * unit.denominator / unit.numerator + unit.offset;
  const double k = std::nearbyint(x * kPower.at(static_cast<std::size_t>(law.decimals)));
  if (!(std::abs(k) < kExactWhole)) return std::nullopt;
  return static_cast<std::int64_t>(k);
}

bool fits(const ValueLaw& law, std::span<const Sample> samples, std::vector<std::int64_t>& k) {
  k.clear();
  for (const Sample& sample : samples) {
    const auto whole = nearest_whole(law, sample.value);
    if (!whole || !same_bits(law.value_of(*whole), sample.value)) return false;
    k.push_back(*whole);
  }
  return true;
}

}  // namespace

int law_units() { return static_cast<int>(kUnits.size()); }

double ValueLaw::value_of(std::int64_t k) const {
  const LawUnit& law = kUnits.at(static_cast<std::size_t>(unit));
  const auto at = static_cast<std::size_t>(decimals);
  const double x =
      times_step ? static_cast<double>(k) * kStep.at(at) : static_cast<double>(k) / kPower.at(at);
  return (x - law.offset) * law.numerator / law.denominator;
}

std::optional<WholeNumbers> whole_numbers(std::span<const Sample> samples) {
  WholeNumbers found;
  found.k.reserve(samples.size());
  for (int unit = 0; unit < law_units(); ++unit) {
    for (int decimals = 0; decimals <= most_decimals; ++decimals) {
      for (const bool times_step : {false, true}) {
        found.law = {unit, decimals, times_step};
        if (fits(found.law, samples, found.k)) return found;
      }
    }
  }
  return std::nullopt;
}

}  // namespace firstdraw::store
