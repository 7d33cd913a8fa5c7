// How likely each cause is, and its unknowns, given what was observed. docs/diagnosis.md, section 4.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "prove/gaussian.hpp"
#include "prove/hypotheses.hpp"
#include "prove/observe.hpp"

namespace firstdraw::prove {

/// ln of the likelihood of all observations in one state; tolerances integrated as straight lines, one
/// reading allowed to be a slip.
double log_likelihood(std::span<const Observation> all, std::span<const Outcome> outcomes);
/// The numbers among them as one Gaussian; `taken`: which.
Gaussian numbers_of(std::span<const Observation> all, std::span<const Outcome> outcomes,
                    std::vector<std::size_t>& taken);
/// Covariance of two outcomes by shared tolerances and by runs that both depend on.
double covariance(const Outcome& a, const Outcome& b);

struct Particle {
  std::size_t place = 0;  // of its hypothesis
  Fault fault;
  Luck luck;
  double weight = 0;  // of its cause; sums to 1
};

struct CausePosterior {
  double log_evidence = 0, probability = 0;
  std::vector<Particle> particles;  // of all samples
  double effective = 0;             // as many equally weighted samples would tell as much
};

struct Posterior {
  std::vector<Hypothesis> hypotheses;
  std::vector<CausePosterior> causes;  // like hypotheses
  double none_probability = 0;
};

struct SamplingOptions {
  int samples = 2000;  // of each cause, twice as many of a leading one
  std::uint64_t seed = 1;
  int threads = 1;
  double none_prior = 0.03;
};

/// Quasi-random samples of place, unknown and luck: the first half as the prior has them, the second half
/// where the first found the likelihood, with weights that make up for it; leading causes get as many again.
Posterior posterior(const Forward& forward, std::span<const Observation> all, const SamplingOptions& options);

/// `count` particles of a cause that stand for all, each as likely as the others.
std::vector<Particle> resampled(const CausePosterior& cause, int count);

/// The value below which `share` of the weight lies.
double weighted_quantile(std::vector<std::pair<double, double>> value_and_weight, double share);

}  // namespace firstdraw::prove
