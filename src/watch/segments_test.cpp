#include "watch/segments.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace firstdraw::watch {
namespace {

double segment_cost(const std::vector<double>& x, std::size_t from, std::size_t to) {
  double mean = 0, sum = 0;
  for (std::size_t i = from; i < to; ++i) mean += x[i] / static_cast<double>(to - from);
  for (std::size_t i = from; i < to; ++i) sum += (x[i] - mean) * (x[i] - mean);
  return sum;
}

double total_cost(const std::vector<double>& x, const std::vector<std::size_t>& begins, double penalty) {
  double sum = 0;
  std::size_t from = 0;
  for (const std::size_t at : begins) {
    sum += segment_cost(x, from, at) + penalty;
    from = at;
  }
  return sum + segment_cost(x, from, x.size());
}

/// Every way of cutting, one by one.
std::vector<std::size_t> by_trying_all(const std::vector<double>& x, double penalty, std::size_t least) {
  std::vector<std::size_t> best;
  double best_cost = std::numeric_limits<double>::infinity();
  for (unsigned cuts = 0; cuts < (1u << (x.size() - 1)); ++cuts) {
    std::vector<std::size_t> begins;
    std::size_t from = 0;
    bool good = true;
    for (std::size_t i = 1; i < x.size() && good; ++i)
      if ((cuts >> (i - 1)) & 1u) {
        good = i - from >= least;
        begins.push_back(from = i);
      }
    if (!good || x.size() - from < least) continue;
    const double cost = total_cost(x, begins, penalty);
    if (cost < best_cost) best_cost = cost, best = begins;
  }
  return best;
}

TEST(Pelt, IsTheBestOfAllSegmentationsOfShortRows) {
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  int with_changes = 0;
  for (int row = 0; row < 150; ++row) {
    const std::size_t count = 6 + static_cast<std::size_t>(row % 8),
                      least = 1 + static_cast<std::size_t>(row % 3);
    std::vector<double> x;
    double level = 0;
    for (std::size_t i = 0; i < count; ++i) {
      if (random() % 5 == 0) level = 3 * normal(random);
      x.push_back(level + normal(random));
    }
    const double penalty = 0.5 + static_cast<double>(row % 7);
    const auto found = pelt(x, penalty, least), best = by_trying_all(x, penalty, least);
    EXPECT_NEAR(total_cost(x, found, penalty), total_cost(x, best, penalty), 1e-9) << "row " << row;
    EXPECT_EQ(found, best) << "row " << row;
    with_changes += !best.empty();
  }
  EXPECT_GT(with_changes, 50);
}

// Yearly flow of the Nile at Aswan, 1871 to 1970, 1e8 m3: Cobb, "The problem of the Nile: conditional
// solution to a change-point problem", Biometrika 65 (1978), Table 1, "apparent changepoint near 1898" (read:
// the description of the data in the manual of R's data sets; figures read in three public copies).
constexpr double nile[] = {
    1120, 1160, 963,  1210, 1160, 1160, 813,  1230, 1370, 1140, 995,  935,  1110, 994, 1020, 960,  1180,
    799,  958,  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774,  840,  874, 694,  940,  833,
    701,  916,  692,  1020, 1050, 969,  831,  726,  456,  824,  702,  1120, 1100, 832, 764,  821,  768,
    845,  864,  862,  698,  845,  744,  796,  1040, 759,  781,  865,  845,  944,  984, 897,  822,  1010,
    771,  676,  649,  846,  812,  742,  801,  1040, 860,  874,  848,  890,  744,  749, 838,  1050, 918,
    986,  797,  923,  975,  815,  1020, 906,  901,  1170, 912,  746,  919,  718,  714, 740};

TEST(Pelt, FindsTheChangeOfTheNile) {
  static_assert(std::size(nile) == 100);
  const Memory memory = memory_of(nile);
  const auto white = whitened(nile, memory);
  const auto gains = gains_without_change(100, memory.correlation, 3, 1000);
  const auto begins = pelt(white, penalty_for(gains, 0.01), 3);
  ASSERT_EQ(begins.size(), 1u);
  EXPECT_EQ(begins[0], 28u);  // 1899 is the first year of the lower level, 1898 the last of the higher
  const Between between = change_between(white, 0, 28, 100, 0.9);
  EXPECT_GE(between.first, 23u);
  EXPECT_LE(between.last, 33u);
}

TEST(Memory, IsThatOfAnAutoregressiveRow) {
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  for (const double correlation : {0.0, 0.3, 0.6}) {
    std::vector<double> x;
    double now = 0;
    for (int i = 0; i < 20000; ++i) x.push_back(now = correlation * now + 2 * normal(random));
    const Memory memory = memory_of(x);
    EXPECT_NEAR(memory.correlation, correlation, 0.05);
    EXPECT_NEAR(memory.sd, 2, 0.08);
  }
}

/// Share of rows without a change in which one is found.
double false_alarms(std::size_t count, double correlation, double asked, int rows) {
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  int alarms = 0;
  for (int row = 0; row < rows; ++row) {
    std::vector<double> x;
    double now = normal(random) / std::sqrt(1 - correlation * correlation);
    for (std::size_t i = 0; i < count; ++i) {
      x.push_back(50 + now);
      now = correlation * now + normal(random);
    }
    const Memory memory = memory_of(x);
    const auto gains = gains_without_change(count, memory.correlation, 3, 100);
    alarms += !pelt(whitened(x, memory), penalty_for(gains, asked), 3).empty();
  }
  return static_cast<double>(alarms) / rows;
}

TEST(Penalty, KeepsFalseAlarmsAsRareAsAsked) {
  // 120 rows: three standard deviations of a rate of 0.05 are 0.06.
  EXPECT_LT(false_alarms(60, 0.0, 0.05, 120), 0.05 + 0.06);
  EXPECT_LT(false_alarms(60, 0.4, 0.05, 120), 0.05 + 0.06);
}

}  // namespace
}  // namespace firstdraw::watch
