#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <random>
#include <thread>

#include "store/series_rows.hpp"
#include "store/test_place.hpp"

namespace firstdraw::store {
namespace {

using Samples = std::vector<Sample>;
constexpr std::int64_t kStart = 20'700 * day_ms;  // a midnight of 2026
constexpr std::int64_t kMinute = 60'000;
const SeriesInfo kSensor{0, "riser-a.sensor", "temperature", "riser-a"};

class Series : public OnBothDatabases {
 protected:
  Store open() const { return place().open(); }
};

std::int64_t made(Store& store, const SeriesInfo& info = kSensor) {
  return store.series("clinic", info).value();
}

TEST(DayOf, ADayBeginsAtMidnightUtcAlsoBefore1970) {
  EXPECT_EQ(day_of(0), 0);
  EXPECT_EQ(day_of(day_ms - 1), 0);
  EXPECT_EQ(day_of(-1), -1);
  EXPECT_EQ(day_of(-day_ms), -1);
  EXPECT_EQ(day_of(-day_ms - 1), -2);
  EXPECT_LT(day_of(std::numeric_limits<std::int64_t>::min()), 0);
}

TEST(InOrder, TheLaterGivenOfAMomentStays) {
  EXPECT_EQ(in_order(Samples{{3, 1}, {1, 2}, {3, 4}, {2, 5}, {1, 6}}), (Samples{{1, 6}, {2, 5}, {3, 4}}));
  EXPECT_EQ(in_order(Samples{}), Samples{});
}

TEST_P(Series, IsFoundByItsNameWithinItsBook) {
  Store store = open();
  const std::int64_t id = made(store);
  EXPECT_EQ(made(store), id);
  EXPECT_NE(store.series("hotel", kSensor).value(), id);
  EXPECT_NE(made(store, {0, "riser-a.current", "current", ""}), id);
  const auto all = store.series_of("clinic").value();
  ASSERT_EQ(all.size(), 2u);
  EXPECT_EQ(all[0].name, "riser-a.current");
  EXPECT_EQ(all[1], (SeriesInfo{id, "riser-a.sensor", "temperature", "riser-a"}));
  EXPECT_TRUE(store.series_of("nobody").value().empty());
}

TEST_P(Series, OfAnotherMeaningIsRefusedAndAnOpenPlaceFilledIn) {
  Store store = open();
  made(store);
  EXPECT_EQ(store.series("clinic", {0, kSensor.name, "current", "riser-a"}).error().kind,
            FailureKind::bad_input);
  EXPECT_EQ(store.series("clinic", {0, kSensor.name, "temperature", "riser-b"}).error().kind,
            FailureKind::bad_input);
  EXPECT_EQ(store.series("clinic", {0, "", "temperature", ""}).error().kind, FailureKind::bad_input);
  EXPECT_EQ(store.series("", kSensor).error().kind, FailureKind::bad_input);
  made(store, {0, "later", "on", ""});
  made(store, {0, "later", "on", "riser-b"});
  EXPECT_EQ(store.series_of("clinic").value().front().place, "riser-b");
}

TEST_P(Series, NoSuchSeriesIsBadInput) {
  Store store = open();
  const Samples one{{kStart, 1}};
  EXPECT_EQ(store.write(77, one).error().kind, FailureKind::bad_input);
  EXPECT_EQ(store.samples(77, 0, 1).error().kind, FailureKind::bad_input);
  EXPECT_EQ(store.days(77, 0, 1).error().kind, FailureKind::bad_input);
}

/// The plainest thing that does what a series should.
struct Model {
  std::map<std::int64_t, double> at;

