#include "prove/posterior.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "forecast/ensemble.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

constexpr double blunder_prob = 0.02;  // of a reading: a slip of place, range or pen; our choice
constexpr double mismarked_prob = 0.03;
constexpr double shown_though_lost_prob = 0.003;  // a controller without sensor shows no likely temperature
constexpr std::size_t value_bins = 16, flow_bins = 4;
constexpr double leading_probability = 0.02;

// ---- likelihood ----------------------------------------------------------------------------------------

double log_of_yes(const Observation& seen, const Outcome& outcome) {
  return std::log(seen.value > 0.5 ? outcome.yes_prob : 1 - outcome.yes_prob);
}

double log_of_which(const Observation& seen, const Outcome& outcome) {
  const double others = std::max(1, outcome.choices - 1);
  return std::log(seen.sheet == outcome.sheet ? 1 - mismarked_prob : mismarked_prob / others);
}

double variance_of(const Outcome& outcome) { return covariance(outcome, outcome) + outcome.own_var; }

/// A sensor that gives no reading, and one that does although none was to be had.
bool is_lost(const Observation& seen, const Outcome& outcome, double& log_sum) {
  if (!outcome.lost && !seen.absurd) return false;
  if (outcome.lost && seen.absurd)
    log_sum += std::log(1 - mismarked_prob);
  else if (seen.absurd)
    log_sum += std::log(0.01);
  else
    log_sum += std::log(shown_though_lost_prob / (seen.high - seen.low));
  return true;
}

bool beyond_range(const Observation& seen, const Outcome& outcome, double& log_sum) {
  if (!seen.at_least) return false;
  const double sigma = std::sqrt(variance_of(outcome) + seen.error_var);
  const double above = 1 - normal_below((seen.value - outcome.mean.v) / sigma);
  log_sum += std::log((1 - blunder_prob) * above + blunder_prob * 0.5);
  return true;
}

struct Split {
  std::vector<std::size_t> numbers;
  double log_sum = 0;  // of all that is no number
};

Split split(std::span<const Observation> all, std::span<const Outcome> outcomes) {
  Split made;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Outcome& one = outcomes[i];
    if (one.kind == Outcome::Kind::yes_no) made.log_sum += log_of_yes(all[i], one);
    if (one.kind == Outcome::Kind::which) made.log_sum += log_of_which(all[i], one);
    if (one.kind != Outcome::Kind::number) continue;
    if (is_lost(all[i], one, made.log_sum) || beyond_range(all[i], one, made.log_sum)) continue;
    made.numbers.push_back(i);
  }
  return made;
}

Gaussian gaussian_of(std::span<const Observation> all, std::span<const Outcome> outcomes,
                     std::span<const std::size_t> taken) {
  const std::size_t n = taken.size();
  std::vector<double> residual(n), spread(n * n);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t a = taken[i];
    residual[i] = all[a].value - outcomes[a].mean.v;
    for (std::size_t k = 0; k <= i; ++k)
      spread[i * n + k] = spread[k * n + i] = covariance(outcomes[a], outcomes[taken[k]]);
    spread[i * n + i] += outcomes[a].own_var + all[a].error_var + 1e-24;
  }
  return {std::move(residual), std::move(spread)};
}

bool is_looked_at(What what) {
  using enum What;
  return what == contactor || what == breaker || what == insulation_seen || what == insulation_walked ||
         what == continuity || what == cable_marking || what == sensor_position;
}

/// Of something that the list does not hold: each reading could be anything it could be at all.
double log_of_none(std::span<const Observation> all) {
  double sum = 0;
  for (const Observation& seen : all) {
    const bool two_ways = seen.absurd || seen.at_least || is_looked_at(seen.of.what);
    sum += two_ways ? std::log(0.5) : -std::log(seen.high - seen.low);
  }
  return sum;
}

// ---- samples -------------------------------------------------------------------------------------------

using Point = std::array<double, 5>;  // place, value, flow, first, second

