// Stochastic draws against the closed form of Poisson rectangular pulses (Buchberger & Wu 1995; M/G/infinity)
// and against published use per unit.
#include <gtest/gtest.h>

#include <cmath>

#include "draw/control.hpp"
#include "draw/demand.hpp"
#include "tables/table.hpp"

namespace firstdraw::draw {
namespace {

constexpr double litre_m3 = 1e-3, gallon_m3 = 3.785411784e-3;

UseProfile even_profile() {
  UseProfile profile;
  profile.weekday_hours.fill(1.0 / 24);
  profile.weekend_hours.fill(1.0 / 24);
  return profile;
}

DrawKind kind_of(const std::string& fixture) {
  for (const DrawKind& kind : published_kinds())
    if (kind.fixture == fixture) return kind;
  throw std::logic_error("no kind " + fixture);
}

double volume_m3(const std::vector<Draw>& draws) {
  double sum = 0;
  for (const Draw& draw : draws) sum += draw.flow_m3_per_s * draw.duration_s;
  return sum;
}

// 300 taps that open alike: mean of the flow = lambda tau a, variance = lambda tau (a^2 + s^2), at the mean
// rate. Sampled every half hour, far beyond a draw's length, over 100 days: 4800 samples.
TEST(PoissonPulses, MeanAndVarianceOfTheFlow) {
  const UseProfile profile = even_profile();
  DrawKind kind{"shower", 10, 60, 0.5, 1e-4, 0.3, std::nan(""), "", ""};
  std::vector<TapUse> taps;
  for (int i = 0; i < 300; ++i) taps.push_back({i, static_cast<std::uint64_t>(i) + 7, kind, &profile});
  StochasticOptions options{0, 100 * day_s, 5};
  options.daily_cv = 0;
  const auto draws = stochastic_draws(taps, options);
  std::vector<double> flow(4800);
  for (const Draw& draw : draws) {
    const double first = std::ceil(draw.open_s / 1800);
    for (double i = first; i * 1800 < draw.open_s + draw.duration_s && i < 4800; ++i)
      flow[static_cast<std::size_t>(i)] += draw.flow_m3_per_s;
  }
  double mean = 0, variance = 0;
  for (const double q : flow) mean += q / 4800;
  for (const double q : flow) variance += (q - mean) * (q - mean) / 4799;
  const double busy = 300 * 10 * 60 / day_s, a = 1e-4, s = 0.3e-4;
  // Four standard errors: of a mean, and of a variance of nearly normal samples (excess kurtosis 1/busy).
  const double expected = busy * (a * a + s * s);
  EXPECT_NEAR(mean, busy * a, 4 * std::sqrt(expected / 4800));
  EXPECT_NEAR(variance, expected, 4 * expected * std::sqrt((2 + 2 / busy) / 4800));
  EXPECT_NEAR(volume_m3(draws), 300 * 100 * 10 * 60 * a, 0.01 * 300 * 100 * 10 * 60 * a);
}

// Chi-square of hourly counts, 23 degrees of freedom: 41.6 at 1 % (any statistical table).
TEST(PoissonPulses, HoursFollowTheProfile) {
  UseProfile profile = *published_profile("apartment");
  std::vector<TapUse> taps;
  DrawKind kind = kind_of("lavatory");
  kind.mean_duration_s = 1e-3;  // so that none waits for another
  for (int i = 0; i < 50; ++i) taps.push_back({i, static_cast<std::uint64_t>(i), kind, &profile});
  const auto draws = stochastic_draws(taps, {0, 28 * day_s, 3});
  std::array<double, 24> counts{};
  for (const Draw& draw : draws) ++counts[static_cast<std::size_t>(std::fmod(draw.open_s, day_s) / hour_s)];
  double chi_square = 0;
  for (std::size_t h = 0; h < 24; ++h) {
    const double expected = profile.weekday_hours[h] * static_cast<double>(draws.size());
    chi_square += (counts[h] - expected) * (counts[h] - expected) / expected;
  }
  EXPECT_LT(chi_square, 41.6);
}

// Counts of a Poisson law whose rate is gamma distributed: mean m, variance m + (cv m)^2. Buchberger & Wells
// 1996 found daily counts more variable than Poisson. Tolerance: four standard errors, 2000 tap-days.
TEST(PoissonPulses, DailyCountsSpreadBeyondPoisson) {
  const UseProfile profile = even_profile();
  DrawKind kind{"lavatory", 20, 1e-3, 0, 1e-4, 0, std::nan(""), "", ""};
  const TapUse tap{0, 99, kind, &profile};
  std::vector<double> counts(2000);
  for (const Draw& draw : stochastic_draws({&tap, 1}, {0, 2000 * day_s, 11}))
    ++counts[static_cast<std::size_t>(draw.open_s / day_s)];
  double mean = 0, variance = 0;
  for (const double n : counts) mean += n / 2000;
  for (const double n : counts) variance += (n - mean) * (n - mean) / 1999;
  const double expected = 20 + 0.09 * 400;
  EXPECT_NEAR(mean, 20, 4 * std::sqrt(expected / 2000));
  EXPECT_NEAR(variance, expected, 4 * expected * std::sqrt(2.6 / 2000));
}

double daily_hot_m3(const std::vector<std::string>& fixtures, const UseProfile& profile) {
  double sum = 0;
  for (const std::string& fixture : fixtures) {
    const DrawKind kind = kind_of(fixture);
    sum += kind.per_day * profile.draws_frac * kind.mean_duration_s * kind.mean_flow_m3_per_s *
           hot_share(kind.use_c, 60, 10);
  }
  return sum;
}

// ASHRAE Handbook HVAC Applications, Service Water Heating, average daily use (Werden & Spielvogel 1969),
// memory: motels 10 to 20 gal a unit; apartments 35 to 42 gal; hot water at 140 degF.
TEST(PublishedKinds, UsePerUnitIsWithinThePublishedRange) {
  const double room = daily_hot_m3({"lavatory", "shower"}, *published_profile("hotel")) / gallon_m3;
  EXPECT_GT(room, 10);
  EXPECT_LT(room, 20);
  const double home = daily_hot_m3({"lavatory", "shower", "kitchen-sink", "laundry-sink", "dishwasher"},
                                   *published_profile("apartment")) /
                      gallon_m3;
  EXPECT_GT(home, 35);
  EXPECT_LT(home, 42);
}

// Jordan & Vajen 2001 (memory): a hand's wash to a dish takes 1 to 6 l, a bath 140 l within half as much
// again.
TEST(PublishedKinds, OneDrawIsOfThePublishedSize) {
  const auto litres = [](const std::string& fixture) {
    const DrawKind kind = kind_of(fixture);
    return kind.mean_duration_s * kind.mean_flow_m3_per_s / litre_m3;
  };
  EXPECT_GT(litres("lavatory"), 1);
  EXPECT_LT(litres("lavatory"), 6);
  EXPECT_NEAR(litres("bath"), 140, 70);
  EXPECT_NEAR(litres("shower"), 15.8 * 3.785411784, 3);  // DeOreo et al. 2016 (memory): 15.8 gal
}

TEST(PublishedKinds, EveryFixtureAndBuildingAJobMayNameHasItsOwn) {
  for (const tables::Row& row : tables::table("rules_fixtures").rows())
    EXPECT_GT(kind_of(row.text("id")).per_day, 0) << row.text("id");
  for (const tables::Row& row : tables::table("rules_buildings").rows())
    EXPECT_NE(published_profile(published_profile_for(row.text("id"))), nullptr) << row.text("id");
}

}  // namespace
}  // namespace firstdraw::draw
