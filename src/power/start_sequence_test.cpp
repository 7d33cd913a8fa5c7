#include "power/start_sequence.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

#include "power/phases.hpp"

namespace firstdraw::power {
namespace {

using Circuits = std::vector<StartingCircuit>;

job::Panel panel(bool line_to_line, int phases) {
  job::Panel made;
  made.line_to_line = line_to_line;
  made.phases = phases;
  return made;
}

SequenceOptions steps(int most_steps, int pieces_per_step = 1) {
  SequenceOptions options;
  options.piece_s = 1;
  options.pieces_per_step = pieces_per_step;
  options.most_steps = most_steps;
  return options;
}

/// The panel's fullest line from nothing but the definition, with starts in pieces.
double peak_by_definition(const job::Panel& on, const Circuits& circuits,
                          const std::vector<std::size_t>& starts) {
  double peak_a = 0;
  for (std::size_t piece = 0; piece < 60; ++piece) {
    std::vector<double> slot_a(phase_slots(on).size(), 0.0);
    for (std::size_t i = 0; i < circuits.size(); ++i) {
      if (piece < starts[i]) continue;
      const auto& current_a = circuits[i].current_a;
      slot_a[circuits[i].slot] += current_a[std::min(piece - starts[i], current_a.size() - 1)];
    }
    peak_a = std::max(peak_a, std::ranges::max(line_currents_a(on, slot_a)));
  }
  return peak_a;
}

/// Every choice of starts on whole steps: least peak, and least last start that keeps a limit (-1: none).
struct Exhaustive {
  double least_a = std::numeric_limits<double>::infinity();
  int earliest = -1;
};
Exhaustive all_choices(const job::Panel& on, const Circuits& circuits, int most_steps, int pieces_per_step,
                       double limit_a) {
  Exhaustive found;
  std::vector<int> delays(circuits.size(), 0);
  for (;;) {
    std::vector<std::size_t> starts;
    for (const int delay : delays) starts.push_back(static_cast<std::size_t>(delay * pieces_per_step));
    const double peak_a = peak_by_definition(on, circuits, starts);
    found.least_a = std::min(found.least_a, peak_a);
    const int last = std::ranges::max(delays);
    if (peak_a <= limit_a && (found.earliest < 0 || last < found.earliest)) found.earliest = last;
    std::size_t i = 0;
    while (i < delays.size() && delays[i] == most_steps) delays[i++] = 0;
    if (i == delays.size()) return found;
    ++delays[i];
  }
}

/// Falling currents as of heating cable, some alike, some rising at the end.
Circuits any_circuits(std::mt19937& random, std::size_t count, std::size_t slots) {
  std::uniform_real_distribution<double> settled(1, 10), ratio(1, 3), fall(0.2, 0.9);
  std::uniform_int_distribution<std::size_t> length(1, 8), slot(0, slots - 1), coin(0, 3);
  Circuits circuits;
  for (std::size_t i = 0; i < count; ++i) {
    if (i > 0 && coin(random) == 0) {
      circuits.push_back(circuits.back());
    } else {
      StartingCircuit made{"", slot(random), {}};
      const double settled_a = settled(random), factor = fall(random);
      double extra_a = settled_a * (ratio(random) - 1);
      for (std::size_t piece = length(random); piece-- > 0; extra_a *= factor)
        made.current_a.push_back(settled_a + extra_a);
      if (coin(random) == 0) made.current_a.push_back(1.2 * settled_a);
      circuits.push_back(made);
    }
    circuits.back().id = "C" + std::to_string(i);
  }
  return circuits;
}

TEST(StartSequence, OfNothingIsNothing) {
  const StartSequence result = sequence_starts(panel(false, 3), {}, steps(5));
  EXPECT_TRUE(result.start_s.empty());
  EXPECT_EQ(result.peak_a, 0);
  EXPECT_TRUE(result.proven);
}

TEST(StartSequence, TwoAlikeStartOneStepApart) {
  // 20 A falling to 10 A within a step: 40 A together, 30 A apart, and no less: the second meets the first.
  const Circuits two{{"A", 0, {20, 10}}, {"B", 0, {20, 10}}};
  const StartSequence result = sequence_starts(panel(false, 1), two, steps(5));
  EXPECT_EQ(result.together_peak_a, 40);
  EXPECT_EQ(result.peak_a, 30);
  EXPECT_EQ(result.bound_a, 30);
  EXPECT_TRUE(result.proven);
  EXPECT_EQ(result.start_s, (std::vector<double>{0, 1}));
  EXPECT_EQ(result.line_a[0], 20);
  EXPECT_EQ(result.line_a[1], 30);
  EXPECT_EQ(result.line_a.back(), 20);
}

TEST(StartSequence, CircuitsOnDifferentPhasesNeedNotWait) {
  const Circuits three{{"A", 0, {20, 10}}, {"B", 1, {20, 10}}, {"C", 2, {20, 10}}};
  const StartSequence result = sequence_starts(panel(false, 3), three, steps(5));
  EXPECT_EQ(result.start_s, (std::vector<double>{0, 0, 0}));
  EXPECT_EQ(result.peak_a, 20);
}

TEST(StartSequence, WaitsNoLongerThanTheLimitAsks) {
  const Circuits three{{"A", 0, {20, 14, 10}}, {"B", 0, {20, 14, 10}}, {"C", 0, {20, 14, 10}}};
  SequenceOptions options = steps(9);
  options.limit_a = 60;
  EXPECT_EQ(sequence_starts(panel(false, 1), three, options).start_s, (std::vector<double>{0, 0, 0}));
  options.limit_a = 40;
  const StartSequence kept = sequence_starts(panel(false, 1), three, options);
  EXPECT_TRUE(kept.within_limit);
  EXPECT_EQ(std::ranges::max(kept.start_s), 2);  // two at once: 40; the third at 1 meets 28, at 2 only 20
  options.limit_a = 25;
  const StartSequence broken = sequence_starts(panel(false, 1), three, options);
  EXPECT_FALSE(broken.within_limit);
  EXPECT_EQ(broken.peak_a, 40);
  EXPECT_TRUE(broken.proven);
}

TEST(StartSequence, AgreesWithEveryPossibleChoice) {
  std::mt19937 random(11);
  const job::Panel panels[] = {panel(false, 1), panel(false, 3), panel(true, 3), panel(true, 1)};
  for (int round = 0; round < 240; ++round) {
    const job::Panel& on = panels[round % 4];
    const Circuits circuits =
        any_circuits(random, 1 + static_cast<std::size_t>(round) % 5, phase_slots(on).size());
    SequenceOptions options = steps(3, 1 + round % 2);
    const StartSequence least = sequence_starts(on, circuits, options);
    const double together_a = least.together_peak_a;
    const double limit_a = std::lerp(least.bound_a, together_a, 0.1 + 0.2 * (round % 5));
    const Exhaustive all = all_choices(on, circuits, 3, options.pieces_per_step, limit_a);
    EXPECT_TRUE(least.proven);
    EXPECT_NEAR(least.peak_a, all.least_a, 2e-9 * all.least_a);
    EXPECT_LE(least.bound_a, all.least_a * (1 + 1e-12));
    options.limit_a = limit_a;
    const StartSequence kept = sequence_starts(on, circuits, options);
    EXPECT_EQ(kept.within_limit, all.earliest >= 0);
    if (!kept.within_limit) continue;
    EXPECT_EQ(std::ranges::max(kept.start_s), all.earliest * options.pieces_per_step) << round;
  }
}

TEST(StartSequence, IsNeverWorseThanAllAtOnceAndNeverBelowItsBound) {
  std::mt19937 random(12);
  const job::Panel on = panel(true, 3);
  for (const std::size_t count : {7u, 12u, 40u}) {
    const Circuits circuits = any_circuits(random, count, 3);
    SequenceOptions options = steps(12, 2);
    options.most_trials = 2000;
    const double together_a = peak_by_definition(on, circuits, std::vector<std::size_t>(count, 0));
    for (const double share : {0.0, 0.4, 0.8, 1.2}) {
      options.limit_a = share > 0 ? share * together_a : std::numeric_limits<double>::infinity();
      const StartSequence result = sequence_starts(on, circuits, options);
      EXPECT_LE(result.peak_a, result.together_peak_a * (1 + 1e-12));
      EXPECT_GE(result.peak_a, result.bound_a * (1 - 1e-12));
      EXPECT_EQ(result.peak_a, std::ranges::max(result.line_a));
      EXPECT_EQ(result.within_limit, result.peak_a <= options.limit_a * (1 + 2e-9));
      std::vector<std::size_t> starts;
      for (const double start_s : result.start_s) starts.push_back(static_cast<std::size_t>(start_s));
      EXPECT_NEAR(result.peak_a, peak_by_definition(on, circuits, starts), 1e-9);
    }
  }
}

TEST(StartSequence, TheOrderOfTheFileDoesNotMatter) {
  std::mt19937 random(13);
  const job::Panel on = panel(true, 3);
  for (int round = 0; round < 20; ++round) {
    const Circuits circuits = any_circuits(random, 3 + static_cast<std::size_t>(round) % 9, 3);
    SequenceOptions options = steps(4);
    options.most_trials = 3000;
    const StartSequence straight = sequence_starts(on, circuits, options);
    std::vector<std::size_t> order(circuits.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::ranges::shuffle(order, random);
    Circuits shuffled;
    for (const std::size_t i : order) shuffled.push_back(circuits[i]);
    const StartSequence other = sequence_starts(on, shuffled, options);
    EXPECT_EQ(straight.peak_a, other.peak_a);
    EXPECT_EQ(straight.line_a, other.line_a);
    for (std::size_t i = 0; i < order.size(); ++i) EXPECT_EQ(other.start_s[i], straight.start_s[order[i]]);
  }
}

TEST(StartSequence, SaysWhenTheSearchWasCutShort) {
  std::mt19937 random(14);
  const Circuits many = any_circuits(random, 14, 1);
  SequenceOptions options = steps(10);
  options.most_trials = 50;
  const StartSequence result = sequence_starts(panel(false, 1), many, options);
  EXPECT_FALSE(result.proven);
  EXPECT_LT(result.peak_a, result.together_peak_a);
}

TEST(StartSequence, RefusesNonsense) {
  const job::Panel on = panel(false, 1);
  EXPECT_THROW(sequence_starts(on, Circuits{{"A", 1, {1}}}, steps(1)), std::logic_error);
  EXPECT_THROW(sequence_starts(on, Circuits{{"A", 0, {}}}, steps(1)), std::logic_error);
  EXPECT_THROW(sequence_starts(on, Circuits{{"A", 0, {NAN}}}, steps(1)), std::logic_error);
  EXPECT_THROW(sequence_starts(on, Circuits{{"A", 0, {1}}}, steps(-1)), std::logic_error);
  EXPECT_THROW(sequence_starts(on, Circuits{{"A", 0, {1}}}, steps(1, 0)), std::logic_error);
}

}  // namespace
}  // namespace firstdraw::power
