#include "power/panel_places.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

namespace firstdraw::power {

namespace {

/// "L2-L3" → {1, 2}; "L1" → {0}.
std::set<int> phase_indices(const std::string& phase) {
  std::set<int> indices;
  for (const char sign : phase)
    if (sign >= '1' && sign <= '3') indices.insert(sign - '1');
  if (indices.empty() || indices.size() > 2)
    throw std::logic_error("a place on no phase of a panel: " + phase);
  return indices;
}

/// Positions down one side of the panel from `first`, one for each pole.
std::vector<int> one_below_the_other(int first, std::size_t poles) {
  std::vector<int> places;
  for (std::size_t pole = 0; pole < poles; ++pole) places.push_back(first + 2 * static_cast<int>(pole));
  return places;
}

}  // namespace

int phase_of_place(const job::Panel& panel, int place) {
  const int most = std::clamp(panel.phases, 1, 3);
  const int buses = panel.line_to_line ? std::max(2, most) : most;
  return (place - 1) / 2 % buses;
}

std::vector<std::vector<int>> panel_places(const job::Panel& panel, std::span<const std::string> phases) {
  std::vector<std::vector<int>> all;
  std::set<int> taken;
  std::map<std::string, int> next;  // where the last circuit of these phases went: nothing before it is free
  for (const std::string& phase : phases) {
    const std::set<int> wanted = phase_indices(phase);
    for (int first = std::max(1, next[phase]);; ++first) {
      const std::vector<int> places = one_below_the_other(first, wanted.size());
      std::set<int> found;
      for (const int place : places) found.insert(phase_of_place(panel, place));
      const bool free = std::ranges::none_of(places, [&](int place) { return taken.contains(place); });
      if (!free || found != wanted) continue;
      taken.insert(places.begin(), places.end());
      next[phase] = first + 1;
      all.push_back(places);
      break;
    }
  }
  return all;
}

}  // namespace firstdraw::power