double radical_inverse(std::uint64_t index, std::uint64_t base) {
  double value = 0, share = 1;
  for (; index > 0; index /= base) {
    share /= static_cast<double>(base);
    value += share * static_cast<double>(index % base);
  }
  return value;
}

std::uint64_t scrambled(std::uint64_t state) {  // splitmix64, memory
  state += 0x9e3779b97f4a7c15ULL;
  state = (state ^ (state >> 30)) * 0xbf58476d1ce4e5b9ULL;
  state = (state ^ (state >> 27)) * 0x94d049bb133111ebULL;
  return state ^ (state >> 31);
}

/// Halton's points, each coordinate turned by a shift of the seed.
Point halton(std::uint64_t index, std::uint64_t seed) {
  constexpr std::array<std::uint64_t, 5> bases{2, 3, 5, 7, 11};
  Point point{};
  for (std::size_t d = 0; d < point.size(); ++d) {
    const double shift = static_cast<double>(scrambled(seed * 8 + d) >> 11) * 0x1p-53;
    point[d] = radical_inverse(index + 1, bases[d]) + shift;
    point[d] -= std::floor(point[d]);
  }
  return point;
}

class Sampler {
 public:
  Sampler(const Forward& forward, std::span<const Observation> all, const Hypothesis& hypothesis,
          const SamplingOptions& options)
      : forward_(forward),
        all_(all),
        hypothesis_(hypothesis),
        options_(options),
        wanted_(circuits_of(forward.scope(), all)) {
    double sum = 0;
    for (const Candidate& place : hypothesis.places) ends_.push_back(sum += place.weight);
  }

  /// The first half as the prior has them, the second where the first found the likelihood.
  void begin() {
    const int first = std::max(1, options_.samples / 2);
    rounds_.push_back({{}, first});
    for (int i = 0; i < first; ++i) add(halton(static_cast<std::uint64_t>(i), seed()));
    if (options_.samples > first) go_on(options_.samples - first);
  }

  /// So many more where all before found the likelihood.
  void go_on(int count) {
    rounds_.push_back({masses(), count});
    const Round& round = rounds_.back();
    std::vector<double> ends;
    double sum = 0;
    for (const double one : round.mass) ends.push_back(sum += one);
    const std::uint64_t turned = seed() + 7 * (rounds_.size() - 1);
    for (int i = 0; i < count; ++i)
      add(within(ends, (i + 0.5) / count, halton(static_cast<std::uint64_t>(i), turned)));
  }

  /// All samples as one: each weighs the prior's density over the mixture's that they were drawn from.
  CausePosterior weighed() {
    const double most = std::ranges::max(log_likelihood_);
    double sum = 0, squares = 0;
    for (std::size_t i = 0; i < particles_.size(); ++i) {
      particles_[i].weight = std::exp(log_likelihood_[i] - most) * prior_of(bins_[i]) / drawn(bins_[i]);
      sum += particles_[i].weight;
      squares += particles_[i].weight * particles_[i].weight;
    }
    CausePosterior made;
    made.log_evidence = most + std::log(sum / static_cast<double>(particles_.size()));
    made.effective = sum * sum / squares;
    made.particles = particles_;
    for (Particle& particle : made.particles) particle.weight /= sum;
    return made;
  }

 private:
  std::size_t place_of(double share) const {
    const auto found = std::ranges::upper_bound(ends_, share);
    return std::min(static_cast<std::size_t>(found - ends_.begin()), ends_.size() - 1);
  }
  std::size_t bin_of(const Point& point) const {
    const auto value = std::min(static_cast<std::size_t>(point[1] * value_bins), value_bins - 1);
    const auto flow = std::min(static_cast<std::size_t>(point[2] * flow_bins), flow_bins - 1);
    return (place_of(point[0]) * value_bins + value) * flow_bins + flow;
  }
  double prior_of(std::size_t bin) const {
    return hypothesis_.places[bin / (value_bins * flow_bins)].weight / (value_bins * flow_bins);
  }

