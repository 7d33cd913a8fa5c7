#include "watch/evidence.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "plan/small_job.hpp"
#include "watch/evidence_place.hpp"

namespace firstdraw::watch {
namespace {

constexpr std::int64_t minute_ms = 60'000, hour_ms = 3'600'000;

week::Zone chicago() { return *week::read_zone("America/Chicago", 2025, 2027); }

job::Job watched_job() {
  job::Job job = plan::small_job();
  job.requirements.guideline = "hse-hsg274";  // 50 degC at outlets
  job.groups[0].maintain_c = 55;
  job.groups[0].high_alarm_c = 60;
  job::Outlet tap;
  tap.id = "O1";
  tap.node = "c";
  tap.fixture = "shower";
  job.outlets = {tap};
  return job;
}

/// Every 10 min of a month: 55 degC but where told.
struct Telling {
  LoggedSeries series;
  Month month;
  explicit Telling(const week::Zone& zone, int year, int number, const char* place = "main")
      : series{{1, "s", "temperature", place}, {}}, month(month_of(zone, year, number)) {
    for (std::int64_t at = month.begin_ms; at < month.end_ms; at += 10 * minute_ms) {
      const double wobble = 0.1 * static_cast<double>((at / minute_ms / 10) % 3);
      series.samples.push_back({at, 55 + wobble});
    }
  }
  void set(double from_h, double to_h, double value) {
    for (store::Sample& sample : series.samples) {
      const double hour = static_cast<double>(sample.at_ms - month.begin_ms) / hour_ms;
      if (hour >= from_h && hour < to_h)
        sample.value = value + 0.1 * static_cast<double>((sample.at_ms / minute_ms / 10) % 3);
    }
  }
  void drop(double from_h, double to_h) {
    std::erase_if(series.samples, [&](const store::Sample& sample) {
      const double hour = static_cast<double>(sample.at_ms - month.begin_ms) / hour_ms;
      return hour >= from_h && hour < to_h;
    });
  }
  Evidence page(const job::Job& job, const week::Zone& zone, int year, int number) const {
    Logged logged{month.begin_ms, month.end_ms, {series}};
    return evidence(job, plan::Plan{}, logged, zone, year, number, {});
  }
};

// Hours of the months counted by hand: 31 days are 744 h, the clock put forward takes one, put back adds one.
TEST(Evidence, MonthsOfAChangingClockHaveOddHours) {
  const week::Zone zone = chicago();
  for (const auto& [month, hours] : {std::pair{1, 744.0}, {2, 672.0}, {3, 743.0}, {11, 721.0}}) {
    const Telling told(zone, 2026, month);
    const Evidence page = told.page(watched_job(), zone, 2026, month);
    ASSERT_EQ(page.places.size(), 1u);
    EXPECT_NEAR(page.places[0].logged_h, hours, 1e-6) << month;
    EXPECT_NEAR(page.places[0].missing_h, 0, 1e-6);
    EXPECT_EQ(page.places[0].day_least_c.size(), static_cast<std::size_t>(week::days_in_month(2026, month)));
    EXPECT_TRUE(page.findings.empty()) << page.findings.front().id << ": " << page.findings.front().what;
  }
}

TEST(Evidence, HoursBelowAboveAndInTheBandAreThoseOfTheLog) {
  const week::Zone zone = chicago();
  Telling told(zone, 2026, 1);
  told.set(30, 37, 47);    // below 50, above the band
  told.set(50, 52.5, 40);  // in the band
  told.set(100, 101, 65);  // above the high alarm
  const Evidence page = told.page(watched_job(), zone, 2026, 1);
  const PlaceEvidence& place = page.places.at(0);
  EXPECT_NEAR(place.below_h, 9.5, 1e-6);
  EXPECT_NEAR(place.longest_below_h, 7, 1e-6);
  EXPECT_NEAR(place.band_h, 2.5, 1e-6);
  EXPECT_NEAR(place.above_h, 1, 1e-6);
  EXPECT_NEAR(place.least_c, 40, 0.21);
  EXPECT_NEAR(place.most_c, 65, 0.21);
  EXPECT_EQ(place.least_limit_c, 50);
  EXPECT_NEAR(place.day_below_h.at(1), 7, 1e-6);  // hours 30 to 37 lie on 2 January
  EXPECT_NEAR(place.day_below_h.at(2), 2.5, 1e-6);
  EXPECT_NEAR(place.day_least_c.at(2), 40, 0.21);
  std::vector<std::string> ids;
  for (const auto& finding : page.findings) ids.push_back(finding.id);
  EXPECT_THAT(ids, testing::UnorderedElementsAre("watch-cold", "watch-hot"));
}

TEST(Evidence, AReadingStandsForThreeIntervalsAndNoLonger) {
  const week::Zone zone = chicago();
  Telling told(zone, 2026, 1);
  told.set(300, 400, 45);
  told.drop(310, 390);
  const Evidence page = told.page(watched_job(), zone, 2026, 1);
  const PlaceEvidence& place = page.places.at(0);
  // The last reading before the gap stands for 30 min, 20 of them inside the gap.
  EXPECT_NEAR(place.missing_h, 80 - 20.0 / 60, 1e-6);
  EXPECT_NEAR(place.below_h, 20 + 20.0 / 60, 1e-6);
  EXPECT_NEAR(place.longest_below_h, 10 + 20.0 / 60, 1e-6) << "a gap ends a stay";
  EXPECT_TRUE(std::isnan(place.day_least_c.at(14)));
  EXPECT_TRUE(std::ranges::any_of(page.findings, [](const auto& f) { return f.id == "watch-gap"; }));
}

TEST(Evidence, ColdTapsBetweenDrawsAreNoFinding) {
  const week::Zone zone = chicago();
  Telling told(zone, 2026, 1, "O1");
  told.set(0, 700, 25);
  told.set(700, 800, 42);
  const Evidence page = told.page(watched_job(), zone, 2026, 1);
  EXPECT_GT(page.places.at(0).below_h, 600);
  EXPECT_TRUE(page.findings.empty()) << page.findings.front().id << ": " << page.findings.front().what;
  EXPECT_TRUE(
      std::ranges::any_of(page.notes, [](const std::string& n) { return n.contains("between draws"); }));
}

TEST(Evidence, WhatTheLogsShowedBecomesFindings) {
  const week::Zone zone = chicago();
  Telling told(zone, 2026, 1);
  Judged judged;
  judged.estimates = {{"main", "R2", {1.4, 1.8, 2.2, true}, {}, {0.6, 0.7, 0.8, true}, 0.1, 100, {}, {}}};
  judged.changes = {{"s", told.month.begin_ms + 24 * hour_ms, told.month.begin_ms,
                     told.month.begin_ms + 48 * hour_ms, 50, 45, 0.001, "It fell."}};
  judged.schedules = {{"main", 0.8, 3600, 0, true, {"The controller's clock is 1 h fast."}}};
  Logged logged{told.month.begin_ms, told.month.end_ms, {told.series}};
  const Evidence page = evidence(watched_job(), plan::Plan{}, logged, zone, 2026, 1, {}, judged);
  std::vector<std::string> ids;
  for (const auto& finding : page.findings) ids.push_back(finding.id);
  EXPECT_THAT(ids, testing::UnorderedElementsAre("watch-insulation", "watch-cable", "watch-change",
                                                 "watch-schedule"));
  judged.estimates[0].conductance_frac.known = judged.estimates[0].cable_frac.known = false;
  judged.schedules[0].told = false;
  judged.changes[0].earliest_ms = judged.changes[0].latest_ms = told.month.end_ms + 1;
  EXPECT_TRUE(evidence(watched_job(), plan::Plan{}, logged, zone, 2026, 1, {}, judged).findings.empty());
}

TEST(Evidence, AnAcceptedFindingSaysSo) {
  const week::Zone zone = chicago();
  Telling told(zone, 2026, 1);
  told.set(30, 60, 40);
  job::Job job = watched_job();
  job.accepted = {{"watch-cold", "main", "closed for works", "A. Example", "2026-02-01"}};
  const Evidence page = told.page(job, zone, 2026, 1);
  ASSERT_EQ(page.findings.size(), 1u);
  EXPECT_TRUE(page.findings[0].accepted);
}

TEST(Evidence, JsonHasWhatThePageHas) {
  const week::Zone zone = chicago();
  const Telling told(zone, 2026, 3);
  const auto json = to_json(watched_job(), told.page(watched_job(), zone, 2026, 3));
  EXPECT_EQ(json["month"], "2026-03");
  EXPECT_EQ(json["zone"], "America/Chicago");
  EXPECT_EQ(json["places"][0]["day_least_c"].size(), 31u);
  EXPECT_GE(json["notes"].size(), 3u);
  EXPECT_GE(json["sources"].size(), 2u);
}

}  // namespace
}  // namespace firstdraw::watch
