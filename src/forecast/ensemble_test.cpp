// What differs from member to member, and how their results come together.
#include "forecast/ensemble.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "plan/small_job.hpp"

namespace firstdraw::forecast {
namespace {

/// Takes longer for some than for others, so that threads overtake each other.
std::size_t slow_square(std::size_t i) {
  std::this_thread::sleep_for(std::chrono::microseconds((i * 7919) % 500));
  return i * i;
}

TEST(InOrder, ResultsComeInOrderForAnyNumberOfThreads) {
  for (const int threads : {1, 2, 5}) {
    std::vector<std::size_t> taken;
    in_order(threads, 60, slow_square, [&](std::size_t i, std::size_t square) {
      EXPECT_EQ(taken.size(), i);
      taken.push_back(square);
    });
    ASSERT_EQ(taken.size(), 60U);
    for (std::size_t i = 0; i < taken.size(); ++i) EXPECT_EQ(taken[i], i * i);
  }
}

TEST(InOrder, AnExceptionComesOut) {
  std::atomic<int> made = 0;
  const auto make = [&](std::size_t i) {
    ++made;
    if (i == 3) throw std::runtime_error("three");
    return i;
  };
  const auto take = [](std::size_t, std::size_t) {};
  EXPECT_THROW(in_order(3, 1000, make, take), std::runtime_error);
  made = 0;
  EXPECT_THROW(in_order(1, 1000, make, take), std::runtime_error);
  EXPECT_EQ(made, 4) << "nothing is begun after it; of several threads others may be done before it comes";
}

TEST(SharedProgress, IsTheShareOfAllTasks) {
  std::vector<double> seen;
  SharedProgress progress([&](double done_frac) { return seen.push_back(done_frac), true; }, 4);
  EXPECT_TRUE(progress.report(0, 1));
  EXPECT_TRUE(progress.report(2, 0.5));
  EXPECT_EQ(seen, (std::vector<double>{0.25, 0.375}));
}

TEST(SharedProgress, ANoStopsAllOfThem) {
  SharedProgress progress([](double done_frac) { return done_frac < 0.3; }, 2);
  EXPECT_TRUE(progress.report(0, 0.5));
  EXPECT_FALSE(progress.stopped());
  EXPECT_FALSE(progress.report(0, 0.9));
  EXPECT_TRUE(progress.stopped());
}

TEST(Variations, TheFirstMemberIsNominal) {
  const std::vector<Variation> all = variations(plan::small_job(), 5, 1);
  ASSERT_EQ(all.size(), 5U);
  EXPECT_TRUE(all[0].insulation_factor.empty());
  EXPECT_TRUE(all[0].sensor_shift_k.empty());
  EXPECT_EQ(all[1].insulation_factor.size(), plan::small_job().runs.size());
  EXPECT_EQ(variations(plan::small_job(), 1, 1).size(), 1U);
}

std::vector<double> insulation_of_run(const std::vector<Variation>& all, std::size_t run) {
  std::vector<double> factors;
  for (std::size_t m = 1; m < all.size(); ++m) factors.push_back(all[m].insulation_factor[run]);
  return factors;
}

// 15 % is two standard deviations (hold::Tolerances): mean 1, deviation 0.075. A Latin hypercube of 400 keeps
// the mean to rounding and the deviation to the tail that its middles leave out, below 1 %.
TEST(Variations, FollowTheTolerances) {
  const auto factors = insulation_of_run(variations(plan::small_job(), 401, 3), 1);
  const double mean = std::accumulate(factors.begin(), factors.end(), 0.0) / 400;
  double square = 0;
  for (const double factor : factors) square += (factor - mean) * (factor - mean);
  EXPECT_NEAR(mean, 1, 1e-12);
  EXPECT_NEAR(std::sqrt(square / 400), 0.075, 0.075 * 0.01);
}

TEST(Variations, FollowTheSeed) {
  const job::Job job = plan::small_job();
  const auto once = insulation_of_run(variations(job, 20, 7), 0);
  EXPECT_EQ(once, insulation_of_run(variations(job, 20, 7), 0));
  EXPECT_NE(once, insulation_of_run(variations(job, 20, 8), 0));
}

TEST(Variations, BelongToRunsWhateverTheirOrder) {
  job::Job job = plan::small_job();
  const std::vector<Variation> all = variations(job, 9, 1);
  std::ranges::reverse(job.runs);
  const std::vector<Variation> reversed = variations(job, 9, 1);
  const std::size_t last = job.runs.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    EXPECT_EQ(insulation_of_run(all, i), insulation_of_run(reversed, last - i));
    for (std::size_t m = 1; m < all.size(); ++m)
      EXPECT_EQ(all[m].air_shift_k[i], reversed[m].air_shift_k[last - i]);
  }
}

}  // namespace
}  // namespace firstdraw::forecast