  void add(const Point& point) {
    const std::size_t place = place_of(point[0]);
    Fault fault = hypothesis_.places[place].fault;
    fault.value = hypothesis_.value(forward_.scope(), hypothesis_.places[place], point[1]);
    const Luck luck{point[2], point[3], point[4]};
    bins_.push_back(bin_of(point));
    particles_.push_back({place, fault, luck, 0});
    log_likelihood_.push_back(likelihood(fault, luck));
  }

  /// States at each of the times since switching on that readings were taken at.
  double likelihood(const Fault& fault, const Luck& luck) const {
    std::vector<Outcome> outcomes;
    std::optional<Now> now;
    std::optional<double> minutes;
    for (const Observation& seen : all_) {
      if (!now || seen.of.minutes != minutes) now = forward_.now(fault, luck, seen.of.minutes, wanted_);
      minutes = seen.of.minutes;
      outcomes.push_back(outcome(forward_, fault, luck, *now, seen.of));
    }
    return log_likelihood(all_, outcomes);
  }

  /// Share of the likelihood found in each bin and, since few samples find it, beside it; some for all.
  std::vector<double> masses() const {
    std::vector<double> mass(hypothesis_.places.size() * value_bins * flow_bins, 0);
    const double most = std::ranges::max(log_likelihood_);
    double sum = 0;
    for (std::size_t i = 0; i < bins_.size(); ++i) {  // flatter than it is: what was missed
      const double one = std::exp(0.7 * (log_likelihood_[i] - most)) * prior_of(bins_[i]) / drawn(bins_[i]);
      mass[bins_[i]] += one;
      sum += one;
    }
    mass = spread(spread(mass, flow_bins, value_bins), 1, flow_bins);
    for (std::size_t b = 0; b < mass.size(); ++b) mass[b] = 0.8 * mass[b] / sum + 0.2 * prior_of(b);
    return mass;
  }

  /// Half of each bin's mass goes to its neighbours along one coordinate: `step` bins apart, `count` of them.
  static std::vector<double> spread(const std::vector<double>& mass, std::size_t step, std::size_t count) {
    std::vector<double> made(mass.size(), 0);
    for (std::size_t b = 0; b < mass.size(); ++b) {
      const std::size_t along = b / step % count;
      made[b] += 0.5 * mass[b];
      made[along == 0 ? b : b - step] += 0.25 * mass[b];
      made[along + 1 == count ? b : b + step] += 0.25 * mass[b];
    }
    return made;
  }

  /// Density of a bin in the mixture of all rounds.
  double drawn(std::size_t bin) const {
    double sum = 0, all = 0;
    for (const Round& round : rounds_) {
      sum += round.count * (round.mass.empty() ? prior_of(bin) : round.mass[bin]);
      all += round.count;
    }
    return sum / all;
  }

  /// A point of the bin in which `share` of the mass ends.
  Point within(const std::vector<double>& ends, double share, Point point) const {
    const auto found = std::ranges::upper_bound(ends, share * ends.back());
    const auto bin = std::min(static_cast<std::size_t>(found - ends.begin()), ends.size() - 1);
    const std::size_t place = bin / (value_bins * flow_bins);
    const double begin = ends_[place] - hypothesis_.places[place].weight;
    point[0] = begin + point[0] * hypothesis_.places[place].weight;
    point[1] = (static_cast<double>(bin / flow_bins % value_bins) + point[1]) / value_bins;
    point[2] = (static_cast<double>(bin % flow_bins) + point[2]) / flow_bins;
    point[0] = std::clamp(point[0], begin, std::nextafter(ends_[place], begin));
    return point;
  }

  std::uint64_t seed() const { return options_.seed * 64 + static_cast<std::uint64_t>(hypothesis_.cause); }

