#include "prove/proposals.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "prove/information.hpp"
#include "tables/table.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using enum What;

constexpr int states_a_cause = 40;
constexpr double errand_min = 5;  // of every measurement: going there, tools, writing down; our choice
constexpr double least_probability = 0.003, settled_probability = 0.9, least_bit = 0.01;
constexpr std::size_t causes_told = 4, circuits_asked = 4, runs_asked = 3;

std::map<What, Work> read_work() {
  std::map<What, Work> work;
  for (const tables::Row& row : tables::table("measurement_work").rows())
    for (const WhatHelp& help : what_help())
      if (help.name == row.text("what"))
        work[help.what] = {row.number("minutes"), row.number("minutes_per_m"), row.text("how"),
                           row.text("live") == "yes"};
  return work;
}

/// One state that may be, with what was read already taken into account.
struct State {
  std::size_t cause = 0;
  std::size_t place = 0;
  double weight = 0;
  Fault fault;
  Luck luck;
  Now now;
  std::vector<Outcome> outcomes;     // of what was read
  std::vector<std::size_t> numbers;  // of them
  Gaussian gaussian{{}, {}};
};

std::vector<State> states_of(const Forward& forward, const Posterior& known,
                             std::span<const Observation> all) {
  const std::vector<char> every(forward.scope().circuits.size(), 1);
  std::vector<State> states;
  for (std::size_t h = 0; h < known.causes.size(); ++h) {
    if (known.causes[h].probability < least_probability) continue;
    for (const Particle& particle : resampled(known.causes[h], states_a_cause)) {
      State state;
      state.cause = h;
      state.place = particle.place;
      state.weight = particle.weight * known.causes[h].probability;
      state.fault = particle.fault;
      state.luck = particle.luck;
      state.now = forward.now(particle.fault, particle.luck, {}, every);
      std::optional<Now> then;
      for (const Observation& seen : all) {
        if (seen.of.minutes && !then)
          then = forward.now(particle.fault, particle.luck, seen.of.minutes, every);
        const Now& now = seen.of.minutes ? *then : state.now;
        state.outcomes.push_back(outcome(forward, particle.fault, particle.luck, now, seen.of));
      }
      state.gaussian = numbers_of(all, state.outcomes, state.numbers);
      states.push_back(std::move(state));
    }
  }
  return states;
}

/// The mean and variance of a number once what was read is known.
Gaussian::Rest rest_of(const State& state, const Outcome& next, double error) {
  std::vector<double> with;
  for (const std::size_t i : state.numbers) with.push_back(covariance(next, state.outcomes[i]));
  const double variance = covariance(next, next) + next.own_var;
  auto rest = state.gaussian.size() == 0 ? Gaussian::Rest{0, variance} : state.gaussian.rest(with, variance);
  const double most = 3 * std::sqrt(variance);  // a slip among what was read must not carry it away
  rest.shift = std::clamp(rest.shift, -most, most);
  rest.variance += error;
  return rest;
}

/// All cost a way; some are paid by the metre of pipe.
double minutes_of(const Scope& scope, const Observable& of) {
  const Work& work = *work_of(of.what);
  double pipe_m = 0;
  for (const ScopeRun& run : scope.runs)
    if (of.run == -1 && run.circuit == of.circuit) pipe_m += run.pipe_length_m;
  return errand_min + work.minutes + work.minutes_per_m * pipe_m;
}

class Weigher {
 public:
  Weigher(const Forward& forward, const Posterior& known, std::span<const Observation> all)
      : forward_(forward), known_(known), states_(states_of(forward, known, all)) {
    for (std::size_t h = 0; h < known.causes.size(); ++h)
      if (known.causes[h].probability >= settled_probability && known.hypotheses[h].places.size() > 1)
        settled_ = h;
  }

  Measure weigh(const Observable& of) const {
    Measure made{of, minutes_of(forward_.scope(), of), 0, settled_ != none_, {}};
    std::vector<Outcome> outcomes;
    for (const State& state : states_)
      outcomes.push_back(outcome(forward_, state.fault, state.luck, state.now, of));
    const auto kind = outcomes.empty() ? Outcome::Kind::silent : outcomes.front().kind;
    if (kind == Outcome::Kind::number) weigh_number(of, outcomes, made);
    if (kind == Outcome::Kind::yes_no || kind == Outcome::Kind::which) weigh_few(outcomes, made);
    return made;
  }

  const std::vector<State>& states() const { return states_; }

 private:
  static constexpr std::size_t none_ = static_cast<std::size_t>(-1);

  bool counts(const State& state) const { return settled_ == none_ || state.cause == settled_; }
  std::size_t label(const State& state) const { return settled_ == none_ ? state.cause : state.place; }
  std::size_t labels() const {
    return settled_ == none_ ? known_.hypotheses.size() : known_.hypotheses[settled_].places.size();
  }

