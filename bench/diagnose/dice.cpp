#include "dice.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::bench {

double even(Dice& dice, double low, double high) {
  return low + (high - low) * static_cast<double>(dice() >> 11) * 0x1p-53;
}

double heavy(Dice& dice, double sigma) {
  std::student_t_distribution<double> draw(3);
  return sigma * std::clamp(draw(dice) / std::sqrt(3.0), -6.0, 6.0);
}

}  // namespace firstdraw::bench
