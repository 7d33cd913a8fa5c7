#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "prove/diagnosis_words.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

constexpr double settled_probability = 0.9;

template <class Key>
Key likeliest_of(const std::map<Key, double>& weight) {
  return std::ranges::max_element(weight, {}, [](const auto& one) { return one.second; })->first;
}

/// Of a cable that is dead: the circuit first, then where on it. A single run of another circuit must not
/// outweigh many of the right one.
std::vector<Particle> of_likeliest_circuit(const Scope& scope, const std::vector<Particle>& all) {
  const auto circuit_of = [&](const Particle& one) { return scope.runs[at(one.fault.place)].circuit; };
  std::map<int, double> by_circuit;
  for (const Particle& one : all) by_circuit[circuit_of(one)] += one.weight;
  const int circuit = likeliest_of(by_circuit);
  std::vector<Particle> made;
  for (const Particle& one : all)
    if (circuit_of(one) == circuit) made.push_back(one);
  return made;
}

/// The likeliest place of a cause (and sheet), and its unknown there. How far along the cable it is dead is
/// asked over the whole circuit.
Suspect suspect_of(const Scope& scope, const Hypothesis& hypothesis, const CausePosterior& found) {
  const bool along = hypothesis.cause == Cause::dead_length;
  const auto particles = along ? of_likeliest_circuit(scope, found.particles) : found.particles;
  std::map<std::string, double> by_id;
  for (const Particle& particle : particles) by_id[hypothesis.places[particle.place].id] += particle.weight;
  Suspect made;
  made.cause = hypothesis.cause;
  made.place = likeliest_of(by_id);
  made.probability = found.probability;
  made.at_place = std::min(1.0, by_id[made.place]);  // a sum of weights, rounded
  std::vector<std::pair<double, double>> values;
  std::map<int, double> sheets;
  for (const Particle& particle : particles) {
    if (!along && hypothesis.places[particle.place].id != made.place) continue;
    values.emplace_back(particle.fault.value, particle.weight);
    sheets[particle.fault.sheet] += particle.weight;
  }
  if (hypothesis.has_value)
    made.value = Interval{weighted_quantile(values, 0.05), weighted_quantile(values, 0.5),
                          weighted_quantile(values, 0.95)};
  const int sheet = likeliest_of(sheets);
  if (sheet != -1) made.what = scope.job.cables[at(sheet)].id;
  return made;
}

void finish(const job::Job& job, std::vector<Suspect>& suspects) {
  std::ranges::stable_sort(suspects, std::greater{}, &Suspect::probability);
  for (Suspect& suspect : suspects) {
    suspect.said = said_of(job, suspect);
    suspect.to_do = to_do_for(suspect);
  }
}

void assume(const Scope& scope, const Observed& observed, Diagnosis& made) {
  made.assumed = observed.assumed;
  for (std::size_t g = 0; g < scope.groups.size(); ++g)
    if (!observed.known.set_c[g])
      made.assumed.push_back(fmt::format(
          "{} holds its maintain temperature, {}: read the set-point in force where it has a week's schedule",
          scope.job.groups[at(scope.groups[g].job_group)].id,
          units::show(scope.groups[g].set_c, units::Kind::temperature, scope.job.units)));
  made.assumed.emplace_back("one thing is wrong, not several");
  made.assumed.emplace_back(
      "how often each cause is met is our choice, no source; instruments without a stated error have the "
      "usual one");
}

}  // namespace

Diagnosis diagnose(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings,
                   const DiagnosisOptions& options) {
  const Scope scope(job, plan, readings);
  Observed observed = observe(scope, readings);
  Diagnosis made;
  made.warnings = observed.warnings;
  made.used = observed.used;
  if (scope.groups.empty() || scope.runs.empty()) {
    made.warnings.emplace_back("no reading names a circuit, group or run with heating cable of this plan");
    return made;
  }
  const Forward forward(scope, observed.known);
  for (Observation& seen : observed.all)
    if (seen.of.what == What::current && seen.of.minutes)
      seen.of.start_factor = forward.start_factor(seen.of.circuit, *seen.of.minutes);
  const Posterior found =
      posterior(forward, observed.all, {options.samples, options.seed, options.threads, options.none_prior});
  for (std::size_t h = 0; h < found.causes.size(); ++h)
    made.suspects.push_back(suspect_of(scope, found.hypotheses[h], found.causes[h]));
  Suspect none;
  none.cause = Cause::none_of_these;
  none.probability = found.none_probability;
  none.at_place = 1;
  made.suspects.push_back(none);
  finish(job, made.suspects);
  made.settled = made.suspects.front().probability >= settled_probability;
  for (const Measure& measure : measures(forward, found, observed.all, options.proposals))
    made.next.push_back(proposal_of(scope, found, measure));
  assume(scope, observed, made);
  return made;
}

}  // namespace firstdraw::prove
