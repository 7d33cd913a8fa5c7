#include "watch/log_stuck.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::watch {
namespace {

constexpr double false_alarms = 1e-3;  // of one series
// What makes a series other than the two laws below take it for: noise that changes with the hour, a level
// that lies on the edge between two roundings. Of our choice; measured in log_oddities_test.cpp.
constexpr double margin = 1.5;
constexpr std::size_t around = 150;  // samples on either side that tell the noise near a stretch

struct Run {
  std::size_t begin = 0, end = 0;
  std::size_t length() const { return end - begin; }
};

std::vector<Run> constant_runs(std::span<const store::Sample> samples) {
  std::vector<Run> runs;
  for (std::size_t i = 0; i < samples.size();) {
    std::size_t end = i + 1;
    while (end < samples.size() && samples[end].value == samples[i].value) ++end;
    runs.push_back({i, end});
    i = end;
  }
  return runs;
}

/// Length that the longest of so many stretches does not exceed but by a chance of `false_alarms`: the
/// lengths above their 90th percentile, taken as exponential, the few longest not counted.
double longest_by_tail(const std::vector<Run>& runs) {
  std::vector<double> lengths;
  for (const Run& run : runs) lengths.push_back(static_cast<double>(run.length()));
  std::ranges::sort(lengths);
  const auto count = static_cast<double>(lengths.size());
  const auto from = static_cast<std::size_t>(0.9 * count);
  const double base = lengths[from];
  // Up to one in ten of them may be stuck stretches themselves, three at least.
  const std::size_t above = lengths.size() - from;
  const std::size_t trusted = above - std::min(above - 1, std::max<std::size_t>(3, above / 10));
  double sum = 0;
  for (std::size_t i = from; i < from + trusted; ++i) sum += lengths[i] - base;
  // What was not counted would have raised the mean: that of an exponential without its upper tenth is 0.74
  // of the whole one's.
  const double mean = std::max(1.0, sum / static_cast<double>(trusted) / 0.74);
  return base + mean * std::log(0.1 * count / false_alarms);
}

/// The same by how often neighbours are equal around the stretch, were they independent.
double longest_by_neighbours(std::span<const store::Sample> samples, const Run& run) {
  double equal = 1, pairs = 2;
  const auto look = [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin + 1; i < end; ++i) {
      equal += samples[i].value == samples[i - 1].value ? 1 : 0;
      pairs += 1;
    }
  };
  look(run.begin > around ? run.begin - around : 0, run.begin);
  look(run.end, std::min(samples.size(), run.end + around));
  const double share = equal / pairs;
  // Two standard errors towards more of them.
  const double high = std::min(0.9995, share + 2 * std::sqrt(share * (1 - share) / pairs) + 1 / pairs);
  return 1 + std::log(static_cast<double>(samples.size()) / false_alarms) / -std::log(high);
}

/// The longest stretch of each day (of a short log, of each quarter).
class LongestByDay {
 public:
  LongestByDay(std::span<const store::Sample> samples, const std::vector<Run>& runs)
      : samples_(samples),
        begin_ms_(samples.front().at_ms),
        span_ms_(samples.back().at_ms - begin_ms_ + 1),
        parts_(std::max(least_parts, span_ms_ / day_ms)),
        longest_(static_cast<std::size_t>(parts_) + 1, 0) {
    for (const Run& run : runs) {
      double& part = longest_[part_of(run.begin)];
      part = std::max(part, static_cast<double>(run.length()));
    }
  }

  /// Twice what the longest stretches of most other days come to: a level that turns slowly twice a day
  /// stands still as long every day.
  double elsewhere(const Run& run) const {
    std::vector<double> others = longest_;
    for (std::size_t part = part_of(run.begin); part <= part_of(run.end - 1); ++part) others[part] = 0;
    std::erase(others, 0.0);
    if (others.empty()) return static_cast<double>(samples_.size());
    const auto upper = others.begin() + static_cast<std::ptrdiff_t>(others.size() * 3 / 4);
    std::ranges::nth_element(others, upper);
    return 2 * *upper;
  }

 private:
  static constexpr std::int64_t day_ms = 86'400'000, least_parts = 4;
  std::size_t part_of(std::size_t i) const {
    return static_cast<std::size_t>(static_cast<double>(samples_[i].at_ms - begin_ms_) /
                                    static_cast<double>(span_ms_) * static_cast<double>(parts_));
  }

  std::span<const store::Sample> samples_;
  std::int64_t begin_ms_, span_ms_, parts_;
  std::vector<double> longest_;
};

}  // namespace

std::vector<StuckRun> stuck_runs(std::span<const store::Sample> samples) {
  constexpr std::size_t least = 50;
  constexpr std::int64_t day_ms = 86'400'000;
  if (samples.size() < least) return {};
  const std::vector<Run> runs = constant_runs(samples);
  const std::int64_t span_ms = samples.back().at_ms - samples.front().at_ms;
  if (runs.size() == 1 && span_ms >= day_ms) return {{0, samples.size(), 0, true}};
  constexpr std::size_t enough_runs = 20;
  if (runs.size() < enough_runs) return {};
  const double by_tail = longest_by_tail(runs);
  const double step_ms = static_cast<double>(span_ms) / static_cast<double>(samples.size() - 1);
  const LongestByDay by_day(samples, runs);
  std::vector<StuckRun> stuck;
  for (const Run& run : runs) {
    const auto length = static_cast<double>(run.length());
    if (length <= margin * by_tail) continue;
    double longest = margin * std::max(by_tail, longest_by_neighbours(samples, run));
    if (length <= longest) continue;
    longest = std::max(longest, margin * by_day.elsewhere(run));
    if (length > longest) stuck.push_back({run.begin, run.end, std::llround(longest * step_ms), false});
  }
  return stuck;
}

}  // namespace firstdraw::watch
