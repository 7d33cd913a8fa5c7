#include "draw/demand.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace firstdraw::draw {

void sort_draws(std::vector<Draw>& draws) {
  std::ranges::sort(draws, {}, [](const Draw& draw) {
    return std::tuple(draw.open_s, draw.tap, draw.duration_s, draw.flow_m3_per_s);
  });
}

double hot_share(double mixed_c, double hot_c, double cold_c) {
  if (std::isnan(mixed_c) || mixed_c >= hot_c) return 1;
  if (mixed_c <= cold_c) return 0;
  return (mixed_c - cold_c) / (hot_c - cold_c);
}

namespace {

struct Change {
  double time_s, flow_m3_per_s;  // negative when a tap closes
};

/// In time; at one time taps close before others open.
std::vector<Change> changes(std::span<const Draw> draws) {
  std::vector<Change> all;
  for (const Draw& draw : draws) {
    if (draw.duration_s <= 0 || draw.flow_m3_per_s <= 0) continue;
    all.push_back({draw.open_s, draw.flow_m3_per_s});
    all.push_back({draw.open_s + draw.duration_s, -draw.flow_m3_per_s});
  }
  std::ranges::sort(all, {}, [](const Change& c) { return std::pair(c.time_s, c.flow_m3_per_s); });
  return all;
}

struct Level {
  double flow_m3_per_s, lasts_s;
};

double quantile(std::vector<Level> levels, double frac) {
  std::ranges::sort(levels, {}, &Level::flow_m3_per_s);
  double all_s = 0, until_s = 0;
  for (const Level& level : levels) all_s += level.lasts_s;
  for (const Level& level : levels) {
    until_s += level.lasts_s;
    if (until_s >= frac * all_s) return level.flow_m3_per_s;
  }
  return levels.empty() ? 0 : levels.back().flow_m3_per_s;
}

}  // namespace

PeakFlow peak_flow(std::span<const Draw> draws) {
  PeakFlow peak;
  std::vector<Level> levels;
  double flow_m3_per_s = 0, since_s = 0;
  int open = 0;
  for (const Change& change : changes(draws)) {
    if (open > 0 && change.time_s > since_s) levels.push_back({flow_m3_per_s, change.time_s - since_s});
    open += change.flow_m3_per_s < 0 ? -1 : 1;
    flow_m3_per_s = open == 0 ? 0 : flow_m3_per_s + change.flow_m3_per_s;  // no rounding left over
    since_s = change.time_s;
    if (flow_m3_per_s > peak.largest_m3_per_s) {
      peak.largest_m3_per_s = flow_m3_per_s;
      peak.at_s = since_s;
    }
  }
  peak.p99_m3_per_s = quantile(std::move(levels), 0.99);
  return peak;
}

}  // namespace firstdraw::draw