  struct Round {
    std::vector<double> mass;  // by bin; empty: the prior's
    int count = 0;
  };
  const Forward& forward_;
  std::span<const Observation> all_;
  const Hypothesis& hypothesis_;
  const SamplingOptions& options_;
  std::vector<char> wanted_;
  std::vector<double> ends_, log_likelihood_;
  std::vector<std::size_t> bins_;
  std::vector<Particle> particles_;
  std::vector<Round> rounds_;
};

void to_probabilities(Posterior& made, double log_none, double none_prior) {
  double most = log_none;
  for (const CausePosterior& cause : made.causes) most = std::max(most, cause.log_evidence);
  double sum = made.none_probability = none_prior * std::exp(log_none - most);
  for (std::size_t h = 0; h < made.causes.size(); ++h)
    sum += made.causes[h].probability =
        made.hypotheses[h].prior * std::exp(made.causes[h].log_evidence - most);
  made.none_probability /= sum;
  for (CausePosterior& cause : made.causes) cause.probability /= sum;
}

}  // namespace

double covariance(const Outcome& a, const Outcome& b) {
  double sum = covariance(a.mean, b.mean);
  for (const auto& [run, by] : a.own)
    for (const auto& [other, also] : b.own)
      if (run == other) sum += by * also;
  return sum;
}

Gaussian numbers_of(std::span<const Observation> all, std::span<const Outcome> outcomes,
                    std::vector<std::size_t>& taken) {
  taken = split(all, outcomes).numbers;
  return gaussian_of(all, outcomes, taken);
}

double log_likelihood(std::span<const Observation> all, std::span<const Outcome> outcomes) {
  const Split parts = split(all, outcomes);
  if (parts.numbers.empty()) return parts.log_sum;
  std::vector<double> broad;
  for (const std::size_t i : parts.numbers) broad.push_back(1 / (all[i].high - all[i].low));
  return parts.log_sum + log_with_blunder(gaussian_of(all, outcomes, parts.numbers), broad, blunder_prob);
}

Posterior posterior(const Forward& forward, std::span<const Observation> all,
                    const SamplingOptions& options) {
  Posterior made;
  made.hypotheses = hypotheses(forward.scope(), options.none_prior);
  made.causes.resize(made.hypotheses.size());
  std::vector<Sampler> samplers;
  samplers.reserve(made.hypotheses.size());
  for (const Hypothesis& one : made.hypotheses) samplers.emplace_back(forward, all, one, options);
  const double log_none = log_of_none(all);
  const auto sample = [&](std::size_t h) {
    if (made.causes[h].particles.empty())
      samplers[h].begin();
    else if (made.causes[h].probability >= leading_probability)
      samplers[h].go_on(options.samples);
    else
      return std::move(made.causes[h]);
    return samplers[h].weighed();
  };
  for (int pass = 0; pass < 2; ++pass) {  // the second: more of the leading causes
    forecast::in_order(options.threads, made.causes.size(), sample,
                       [&](std::size_t h, CausePosterior& found) { made.causes[h] = std::move(found); });
    to_probabilities(made, log_none, options.none_prior);
  }
  return made;
}

std::vector<Particle> resampled(const CausePosterior& cause, int count) {
  std::vector<Particle> made;
  double sum = 0;
  for (const Particle& particle : cause.particles) {
    sum += particle.weight;
    while (static_cast<double>(made.size()) + 0.5 < sum * count && static_cast<int>(made.size()) < count) {
      made.push_back(particle);
      made.back().weight = 1.0 / count;
    }
  }
  while (static_cast<int>(made.size()) < count && !made.empty()) made.push_back(made.back());
  return made;
}

double weighted_quantile(std::vector<std::pair<double, double>> all, double share) {
  if (all.empty()) return std::numeric_limits<double>::quiet_NaN();
  std::ranges::sort(all);
  double sum = 0;
  for (const auto& [value, weight] : all) sum += weight;
  double below = 0;
  for (const auto& [value, weight] : all)
    if ((below += weight) >= share * sum) return value;
  return all.back().first;
}

}  // namespace firstdraw::prove
