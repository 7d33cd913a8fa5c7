#include "store/pack.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <functional>
#include <limits>
#include <random>
#include <stdexcept>

#include "store/squeeze.hpp"
#include "store/value_law.hpp"

namespace firstdraw::store {
namespace {

using Samples = std::vector<Sample>;
constexpr std::int64_t kMinute = 60'000;
constexpr std::int64_t kStart = 1'790'000'000'000;  // in 2026

bool same_bits(const Samples& a, const Samples& b) {
  return std::ranges::equal(a, b, [](const Sample& x, const Sample& y) {
    return x.at_ms == y.at_ms &&
           std::bit_cast<std::uint64_t>(x.value) == std::bit_cast<std::uint64_t>(y.value);
  });
}

/// Packs, unpacks, compares to the bit; the size of the blob.
std::size_t round_trip(const Samples& samples) {
  const std::string blob = pack(samples);
  const auto back = unpack(blob);
  EXPECT_TRUE(back.has_value() && same_bits(*back, samples)) << samples.size() << " samples";
  EXPECT_EQ(pack(samples), blob) << "the same samples must give the same bytes";
  return blob.size();
}

Samples minutes(int count, const std::function<double(int)>& value) {
  Samples samples;
  for (int i = 0; i < count; ++i) samples.push_back({kStart + kMinute * i, value(i)});
  return samples;
}

/// Water of a riser: slow swings, a lag and noise of a sensor, degC.
std::function<double(int)> water() {
  return [random = std::mt19937_64(7), noise = std::normal_distribution<double>(), lag = 0.0](int i) mutable {
    lag = 0.98 * lag + 0.05 * noise(random);
    return 52 + 2 * std::sin(i * 0.026) + lag + 0.08 * noise(random);
  };
}

TEST(Pack, OneReadingAndExtremesOfTimeAndValue) {
  round_trip({{0, 0}});
  round_trip({{-1, -0.0}});
  round_trip({{latest_ms, 1e308}});
  round_trip({{-latest_ms, std::numeric_limits<double>::denorm_min()}, {latest_ms, -1.7e308}});
  round_trip({{1, 9007199254740993.0}, {2, -9007199254740992.0}, {3, 0.1}});
}

TEST(Pack, AMinuteLogOfTenthsTakesLessThanHalfAByteAReading) {
  auto temp = water();
  const auto size = round_trip(minutes(1440, [&](int i) { return std::round(temp(i) * 10) / 10; }));
  EXPECT_LT(size, 720u);
}

TEST(Pack, ASwitchThatHoldsForHoursTakesNextToNothing) {
  EXPECT_LT(round_trip(minutes(1440, [](int i) { return i / 200 % 2 == 0 ? 1.0 : 0.0; })), 60u);
}

TEST(Pack, FahrenheitAndRegisterScalesPackLikeDecimals) {
  auto temp = water();
  Samples tenths_f, scaled;
  for (int i = 0; i < 1440; ++i) {
    const double celsius = temp(i);
    tenths_f.push_back({kMinute * i, (std::round(celsius * 18 + 320) / 10 - 32) * 5 / 9});
    scaled.push_back({kMinute * i, std::round(celsius * 10) * 0.1});
  }
  EXPECT_LT(round_trip(tenths_f), 800u);
  EXPECT_LT(round_trip(scaled), 720u);
  EXPECT_EQ(whole_numbers(tenths_f)->law, (ValueLaw{1, 1, false}));
  EXPECT_EQ(whole_numbers(scaled)->law, (ValueLaw{0, 1, true}));
}

TEST(Pack, ValuesOfNoLawButFewOfThemPackByATable) {
  auto temp = water();
  const auto odd = [&](int i) { return std::round(temp(i) * 10) / 3.7; };
  EXPECT_LT(round_trip(minutes(1440, odd)), 1100u);
}

TEST(Pack, LateAndMissingReadingsCostLittle) {
  std::mt19937_64 random(3);
  Samples samples;
  std::int64_t at = kStart;
  for (int i = 0; i < 1440; ++i) {
    at += random() % 100 == 0 ? 17 * kMinute : kMinute;
    samples.push_back({at + static_cast<std::int64_t>(random() % 20 == 0) * 1000, 55});
  }
  EXPECT_LT(round_trip(samples), 500u);
}

double any_double(std::mt19937_64& random) {
  while (true) {
    const double value = std::bit_cast<double>(random());
    if (std::isfinite(value)) return value;
  }
}

using Source = std::function<double(std::mt19937_64&)>;
const std::vector<Source>& sources() {
  static const auto whole = [](std::mt19937_64& random, int span) {
    return static_cast<double>(static_cast<int>(random() % static_cast<unsigned>(span)) - span / 2);
  };
  static const std::vector<Source> all{
      any_double,
      [](auto& random) { return static_cast<double>(static_cast<float>(whole(random, 1 << 24) / 977)); },
      [](auto& random) { return whole(random, 2); },
      [](auto& random) { return whole(random, 1 << 30) / 1e6; },
      [](auto& random) { return whole(random, 2000) / 16; },
      [](auto& random) { return (whole(random, 3000) / 10 - 32) * 5 / 9; },
      [](auto& random) { return whole(random, 9999) / 1e3 * 1000; },
      [](auto& random) { return whole(random, 9999) * 1 / 1000; },
      [](auto& random) { return whole(random, 999) / 10 * 1 / 100; },
      [](auto& random) { return whole(random, 1000) * 0.01; },
      [](auto& random) { return random() % 9 == 0 ? any_double(random) : whole(random, 50) / 10; },
  };
  return all;
}

TEST(Pack, WhateverIsPackedComesBackToTheBit) {
  std::mt19937_64 random(20261129);
  for (int round = 0; round < 800; ++round) {
    const Source& source = sources()[random() % sources().size()];
    const std::size_t count = 1 + random() % (round % 20 == 0 ? 5000 : 120);
    const std::int64_t longest = 1 + static_cast<std::int64_t>(random() % 100'000'000);
    Samples samples;
    std::int64_t at = static_cast<std::int64_t>(random() % 4'000'000'000'000) - 2'000'000'000'000;
    for (std::size_t i = 0; i < count; ++i) {
      at += random() % 3 == 0 ? 1 + static_cast<std::int64_t>(random()) % longest : longest;
      at = std::max(at, samples.empty() ? at : samples.back().at_ms + 1);
      samples.push_back({at, source(random)});
    }
    round_trip(samples);
  }
}

TEST(Pack, AsManyAsADayMayHoldAndNoMore) {
  Samples samples;
  for (std::size_t i = 0; i < most_samples_a_day; ++i)
    samples.push_back({static_cast<std::int64_t>(i) * 86, static_cast<double>(i % 7)});
  round_trip(samples);
  samples.push_back({86'399'999, 1});
  EXPECT_THROW(pack(samples), std::logic_error);
  EXPECT_THROW(pack(Samples{}), std::logic_error);
  EXPECT_THROW(pack(Samples{{5, 1}, {5, 2}}), std::logic_error);
  EXPECT_THROW(pack(Samples{{latest_ms + 1, 1}}), std::logic_error);
}

TEST(Unpack, ACutBlobIsDamaged) {
  const std::string blob = pack(minutes(300, water()));
  for (std::size_t size = 0; size < blob.size(); ++size) {
    const auto back = unpack(std::string_view(blob).substr(0, size));
    ASSERT_FALSE(back) << size;
    EXPECT_EQ(back.error().kind, FailureKind::damaged);
  }
  EXPECT_FALSE(unpack(blob + "x"));
  EXPECT_FALSE(unpack(blob + blob));
}

TEST(Unpack, AnAlteredBitIsNoticed) {
  const Samples samples = minutes(200, water());
  std::string blob = pack(samples);
  int passed = 0;
  for (std::size_t bit = 0; bit < blob.size() * 8; ++bit) {
    const auto mask = static_cast<char>(1U << (bit % 8));
    blob[bit / 8] = static_cast<char>(blob[bit / 8] ^ mask);
    const auto back = unpack(blob);
    if (back) {
      ++passed;
      EXPECT_TRUE(same_bits(*back, samples)) << bit;
    }
    blob[bit / 8] = static_cast<char>(blob[bit / 8] ^ mask);
  }
  EXPECT_LE(passed, 8) << "but for the few bits of a zstd frame that mean nothing";
}

TEST(Unpack, ALaterLayoutIsNamed) {
  std::string blob = pack(Samples{{1, 2}});
  blob.front() = 2;
  EXPECT_EQ(unpack(blob).error().kind, FailureKind::newer);
}

/// Bytes of a day written by hand from docs/archive.md.
Result<Samples> by_hand(std::initializer_list<int> bytes) {
  std::string content;
  for (const int byte : bytes) content += static_cast<char>(static_cast<unsigned char>(byte));
  return unpack('\1' + squeezed(content));
}

TEST(Unpack, ReadsTheDocumentedLayout) {
  // Three readings, first at 1000 ms, usual step 60, unit 10: steps 60 and 80. Whole numbers in SI with one
  // decimal, base 505, stride 5, as differences: 0, 1, -2 → 50.5, 51.0, 50.0.
  const auto back =
      by_hand({3, 0xd0, 0x0f, 60, 10, 0, 4, /*form*/ 0, 0, 1, 0, 0xf2, 0x07, 5, /*differences*/ 1, 0, 2, 3});
  ASSERT_TRUE(back);
  EXPECT_EQ(*back, (Samples{{1000, 50.5}, {1060, 51.0}, {1140, 50.0}}));
}

TEST(Unpack, RefusesContentsThatContradictThemselves) {
  EXPECT_TRUE(by_hand({1, 2, 0, 0, 0, 0, 0, 1, 0, 0}));
  EXPECT_FALSE(by_hand({0})) << "no reading";
  EXPECT_FALSE(by_hand({0xc1, 0x84, 0x3d, 0})) << "more than a day may hold";
  EXPECT_FALSE(by_hand({1, 2, 0, 6, 0, 0, 0, 1, 0, 0})) << "unit of no law";
  EXPECT_FALSE(by_hand({1, 2, 0, 0, 7, 0, 0, 1, 0, 0})) << "seven decimals";
  EXPECT_FALSE(by_hand({1, 2, 0, 0, 0, 2, 0, 1, 0, 0})) << "neither divided nor multiplied";
  EXPECT_FALSE(by_hand({1, 2, 0, 0, 0, 0, 0, 0, 0, 0})) << "stride of nothing";
  EXPECT_FALSE(by_hand({1, 2, 3, 0})) << "unknown form";
  EXPECT_FALSE(by_hand({1, 2, 0, 0, 0, 0, 0, 1, 0, 0, 0})) << "more behind it";
  EXPECT_FALSE(by_hand({2, 2, 60, 1, 0x77, 0, 0, 0, 0, 0, 1, 0, 0, 0})) << "time that runs back";
  EXPECT_FALSE(by_hand({1, 2, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2})) << "a place outside the table";
  EXPECT_FALSE(by_hand({1, 2, 2, 0x7f, 0xf8, 0, 0, 0, 0, 0, 0})) << "not a number";
  EXPECT_FALSE(by_hand({1, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 1, 0, 0, 0, 0, 0, 1, 0, 0}))
      << "a time beyond all";
}

TEST(Unpack, DoesNotFollowAFrameThatPromisesTooMuch) {
  const std::string bomb(21'000'000, '\0');
  EXPECT_FALSE(unpack('\1' + squeezed(bomb)));
}

}  // namespace
}  // namespace firstdraw::store
