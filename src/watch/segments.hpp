// Change points of a row of figures: exact penalised segmentation, whitening, and the penalty that keeps
// false alarms as rare as asked. docs/logs-estimates.md.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace firstdraw::watch {

/// Beginnings of the second and later segments, rising, that minimise the sum over segments of squared
/// distances from their mean plus `penalty` a change; segments of at least `least` figures. Killick,
/// Fearnhead and Eckley, "Optimal detection of changepoints with a linear computational cost", JASA 107
/// (2012): PELT (memory).
std::vector<std::size_t> pelt(std::span<const double> figures, double penalty, std::size_t least = 1);

/// First-order autocorrelation, 0 to 0.8, and the standard deviation of what is new in each figure, after the
/// two largest changes of level were taken off.
struct Memory {
  double correlation = 0, sd = 1;
};
Memory memory_of(std::span<const double> figures);
/// Each figure less what the one before lets expect, over the standard deviation of what is new: a change of
/// level stays one. The first is scaled alike.
std::vector<double> whitened(std::span<const double> figures, const Memory& memory);

/// What the best single change gains in rows without one, largest first: `draws` simulated rows (normal),
/// measured and whitened as the real ones, with correlations as may stand behind the measured one.
/// Deterministic.
std::vector<double> gains_without_change(std::size_t count, double correlation, std::size_t least, int draws);
/// Gain that the share `false_alarm_frac` of them passes.
double penalty_for(std::span<const double> gains, double false_alarm_frac);
/// Best gain of one change.
double best_gain(std::span<const double> figures, std::size_t least);

/// Between which beginnings a change lies with probability `share`, when its neighbours stand: [first, last].
struct Between {
  std::size_t first = 0, last = 0;
};
Between change_between(std::span<const double> whitened, std::size_t from, std::size_t change, std::size_t to,
                       double share);

}  // namespace firstdraw::watch
