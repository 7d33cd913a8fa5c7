// What a measurement not yet made is expected to tell: mutual information of its result and a label (the
// cause, or the place). The result under each label is a mixture of normal distributions, or of yes and no.
// docs/diagnosis.md, section 5.
#pragma once

#include <span>
#include <vector>

namespace firstdraw::prove {

/// One state's forecast of the result, instrument's error included.
struct Forecast {
  std::size_t label = 0;
  double weight = 0;
  double mean = 0, variance = 0;
};
/// In bits. The result is sorted into bins no wider than half the smallest error that counts, at most
/// `most_bins`: never more than there is.
double information_bit(std::span<const Forecast> forecasts, std::size_t labels, std::size_t most_bins = 240);

/// Of a result that is one of few: `prob[i]` of outcome i.
struct ForecastOfFew {
  std::size_t label = 0;
  double weight = 0;
  std::vector<double> prob;
};
double information_bit(std::span<const ForecastOfFew> forecasts, std::size_t labels);

}  // namespace firstdraw::prove