  void weigh_number(const Observable& of, const std::vector<Outcome>& outcomes, Measure& made) const {
    std::vector<Forecast> forecasts;
    std::vector<ForecastOfFew> lost;
    std::map<std::size_t, std::vector<std::pair<double, double>>> spread;
    std::map<std::size_t, double> lost_share;
    for (std::size_t i = 0; i < states_.size(); ++i) {
      const State& state = states_[i];
      const double error = error_var(of.what, outcomes[i].mean.v, {});
      const auto rest = rest_of(state, outcomes[i], error);
      const double mean = outcomes[i].mean.v + rest.shift, sigma = std::sqrt(rest.variance);
      if (outcomes[i].lost) lost_share[state.cause] += state.weight;
      if (!outcomes[i].lost)
        for (const double side : {-1.645, -0.674, 0.0, 0.674, 1.645})
          spread[state.cause].emplace_back(mean + side * sigma, state.weight);
      if (!counts(state)) continue;
      lost.push_back(
          {label(state), state.weight, {outcomes[i].lost ? 0.97 : 0.01, outcomes[i].lost ? 0.03 : 0.99}});
      if (!outcomes[i].lost) forecasts.push_back({label(state), state.weight, mean, rest.variance + 1e-18});
    }
    made.information_bit = information_bit(forecasts, labels());
    if (!lost_share.empty())
      made.information_bit = std::max(made.information_bit, 0.0) + information_bit(lost, labels());
    tell(made, [&](std::size_t cause, Shown& shown) {
      shown.lost = lost_share.contains(cause);
      shown.low = weighted_quantile(spread[cause], 0.05);
      shown.usual = weighted_quantile(spread[cause], 0.5);
      shown.high = weighted_quantile(spread[cause], 0.95);
    });
  }

  void weigh_few(const std::vector<Outcome>& outcomes, Measure& made) const {
    std::vector<ForecastOfFew> forecasts;
    std::map<std::size_t, double> yes, all;
    std::map<std::size_t, int> sheet;
    for (std::size_t i = 0; i < states_.size(); ++i) {
      const State& state = states_[i];
      std::vector<double> prob{outcomes[i].yes_prob, 1 - outcomes[i].yes_prob};
      if (outcomes[i].kind == Outcome::Kind::which) {
        const int choices = outcomes[i].choices;
        prob.assign(at(choices), choices > 1 ? 0.03 / (choices - 1) : 0);
        prob[at(outcomes[i].sheet)] = 0.97;
        sheet[state.cause] = outcomes[i].sheet;
      }
      yes[state.cause] += state.weight * outcomes[i].yes_prob;
      all[state.cause] += state.weight;
      if (counts(state)) forecasts.push_back({label(state), state.weight, std::move(prob)});
    }
    made.information_bit = information_bit(forecasts, labels());
    tell(made, [&](std::size_t cause, Shown& shown) {
      shown.yes_prob = all[cause] > 0 ? yes[cause] / all[cause] : 0;
      shown.sheet = sheet.contains(cause) ? sheet[cause] : -1;
    });
  }

  template <class Fill>
  void tell(Measure& made, const Fill& fill) const {
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t h = 0; h < known_.causes.size(); ++h)
      if (known_.causes[h].probability >= 0.02) order.emplace_back(-known_.causes[h].probability, h);
    std::ranges::sort(order);
    for (std::size_t i = 0; i < std::min(order.size(), causes_told); ++i) {
      Shown shown;
      shown.cause = order[i].second;
      fill(shown.cause, shown);
      made.shown.push_back(shown);
    }
  }

  const Forward& forward_;
  const Posterior& known_;
  std::vector<State> states_;
  std::size_t settled_ = none_;
};

// ---- where --------------------------------------------------------------------------------------------

class Places {
 public:
  Places(const Forward& forward, const Posterior& known, std::span<const Observation> all)
      : scope_(forward.scope()), known_(known) {
    for (const Observation& seen : all) made_.push_back(seen.of);
  }

  std::vector<Observable> all() {
    add_circuits();
    add_groups();
    add_runs();
    for (std::size_t s = 0; s < scope_.spaces.size(); ++s) add_air(static_cast<int>(s));
    return std::move(wanted_);
  }

 private:
  void add(What what, int circuit, int group, int run, std::optional<bool> called = {}) {
    if (!work_of(what)) return;
    Observable of{what, circuit, group, run};
    of.called = called;
    const auto same = [&](const Observable& other) {
      const bool twice = what == other.what && run == other.run && group == other.group;
      const bool sensor = (what == sensor_reading || what == sensor_resistance) &&
                          (other.what == sensor_reading || other.what == sensor_resistance);
      return (twice || (sensor && group == other.group)) && circuit == other.circuit &&
             (what != contactor || called == other.called || !other.called);
    };
    if (std::ranges::none_of(made_, same) && std::ranges::none_of(wanted_, same)) wanted_.push_back(of);
  }

  void add_circuits() {
    std::size_t asked = 0;
    for (std::size_t c = 0; c < scope_.circuits.size() && asked < circuits_asked; ++c) {
      if (!scope_.circuits[c].named) continue;
      ++asked;
      for (const What what : {current, supply_voltage, far_voltage, capacitance, insulation_resistance,
                              open_resistance, breaker, cable_marking, insulation_walked})
        add(what, static_cast<int>(c), scope_.circuits[c].group, -1);
    }
  }

