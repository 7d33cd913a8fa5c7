#include "watch/segments.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

namespace firstdraw::watch {
namespace {

/// Squared distances from the mean over [from, to), from running sums about the overall mean.
class Costs {
 public:
  explicit Costs(std::span<const double> figures) : sum_(figures.size() + 1), square_(figures.size() + 1) {
    double mean = 0;
    for (const double figure : figures) mean += figure / static_cast<double>(figures.size());
    for (std::size_t i = 0; i < figures.size(); ++i) {
      const double off = figures[i] - mean;
      sum_[i + 1] = sum_[i] + off;
      square_[i + 1] = square_[i] + off * off;
    }
  }
  double operator()(std::size_t from, std::size_t to) const {
    const double sum = sum_[to] - sum_[from];
    return std::max(0.0, square_[to] - square_[from] - sum * sum / static_cast<double>(to - from));
  }

 private:
  std::vector<double> sum_, square_;
};

/// Where one cut of [from, to) gains most.
struct Cut {
  std::size_t at = 0;
  double gain = 0;
};
Cut best_cut(const Costs& cost, std::size_t from, std::size_t to, std::size_t least) {
  Cut best;
  if (to < from + 2 * least) return best;
  const double whole = cost(from, to);
  for (std::size_t at = from + least; at + least <= to; ++at) {
    const double gain = whole - cost(from, at) - cost(at, to);
    if (gain > best.gain) best = {at, gain};
  }
  return best;
}

/// What is left of the figures after the two cuts that gain most, one after the other: near enough to what a
/// row with a change or two is without them.
std::vector<double> without_levels(std::span<const double> figures) {
  const Costs cost(figures);
  const std::size_t least = std::max<std::size_t>(3, figures.size() / 10);
  std::vector<std::size_t> ends{0, figures.size()};
  for (int cuts = 0; cuts < 2; ++cuts) {
    Cut best;
    for (std::size_t e = 1; e < ends.size(); ++e) {
      const Cut cut = best_cut(cost, ends[e - 1], ends[e], least);
      if (cut.gain > best.gain) best = cut;
    }
    if (best.at > 0) ends.insert(std::ranges::upper_bound(ends, best.at), best.at);
  }
  std::vector<double> rest(figures.begin(), figures.end());
  for (std::size_t e = 1; e < ends.size(); ++e) {
    double mean = 0;
    for (std::size_t i = ends[e - 1]; i < ends[e]; ++i)
      mean += figures[i] / static_cast<double>(ends[e] - ends[e - 1]);
    for (std::size_t i = ends[e - 1]; i < ends[e]; ++i) rest[i] -= mean;
  }
  return rest;
}

constexpr double most_correlation = 0.8;

/// A row of `count` figures without a change.
void fill_row(std::vector<double>& row, double correlation, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  const double fresh = std::sqrt(1 - correlation * correlation);
  double now = normal(random);
  for (double& figure : row) {
    figure = now;
    now = correlation * now + fresh * normal(random);
  }
}

/// The correlation behind a measured one, which comes out too small where levels were taken off a short row:
/// the one whose simulated rows measure like that, and how far the measured ones spread.
struct TrueCorrelation {
  double usual = 0, sd = 0;
};
TrueCorrelation behind_measured(double measured, std::size_t count, std::mt19937_64& random) {
  constexpr int rows = 100;
  std::vector<double> row(count);
  double last_mean = 0, last_true = 0;
  TrueCorrelation found;
  for (double tried = 0; tried < 0.91; tried += 0.1) {
    double sum = 0, square = 0;
    for (int r = 0; r < rows; ++r) {
      fill_row(row, tried, random);
      const double got = memory_of(row).correlation;
      sum += got / rows;
      square += got * got / rows;
    }
    found.sd = std::sqrt(std::max(0.0, square - sum * sum));
    found.usual = tried;
    if (sum >= measured) {
      if (tried > 0 && sum > last_mean)
        found.usual = last_true + 0.1 * (measured - last_mean) / (sum - last_mean);
      break;
    }
    last_mean = sum;
    last_true = tried;
  }
  found.sd = std::max(found.sd, 1.2 / std::sqrt(static_cast<double>(count)));
  return found;
}

}  // namespace

std::vector<std::size_t> pelt(std::span<const double> figures, double penalty, std::size_t least) {
  const std::size_t count = figures.size();
  least = std::max<std::size_t>(1, least);
  if (count < 2 * least) return {};
  const Costs cost(figures);
  std::vector<double> best(count + 1, std::numeric_limits<double>::infinity());
  std::vector<std::size_t> last(count + 1, 0);
  best[0] = -penalty;
  std::vector<std::size_t> candidates{0};
  for (std::size_t to = least; to <= count; ++to) {
    if (to >= 2 * least) candidates.push_back(to - least);
    for (const std::size_t from : candidates) {
      const double total = best[from] + cost(from, to) + penalty;
      if (total < best[to]) {
        best[to] = total;
        last[to] = from;
      }
    }
    // A beginning that is worse than the end reached by more than a change costs stays so; with a least
    // length only once that end may itself be a beginning, which is what is looked at here.
    if (to < 2 * least) continue;
    const std::size_t end = to - least + 1;
    std::erase_if(candidates, [&](std::size_t from) {
      return from + least <= end && std::isfinite(best[end]) && best[from] + cost(from, end) > best[end];
    });
  }
  std::vector<std::size_t> begins;
  for (std::size_t at = last[count]; at > 0; at = last[at]) begins.push_back(at);
  std::ranges::reverse(begins);
  return begins;
}

Memory memory_of(std::span<const double> figures) {
  Memory memory{0, 0};
  if (figures.size() < 6) return memory;
  const std::vector<double> rest = without_levels(figures);
  double power = 0, product = 0, fresh = 0;
  for (std::size_t i = 0; i < rest.size(); ++i) {
    power += rest[i] * rest[i];
    if (i > 0) product += rest[i] * rest[i - 1];
  }
  if (!(power > 0)) return memory;
  memory.correlation = std::clamp(product / power, 0.0, most_correlation);
  for (std::size_t i = 1; i < rest.size(); ++i)
    fresh += std::pow(rest[i] - memory.correlation * rest[i - 1], 2);
  memory.sd = std::sqrt(fresh / static_cast<double>(rest.size() - 1));
  return memory;
}

std::vector<double> whitened(std::span<const double> figures, const Memory& memory) {
  std::vector<double> white(figures.size());
  if (figures.empty()) return white;
  const double sd = std::max(memory.sd, 1e-12), keep = memory.correlation;
  std::vector<double> sorted(
      figures.begin(),
      figures.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(7, figures.size())));
  std::ranges::sort(sorted);
  const double level = sorted[sorted.size() / 2];
  white[0] = ((figures[0] - level) * std::sqrt(1 - keep * keep) + level * (1 - keep)) / sd;
  for (std::size_t i = 1; i < figures.size(); ++i) white[i] = (figures[i] - keep * figures[i - 1]) / sd;
  return white;
}

