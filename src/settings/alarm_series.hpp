// Alarms on recorded readings: how often a limit with a delay would have tripped, and the closest limit that
// trips seldom enough. All on one kind of signal: what grows towards the alarm.
#pragma once

#include <limits>
#include <span>
#include <vector>

namespace firstdraw::settings {

/// An alarm is raised when the signal was above `threshold` at all samples of `delay_s` on end. Between
/// samples nothing is known.
struct Trip {
  double threshold = 0, delay_s = 0;
};

/// Signals of even steps, in pieces that do not follow each other (one to a simulated week).
struct Signal {
  double step_s = 60;
  std::vector<std::vector<float>> pieces;
};

/// Samples that must be above on end: both ends of the delay.
std::size_t samples_of(double delay_s, double step_s);
/// Least of each sample and the ones of the delay before it; -infinity before the first whole delay. An alarm
/// is on exactly where this is above the threshold.
std::vector<float> sustained(std::span<const float> signal, std::size_t samples);
/// Alarms raised: the signal must fall back before the next one counts.
int events(const Signal& signal, const Trip& trip);
/// Time from the first sample until the alarm is raised; infinity: never.
double first_event_s(std::span<const float> signal, double step_s, const Trip& trip);

/// Thresholds that can be set: origin + i * step.
struct Grid {
  double origin = 0, step = 1;
};
struct Closest {
  Trip trip;
  int events = 0;
};
/// The lowest threshold of the grid at and above which no more than `most_events` are raised, one step
/// further out for luck: the signals are a sample, and the limit is set on them.
Closest closest(const Signal& signal, double delay_s, const Grid& grid, int most_events);

}  // namespace firstdraw::settings
