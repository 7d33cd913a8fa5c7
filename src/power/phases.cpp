#include "power/phases.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace firstdraw::power {

std::vector<std::string> phase_slots(const job::Panel& panel) {
  if (!panel.line_to_line) {
    const std::vector<std::string> lines{"L1", "L2", "L3"};
    return {lines.begin(), lines.begin() + std::clamp(panel.phases, 1, 3)};
  }
  if (panel.phases >= 3) return {"L1-L2", "L2-L3", "L3-L1"};
  return {"L1-L2"};
}

std::vector<int> balance(std::span<const double> settled_a, std::size_t slots) {
  std::vector<std::size_t> heaviest_first(settled_a.size());
  std::iota(heaviest_first.begin(), heaviest_first.end(), std::size_t{0});
  std::stable_sort(heaviest_first.begin(), heaviest_first.end(),
                   [&](std::size_t a, std::size_t b) { return settled_a[a] > settled_a[b]; });
  std::vector<double> carried_a(slots, 0.0);
  std::vector<int> slot_of(settled_a.size(), 0);
  for (const std::size_t circuit : heaviest_first) {
    const auto lightest = std::min_element(carried_a.begin(), carried_a.end());
    *lightest += settled_a[circuit];
    slot_of[circuit] = static_cast<int>(lightest - carried_a.begin());
  }
  return slot_of;
}

std::vector<double> line_currents_a(const job::Panel& panel, std::span<const double> slot_a) {
  if (!panel.line_to_line) return {slot_a.begin(), slot_a.end()};
  if (slot_a.size() == 1) return {slot_a[0], slot_a[0]};
  const auto meet = [](double a, double b) { return std::sqrt(a * a + b * b + a * b); };
  return {meet(slot_a[0], slot_a[2]), meet(slot_a[0], slot_a[1]), meet(slot_a[1], slot_a[2])};
}

}  // namespace firstdraw::power
