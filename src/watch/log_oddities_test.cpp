// Oddities that were planted are found, and clean noisy logs have none. The noise is drawn here, not by the
// program; the planted truth is the test's own.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <random>
#include <stdexcept>

#include "watch/log_import.hpp"

namespace firstdraw::watch {
namespace {

using Kind = Oddity::Kind;
using testing::HasSubstr;

constexpr std::int64_t minute_ms = 60'000, hour_ms = 60 * minute_ms, day_ms = 24 * hour_ms;
constexpr std::int64_t begin_ms = 1'788'220'800'000;  // 2026-09-01T00:00Z, a Tuesday

const LogColumn pipe{"Pipe (°C)", "main.temperature", "temperature", "main", "°C"};

/// A pipe that cools at night and is drawn from by day, as a sensor with that noise and resolution reads it.
struct Scene {
  unsigned seed = 1;
  int days = 14;
  std::int64_t step_ms = 5 * minute_ms;
  double noise_k = 0.1, resolution_k = 0.1;
};
std::vector<store::Sample> noisy(const Scene& scene) {
  std::mt19937 random(scene.seed);
  std::normal_distribution<double> normal(0, 1);
  std::vector<store::Sample> samples;
  double slow_k = 0;
  for (std::int64_t at = 0; at < scene.days * day_ms; at += scene.step_ms) {
    const double hour = static_cast<double>(at % day_ms) / static_cast<double>(hour_ms);
    slow_k +=
        0.02 * (normal(random) * std::sqrt(static_cast<double>(scene.step_ms) / 300'000) - slow_k * 0.2);
    const double drawn_k = hour > 6 && hour < 22 ? std::abs(normal(random)) * 0.6 : 0;
    const double true_c = 51 + 1.5 * std::sin(hour / 24 * 2 * std::numbers::pi) + slow_k + drawn_k;
    const double read_c = true_c + scene.noise_k * normal(random);
    samples.push_back({begin_ms + at, std::round(read_c / scene.resolution_k) * scene.resolution_k});
  }
  return samples;
}

/// The samples as a file with times in UTC and four more columns of nothing.
std::string text_of(const std::vector<store::Sample>& samples) {
  std::string text = "time;Pipe (°C)\n";
  for (const auto& sample : samples)
    text += std::to_string(sample.at_ms) + ";" + std::to_string(sample.value) + "\n";
  return text;
}
LogFormat format() {
  LogFormat format;
  format.delimiter = ';';
  format.clock = ClockKind::unix_ms;
  format.missing = {""};
  format.columns = {pipe};
  return format;
}
LogImport read(const std::string& text, const LogFormat& as = format()) {
  auto import = import_log(text, "a.log", as);
  if (!import) throw std::runtime_error(import.error().front().text());
  return *std::move(import);
}
std::vector<Oddity> of_kind(const std::vector<Oddity>& all, Kind kind) {
  std::vector<Oddity> found;
  for (const auto& one : all) {
    if (one.kind == kind) found.push_back(one);
  }
  return found;
}
std::string said(const std::vector<Oddity>& all) {
  std::string text;
  for (const auto& one : all) text += std::string(name_of(one.kind)) + ": " + one.said + "\n";
  return text;
}

TEST(Oddities, NoneInCleanNoisyLogs) {
  // 120 logs of two weeks: three noises, four resolutions, ten seeds. A larger run of this kind (four noises,
  // four resolutions, steps of 1, 5 and 15 min, half of the logs without draws: 5760 logs) had none either.
  int alarms = 0;
  for (const double noise_k : {0.02, 0.1, 0.3}) {
    for (const double resolution_k : {0.01, 0.1, 0.5, 1.0}) {
      for (unsigned seed = 1; seed <= 10; ++seed) {
        const auto samples = noisy({.seed = seed, .noise_k = noise_k, .resolution_k = resolution_k});
        const auto found = oddities_of(pipe, samples, units::System::metric);
        EXPECT_TRUE(found.empty()) << noise_k << " K, to " << resolution_k << " K: " << said(found);
        alarms += static_cast<int>(found.size());
      }
    }
  }
  EXPECT_EQ(alarms, 0);
}

struct Sticking {
  double noise_k, resolution_k;
  int hours;
};
class StuckSensor : public testing::TestWithParam<Sticking> {};
TEST_P(StuckSensor, IsFoundWhereItStuck) {
  const auto& scene = GetParam();
  for (unsigned seed = 1; seed <= 5; ++seed) {
    auto samples = noisy({.seed = seed, .noise_k = scene.noise_k, .resolution_k = scene.resolution_k});
    const std::size_t from = 1234, to = from + static_cast<std::size_t>(scene.hours) * 12;
    for (std::size_t i = from; i < to; ++i) samples[i].value = samples[from].value;
    const auto found = of_kind(oddities_of(pipe, samples, units::System::metric), Kind::stuck);
    ASSERT_EQ(found.size(), 1U) << seed << ": " << said(found);
    EXPECT_NEAR(static_cast<double>(found[0].from_ms), static_cast<double>(samples[from].at_ms), 1.5e6);
    EXPECT_NEAR(static_cast<double>(found[0].to_ms), static_cast<double>(samples[to - 1].at_ms), 1.5e6);
  }
}
// The finer and noisier a sensor, the sooner it shows.
INSTANTIATE_TEST_SUITE_P(Noises, StuckSensor,
                         testing::Values(Sticking{0.1, 0.1, 6}, Sticking{0.1, 0.01, 4}, Sticking{0.3, 0.1, 4},
                                         Sticking{0.02, 0.1, 24}, Sticking{0.3, 0.5, 24}));

TEST(Oddities, ASensorThatNeverMovesIsStuck) {
  auto samples = noisy({.days = 3});
  for (auto& sample : samples) sample.value = 21.0;
  EXPECT_EQ(of_kind(oddities_of(pipe, samples, units::System::metric), Kind::stuck).size(), 1U);
}

TEST(Oddities, ASetPointAndACableThatIsOffMayStay) {
  auto samples = noisy({.days = 3});
  for (auto& sample : samples) sample.value = 0;
  LogColumn column = pipe;
  column.quantity = "current";
  EXPECT_TRUE(oddities_of(column, samples, units::System::metric).empty());
  column.quantity = "set-point";
  EXPECT_TRUE(oddities_of(column, samples, units::System::metric).empty());
}

TEST(Oddities, AGapIsAGapAndOnlyOnce) {
  auto samples = noisy({});
  samples.erase(samples.begin() + 1000, samples.begin() + 1100);
  const LogImport log = read(text_of(samples));
  ASSERT_EQ(log.oddities.size(), 1U) << said(log.oddities);
  EXPECT_EQ(log.oddities[0].kind, Kind::gap);
  EXPECT_EQ(log.oddities[0].from_ms, samples[999].at_ms);
  EXPECT_EQ(log.oddities[0].to_ms, samples[1000].at_ms);
  EXPECT_EQ(log.oddities[0].line, 1002);
  EXPECT_EQ(log.oddities[0].count, 100);
}

TEST(Oddities, RowsSentTwiceAreTakenOnce) {
  const auto samples = noisy({.days = 2});
  auto sent = samples;
  sent.insert(sent.begin() + 300, samples.begin() + 260, samples.begin() + 300);
  const LogImport log = read(text_of(sent));
  ASSERT_EQ(log.oddities.size(), 1U) << said(log.oddities);
  EXPECT_EQ(log.oddities[0].kind, Kind::duplicate);
  EXPECT_EQ(log.oddities[0].count, 40);
  EXPECT_EQ(log.series[0].samples.size(), samples.size());
}

TEST(Oddities, AClockSetBackIsNoDuplicate) {
  auto samples = noisy({.days = 4});
  for (std::size_t i = 600; i < samples.size(); ++i) samples[i].at_ms -= 97 * minute_ms;
  const LogImport log = read(text_of(samples));
  ASSERT_EQ(log.oddities.size(), 1U) << said(log.oddities);
  EXPECT_EQ(log.oddities[0].kind, Kind::clock_jump);
  EXPECT_THAT(log.oddities[0].said, HasSubstr("set back by 1 h 37 min"));
}

TEST(Oddities, AClockSetForwardIsNoGapWhereTheReadingsGoOn) {
  // A fine sensor on a pipe that changes much in half a day and little in five minutes.
  int jumps = 0, wrong = 0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Scene scene{.seed = seed, .noise_k = 0.01, .resolution_k = 0.01};
    auto samples = noisy(scene);
    for (auto& sample : samples) {
      const auto hours = static_cast<double>(sample.at_ms - begin_ms) / static_cast<double>(hour_ms);
      sample.value = 51 + 6 * std::sin(hours / 24 * 2 * std::numbers::pi) + 0.02 * (sample.value - 51);
    }
    auto set = samples, lost = samples;
    for (std::size_t i = 1500; i < set.size(); ++i) set[i].at_ms += 7 * hour_ms;
    lost.erase(lost.begin() + 1500, lost.begin() + 1584);
    jumps += static_cast<int>(of_kind(read(text_of(set)).oddities, Kind::clock_jump).size());
    wrong += static_cast<int>(of_kind(read(text_of(lost)).oddities, Kind::clock_jump).size());
  }
  EXPECT_EQ(jumps, 20);
  EXPECT_EQ(wrong, 0);
}

TEST(Oddities, AClockThatLostItsTimeIsLeftOut) {
  auto samples = noisy({.days = 3});
  for (std::size_t i = 300; i < 340; ++i)
    samples[i].at_ms = 946'684'800'000 + static_cast<std::int64_t>(i - 300) * 5 * minute_ms;  // 2000-01-01
  const LogImport log = read(text_of(samples));
  const auto jumps = of_kind(log.oddities, Kind::clock_jump);
  ASSERT_EQ(jumps.size(), 1U) << said(log.oddities);
  EXPECT_EQ(jumps[0].count, 40);
  EXPECT_EQ(log.series[0].samples.size(), samples.size() - 40);
  EXPECT_GE(log.series[0].samples.front().at_ms, begin_ms);
}

TEST(Oddities, DaylightSavingInALogThatClaimsAFixedOffset) {
  // Europe's change of 25 October 2026, 01:00 UTC; the log's stamps follow it, the format says UTC+2.
  auto samples = noisy({.days = 4, .noise_k = 0.05, .resolution_k = 0.01});
  constexpr std::int64_t change_ms = 1'792'890'000'000;
  for (auto& sample : samples) sample.at_ms += change_ms - 2 * day_ms - begin_ms;
  LogFormat fixed = format();
  fixed.clock = ClockKind::fixed;
  std::string text = "time;Pipe (°C)\n";
  for (const auto& sample : samples) {
    const std::int64_t local = sample.at_ms + (sample.at_ms < change_ms ? 2 : 1) * hour_ms;
    const std::int64_t of_day = local % day_ms / 1000;
    const std::chrono::year_month_day date{
        std::chrono::sys_days(std::chrono::days(static_cast<int>(local / day_ms)))};
    char stamp[40];
    std::snprintf(stamp, sizeof stamp, "%04d-%02u-%02u %02d:%02d:%02d", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                  static_cast<int>(of_day / 3600), static_cast<int>(of_day / 60 % 60),
                  static_cast<int>(of_day % 60));
    text += std::string(stamp) + ";" + std::to_string(sample.value) + "\n";
  }
  fixed.utc_offset_s = 7200;
  const LogImport log = read(text, fixed);
  const auto jumps = of_kind(log.oddities, Kind::clock_jump);
  ASSERT_EQ(jumps.size(), 1U) << said(log.oddities);
  EXPECT_THAT(jumps[0].said, HasSubstr("daylight saving"));
  // Read by the zone instead there is nothing odd, and every moment is right.
  LogFormat local = fixed;
  local.clock = ClockKind::local;
  local.zone = "Europe/Berlin";
  local.utc_offset_s = 0;
  const LogImport right = read(text, local);
  EXPECT_TRUE(right.oddities.empty()) << said(right.oddities);
  ASSERT_EQ(right.series[0].samples.size(), samples.size());
  for (std::size_t i = 0; i < samples.size(); ++i)
    ASSERT_EQ(right.series[0].samples[i].at_ms, samples[i].at_ms) << i;
}

TEST(Oddities, TimesThatTheZoneSkipped) {
  const std::string text =
      "time;Pipe (°C)\n2026-03-29 01:30;50.1\n2026-03-29 02:30;50.2\n2026-03-29 03:30;50.3\n2026-03-29 "
      "04:30;50.1\n";
  LogFormat local = format();
  local.clock = ClockKind::local;
  local.zone = "Europe/Berlin";
  const auto jumps = of_kind(read(text, local).oddities, Kind::clock_jump);
  ASSERT_EQ(jumps.size(), 1U);
  EXPECT_EQ(jumps[0].line, 3);
  EXPECT_THAT(jumps[0].said, HasSubstr("never showed this time"));
}

TEST(Oddities, ValuesThatCannotBeAreLeftOut) {
  auto samples = noisy({.days = 2});
  for (std::size_t i = 100; i < 103; ++i) samples[i].value = 850;
  const LogImport log = read(text_of(samples));
  ASSERT_EQ(log.oddities.size(), 1U) << said(log.oddities);
  EXPECT_EQ(log.oddities[0].kind, Kind::out_of_range);
  EXPECT_EQ(log.oddities[0].count, 3);
  EXPECT_EQ(log.series[0].samples.size(), samples.size() - 3);
}

TEST(Oddities, CellsThatAreNoNumberKeepTheirRow) {
  auto text = text_of(noisy({.days = 1}));
  const std::size_t at = text.find('\n', 2000);
  text.insert(at + 1, "1788300000001;burnt\n");
  const LogImport log = read(text);
  ASSERT_EQ(log.oddities.size(), 1U) << said(log.oddities);
  EXPECT_EQ(log.oddities[0].kind, Kind::unreadable);
  EXPECT_THAT(log.oddities[0].said, HasSubstr("burnt"));
}

TEST(Oddities, ManyAlikeAreCounted) {
  std::string text = "time;Pipe (°C)\n";
  for (int i = 0; i < 5000; ++i) text += std::to_string(begin_ms + i * minute_ms * (1 + i % 7)) + ";50\n";
  EXPECT_LT(read(text).oddities.size(), 500U);
}

}  // namespace
}  // namespace firstdraw::watch