double best_gain(std::span<const double> figures, std::size_t least) {
  return best_cut(Costs(figures), 0, figures.size(), least).gain;
}

std::vector<double> gains_without_change(std::size_t count, double correlation, std::size_t least,
                                         int draws) {
  std::mt19937_64 random(20240229);
  std::normal_distribution<double> normal;
  const TrueCorrelation spread = behind_measured(correlation, count, random);
  std::vector<double> gains, row(count);
  for (int draw = 0; draw < draws; ++draw) {
    // A width to the safe side: a correlation taken too small is what makes false alarms.
    const double behind = spread.usual + spread.sd * (1 + normal(random));
    fill_row(row, std::clamp(behind, 0.0, 0.95), random);
    gains.push_back(best_gain(whitened(row, memory_of(row)), least));
  }
  std::ranges::sort(gains, std::ranges::greater{});
  return gains;
}

double penalty_for(std::span<const double> gains, double false_alarm_frac) {
  if (gains.empty()) return std::numeric_limits<double>::infinity();
  const auto at = static_cast<std::size_t>(false_alarm_frac * static_cast<double>(gains.size()));
  return gains[std::min(at, gains.size() - 1)];
}

Between change_between(std::span<const double> white, std::size_t from, std::size_t change, std::size_t to,
                       double share) {
  const Costs cost(white);
  std::vector<std::pair<double, std::size_t>> weights;
  const double here = cost(from, change) + cost(change, to);
  double total = 0;
  for (std::size_t at = from + 1; at < to; ++at) {
    const double weight = std::exp(-0.5 * (cost(from, at) + cost(at, to) - here));
    weights.emplace_back(weight, at);
    total += weight;
  }
  std::ranges::sort(weights, std::ranges::greater{});
  Between between{change, change};
  double sum = 0;
  for (const auto& [weight, at] : weights) {
    if (sum >= share * total) break;
    sum += weight;
    between.first = std::min(between.first, at);
    between.last = std::max(between.last, at);
  }
  return between;
}

}  // namespace firstdraw::watch