  void add_groups() {
    for (std::size_t g = 0; g < scope_.groups.size(); ++g) {
      const int group = static_cast<int>(g), circuit = -1;
      if (scope_.groups[g].sensor != -1)
        for (const What what : {sensor_reading, sensor_resistance, sensor_position})
          add(what, circuit, group, -1);
      add(duty, circuit, group, -1);
      add(contactor, circuit, group, -1, true);
      add(contactor, circuit, group, -1, false);
      if (scope_.groups[g].entered_c) add(entered_ambient, circuit, group, -1);
    }
  }

  void add_pipe(int run) {
    if (run != -1) add(pipe_temperature, scope_.runs[at(run)].circuit, scope_.runs[at(run)].group, run);
  }

  /// Both sides of where the cable may end, suspect insulation, the sensor's run, feed and far end.
  void add_runs() {
    for (const ScopeGroup& group : scope_.groups) add_pipe(group.sensor);
    for (const ScopeCircuit& circuit : scope_.circuits) {
      if (!circuit.named) continue;
      add_pipe(circuit.runs.front());
      add_pipe(circuit.runs[at(circuit.far_stretch)]);
    }
    for (std::size_t h = 0; h < known_.causes.size(); ++h) {
      const Cause cause = known_.hypotheses[h].cause;
      if (known_.causes[h].probability < least_probability) continue;
      if (cause == Cause::dead_length) add_ends(known_.causes[h]);
      if (cause != Cause::wet_insulation && cause != Cause::missing_insulation) continue;
      for (const int run : likely_runs(known_.causes[h])) {
        for (const What what : {insulation_seen, surface_temperature})
          add(what, scope_.runs[at(run)].circuit, scope_.runs[at(run)].group, run);
        add_pipe(run);
      }
    }
  }

  void add_ends(const CausePosterior& cause) {
    std::vector<std::pair<double, double>> by_way;
    for (const Particle& particle : cause.particles)
      by_way.emplace_back(particle.fault.value, particle.weight);
    for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9}) {
      const double way_m = weighted_quantile(by_way, share);
      const Particle* nearest = nullptr;
      for (const Particle& particle : cause.particles)
        if (particle.weight > 0 &&
            (!nearest || std::abs(particle.fault.value - way_m) < std::abs(nearest->fault.value - way_m)))
          nearest = &particle;
      if (!nearest) continue;
      add_pipe(nearest->fault.place);
      const ScopeCircuit& circuit = scope_.circuits[at(scope_.runs[at(nearest->fault.place)].circuit)];
      const int stretch = scope_.runs[at(nearest->fault.place)].stretch;
      for (std::size_t s = 0; s < circuit.stretches.size(); ++s)
        if (circuit.stretches[s].parent == stretch) add_pipe(circuit.runs[s]);
    }
  }

  std::vector<int> likely_runs(const CausePosterior& cause) const {
    std::map<int, double> weight;
    for (const Particle& particle : cause.particles) weight[particle.fault.place] += particle.weight;
    std::vector<std::pair<double, int>> order;
    for (const auto& [run, sum] : weight) order.emplace_back(-sum, run);
    std::ranges::sort(order);
    std::vector<int> made;
    for (std::size_t i = 0; i < std::min(order.size(), runs_asked); ++i) made.push_back(order[i].second);
    return made;
  }

  void add_air(int space) {
    for (std::size_t r = 0; r < scope_.runs.size(); ++r)
      if (scope_.runs[r].space == space && scope_.circuits[at(scope_.runs[r].circuit)].named) {
        const auto same = [&](const Observable& other) {
          return other.what == air_temperature && other.run != -1 &&
                 scope_.runs[at(other.run)].space == space;
        };
        if (std::ranges::none_of(made_, same))
          add(air_temperature, scope_.runs[r].circuit, scope_.runs[r].group, static_cast<int>(r));
        return;
      }
  }

  const Scope& scope_;
  const Posterior& known_;
  std::vector<Observable> made_, wanted_;
};

}  // namespace

const Work* work_of(What what) {
  static const std::map<What, Work> work = read_work();
  const auto found = work.find(what);
  return found == work.end() ? nullptr : &found->second;
}

std::vector<Measure> measures(const Forward& forward, const Posterior& known,
                              std::span<const Observation> all, int count) {
  const Weigher weigher(forward, known, all);
  std::vector<Measure> made;
  for (const Observable& of : Places(forward, known, all).all()) {
    Measure one = weigher.weigh(of);
    if (one.information_bit >= least_bit) made.push_back(std::move(one));
  }
  std::ranges::stable_sort(made, [](const Measure& a, const Measure& b) {
    return a.information_bit / a.minutes > b.information_bit / b.minutes;
  });
  if (made.size() > at(count)) made.resize(at(count));
  return made;
}

}  // namespace firstdraw::prove