  WriteCount write(const Samples& samples) {
    std::map<std::int64_t, double> fresh;
    for (const Sample& sample : samples) fresh[sample.at_ms] = sample.value;
    WriteCount count;
    for (const auto& [moment, value] : fresh) {
      const auto old = at.find(moment);
      ++(old == at.end() ? count.added : old->second == value ? count.same : count.replaced);
      at[moment] = value;
    }
    return count;
  }
  Samples samples(std::int64_t from, std::int64_t to) const {
    Samples found;
    for (auto i = at.lower_bound(from); i != at.end() && i->first < to; ++i)
      found.push_back({i->first, i->second});
    return found;
  }
  Samples day(std::int64_t day) const { return samples(day * day_ms, (day + 1) * day_ms); }
};

void expect_day(const DayFigures& figures, const Samples& day) {
  double least = day.front().value, most = least, sum = 0;
  for (const Sample& sample : day) {
    least = std::min(least, sample.value);
    most = std::max(most, sample.value);
    sum += sample.value;
  }
  EXPECT_EQ(figures.count, static_cast<std::int64_t>(day.size()));
  EXPECT_EQ(figures.least, least);
  EXPECT_EQ(figures.most, most);
  EXPECT_NEAR(figures.mean, sum / static_cast<double>(day.size()), 1e-9);
  EXPECT_EQ(figures.first, day.front());
  EXPECT_EQ(figures.last, day.back());
}

Samples any_samples(std::mt19937_64& random) {
  const std::int64_t from = kStart + static_cast<std::int64_t>(random() % 5) * day_ms - 7 * kMinute;
  Samples samples;
  for (std::size_t i = 0, count = random() % 80; i < count; ++i) {
    const auto minute = static_cast<std::int64_t>(random() % (random() % 4 == 0 ? 4000 : 60));
    samples.push_back({from + minute * kMinute, static_cast<double>(random() % 300) / 10});
  }
  return samples;
}

TEST_P(Series, HoldsWhatAMapWouldHold) {
  Store store = open();
  const std::int64_t id = made(store);
  std::mt19937_64 random(5);
  Model model;
  for (int round = 0; round < 40; ++round) {
    const Samples samples = any_samples(random);
    const WriteCount expected = model.write(samples);
    const auto count = store.write(id, samples);
    ASSERT_TRUE(count) << count.error().what;
    EXPECT_EQ(count->added, expected.added);
    EXPECT_EQ(count->replaced, expected.replaced);
    EXPECT_EQ(count->same, expected.same);
    const std::int64_t from = kStart + static_cast<std::int64_t>(random() % 4000) * kMinute - day_ms;
    const std::int64_t to = from + static_cast<std::int64_t>(random() % 9000) * kMinute;
    EXPECT_EQ(store.samples(id, from, to).value(), model.samples(from, to));
  }
  const auto days = place().open().days(id, kStart - day_ms, kStart + 9 * day_ms).value();
  EXPECT_GT(days.size(), 3u);
  std::int64_t sum = 0;
  for (const DayFigures& figures : days) {
    expect_day(figures, model.day(figures.day));
    sum += figures.count;
  }
  EXPECT_EQ(sum, static_cast<std::int64_t>(model.at.size()));
}

TEST_P(Series, GivesDoublesBackToTheBit) {
  Store store = open();
  const std::int64_t id = made(store);
  std::mt19937_64 random(11);
  Samples samples{{-3 * day_ms - 1, 1.7e308}, {-5, -1.7e308}, {0, 5e-324}, {1, 0.1}, {2, -1.0 / 3}};
  for (std::int64_t i = 3; i < 400; ++i) {
    const double value = std::bit_cast<double>(random());
    if (std::isfinite(value)) samples.push_back({i * 3'600'000, value});
  }
  ASSERT_TRUE(store.write(id, samples));
  EXPECT_EQ(store.samples(id, -4 * day_ms, 40 * day_ms).value(), samples);
  const auto days = store.days(id, -4 * day_ms, 40 * day_ms).value();
  for (const DayFigures& day : days) {
    const auto of_day = store.samples(id, day.day * day_ms, (day.day + 1) * day_ms).value();
    EXPECT_EQ(day.first, of_day.front());
    EXPECT_EQ(day.last, of_day.back());
    EXPECT_EQ(day.most, std::ranges::max_element(of_day, {}, &Sample::value)->value);
  }
}

TEST_P(Series, RefusesWhatIsNoReadingAndThenWritesNothing) {
  Store store = open();
  const std::int64_t id = made(store), other = made(store, {0, "other", "on", ""});
  const double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
  const Samples good{{kStart, 1}};
  for (const Sample bad : {Sample{kStart + 1, nan}, Sample{kStart + 1, inf}, Sample{kStart + 1, -inf},
                           Sample{std::numeric_limits<std::int64_t>::max(), 1},
                           Sample{std::numeric_limits<std::int64_t>::min(), 1}}) {
    const Samples both{good.front(), bad};
    EXPECT_EQ(store.write(id, both).error().kind, FailureKind::bad_input);
    const std::vector<SeriesBatch> batches{{id, good}, {other, both}};
    EXPECT_EQ(store.write(batches).error().kind, FailureKind::bad_input);
  }
  const std::vector<SeriesBatch> unknown{{id, good}, {other + 1000, good}};
  EXPECT_EQ(store.write(unknown).error().kind, FailureKind::bad_input);
  EXPECT_TRUE(store.samples(id, 0, kStart + day_ms).value().empty());
}

TEST_P(Series, WritesSeveralSeriesAtOnce) {
  Store store = open();
  const std::int64_t a = made(store), b = made(store, {0, "b", "on", ""});
  const Samples one{{kStart, 1}}, two{{kStart, 2}, {kStart + 1, 3}}, again{{kStart, 4}};
  const auto count = store.write(std::vector<SeriesBatch>{{b, two}, {a, one}, {b, again}}).value();
  EXPECT_EQ(count.added, 3);
  EXPECT_EQ(count.replaced, 1);
  EXPECT_EQ(store.samples(b, kStart, kStart + 9).value(), (Samples{{kStart, 4}, {kStart + 1, 3}}));
  EXPECT_EQ(store.write(std::vector<SeriesBatch>{}).value().added, 0);
}

TEST_P(Series, TwoWritersOfTheSameDayLoseNothing) {
  Store store = open();
  const std::int64_t id = made(store);
  const auto write_every_other = [&](int first) {
    Store mine = open();
    for (int i = first; i < 60; i += 2) {
      const Samples one{{kStart + i * kMinute, static_cast<double>(i)}};
      ASSERT_EQ(mine.write(id, one).value().added, 1);
    }
  };
  std::thread even(write_every_other, 0), odd(write_every_other, 1);
  even.join();
  odd.join();
  Samples expected;
  for (int i = 0; i < 60; ++i) expected.push_back({kStart + i * kMinute, static_cast<double>(i)});
  EXPECT_EQ(store.samples(id, kStart, kStart + day_ms).value(), expected);
}

TEST_P(Series, WritersOfTheSameSeriesInAnyOrderDoNotBlockEachOther) {
  Store store = open();
  const std::int64_t a = made(store), b = made(store, {0, "b", "on", ""});
  const auto write_both = [&](bool turned, std::int64_t from) {
    Store mine = open();
    for (std::int64_t i = 0; i < 20; ++i) {
      const Samples one{{from + i, 1}};
      std::vector<SeriesBatch> batches{{a, one}, {b, one}};
      if (turned) std::swap(batches[0], batches[1]);
      ASSERT_TRUE(mine.write(batches));
    }
  };
  std::thread first(write_both, false, kStart), second(write_both, true, kStart + 1000);
  first.join();
  second.join();
  EXPECT_EQ(store.samples(a, kStart, kStart + day_ms).value().size(), 40u);
  EXPECT_EQ(store.samples(b, kStart, kStart + day_ms).value().size(), 40u);
}

TEST_P(Series, ADamagedDayIsAFailureAndItsFiguresNeedNoUnpacking) {
  Store store = open();
  const std::int64_t id = made(store);
  ASSERT_TRUE(store.write(id, Samples{{kStart, 1}, {kStart + day_ms, 2}}));
  *place().behind() << "UPDATE reading_day SET packed = (SELECT r.packed FROM reading_day r WHERE r.day = "
                    << day_of(kStart) << ") WHERE day = " << day_of(kStart) + 1;
  EXPECT_EQ(store.samples(id, kStart, kStart + 2 * day_ms).error().kind, FailureKind::damaged);
  EXPECT_EQ(store.samples(id, kStart, kStart + day_ms).value().size(), 1u) << "the other day is whole";
  EXPECT_EQ(store.days(id, kStart, kStart + 2 * day_ms).value().size(), 2u);
  EXPECT_EQ(store.write(id, Samples{{kStart + day_ms + 1, 2}}).error().kind, FailureKind::damaged);
}

TEST_P(Series, TakesAMonthOfMinutesInOneGo) {
  Store store = open();
  const std::int64_t id = made(store);
  Samples samples;
  for (int i = 0; i < 100 * 1440; ++i) samples.push_back({kStart + i * kMinute, 50 + i % 30 / 10.0});
  std::shuffle(samples.begin(), samples.end(), std::mt19937_64(2));
  EXPECT_EQ(store.write(id, samples).value().added, 100 * 1440);
  std::ranges::sort(samples, {}, &Sample::at_ms);
  EXPECT_EQ(store.samples(id, kStart, kStart + 100 * day_ms).value(), samples);
  EXPECT_EQ(store.days(id, kStart, kStart + 100 * day_ms).value().size(), 100u);
  EXPECT_EQ(store.write(id, samples).value().same, 100 * 1440);
}

TEST_P(Series, MoreThanAMillionReadingsADayAreRefused) {
  Store store = open();
  const std::int64_t id = made(store);
  Samples samples;
  for (int i = 0; i < 1'000'001; ++i) samples.push_back({kStart + i, 1});
  EXPECT_EQ(store.write(id, samples).error().kind, FailureKind::bad_input);
  EXPECT_TRUE(store.days(id, kStart, kStart + day_ms).value().empty());
}

INSTANTIATE_TEST_SUITE_P(On, Series, both_databases, database_name);

}  // namespace
}  // namespace firstdraw::store
