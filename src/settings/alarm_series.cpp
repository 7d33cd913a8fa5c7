#include "settings/alarm_series.hpp"

#include <algorithm>
#include <cmath>
#include <deque>

namespace firstdraw::settings {
namespace {

constexpr float never = -std::numeric_limits<float>::infinity();

using Pieces = std::vector<std::vector<float>>;

Pieces all_sustained(const Signal& signal, double delay_s) {
  const std::size_t samples = samples_of(delay_s, signal.step_s);
  Pieces pieces;
  for (const auto& piece : signal.pieces) pieces.push_back(sustained(piece, samples));
  return pieces;
}

/// Times the sustained signal comes to be above.
int rises(const Pieces& pieces, double threshold) {
  int count = 0;
  for (const auto& piece : pieces) {
    bool above = false;
    for (const float value : piece) {
      const bool now = static_cast<double>(value) > threshold;
      count += now && !above ? 1 : 0;
      above = now;
    }
  }
  return count;
}

double highest(const Pieces& pieces) {
  float most = never;
  for (const auto& piece : pieces)
    for (const float value : piece) most = std::max(most, value);
  return static_cast<double>(most);
}

}  // namespace

std::size_t samples_of(double delay_s, double step_s) {
  return static_cast<std::size_t>(std::ceil(delay_s / step_s - 1e-9)) + 1;
}

std::vector<float> sustained(std::span<const float> signal, std::size_t samples) {
  std::vector<float> least(signal.size(), never);
  std::deque<std::size_t> rising;  // places of values, each the least of all that follow it
  for (std::size_t i = 0; i < signal.size(); ++i) {
    while (!rising.empty() && signal[rising.back()] >= signal[i]) rising.pop_back();
    rising.push_back(i);
    if (rising.front() + samples <= i) rising.pop_front();
    if (i + 1 >= samples) least[i] = signal[rising.front()];
  }
  return least;
}

int events(const Signal& signal, const Trip& trip) {
  return rises(all_sustained(signal, trip.delay_s), trip.threshold);
}

double first_event_s(std::span<const float> signal, double step_s, const Trip& trip) {
  const std::size_t samples = samples_of(trip.delay_s, step_s);
  std::size_t above = 0;
  for (std::size_t i = 0; i < signal.size(); ++i) {
    above = static_cast<double>(signal[i]) > trip.threshold ? above + 1 : 0;
    if (above >= samples) return static_cast<double>(i) * step_s;
  }
  return std::numeric_limits<double>::infinity();
}

Closest closest(const Signal& signal, double delay_s, const Grid& grid, int most_events) {
  const Pieces pieces = all_sustained(signal, delay_s);
  const double top = highest(pieces);
  if (!std::isfinite(top)) return {{std::numeric_limits<double>::quiet_NaN(), delay_s}, 0};
  double step = std::ceil((top - grid.origin) / grid.step - 1e-9);
  const auto at = [&grid](double i) { return grid.origin + i * grid.step; };
  const double lowest = step - 1000;  // a signal that never comes back has no closest limit
  while (step > lowest && rises(pieces, at(step - 1)) <= most_events) --step;
  ++step;
  return {{at(step), delay_s}, rises(pieces, at(step))};
}

}  // namespace firstdraw::settings
