#include "settings/luck.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace firstdraw::settings {

double normal_quantile(double share_frac) {
  if (!(share_frac > 0 && share_frac < 1)) throw std::logic_error("normal_quantile: a share between 0 and 1");
  double low = -40, high = 40;
  while (high - low > 1e-13 * std::fmax(1, std::abs(low))) {
    const double middle = 0.5 * (low + high);
    (0.5 * std::erfc(-middle / std::numbers::sqrt2) < share_frac ? low : high) = middle;
    if (0.5 * (low + high) == middle) break;
  }
  return 0.5 * (low + high);
}

}  // namespace firstdraw::settings
