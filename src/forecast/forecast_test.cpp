// The whole way from a small invented job to its answers: what must not matter does not, and what must does.
#include "forecast/forecast.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "plan/small_job.hpp"

namespace firstdraw::forecast {
namespace {

using nlohmann::json;

job::Outlet small_outlet(const std::string& id, const std::string& node, const std::string& fixture,
                         int count) {
  job::Outlet outlet;
  outlet.id = id;
  outlet.node = node;
  outlet.fixture = fixture;
  outlet.count = count;
  outlet.space = "ceiling";
  outlet.runout_pipe = plan::pipe_named("copper L 1/2");
  outlet.runout_length_m = 3;
  return outlet;
}

job::Job washing_job() {
  job::Job job = plan::small_job();
  job.outlets = {small_outlet("O1", "c", "lavatory", 2), small_outlet("O2", "d", "shower", 1),
                 small_outlet("O3", "b", "kitchen-sink", 1)};
  return job;
}

struct Case {
  job::Job job = washing_job();
  plan::Plan plan = plan::make_plan(job, {.samples = 20});
  ForecastOptions options;

  Case() {
    options.days = 2;
    options.compare = false;
    options.record_every_s = 3600;
  }
  Forecast run() const { return forecast(job, plan, options); }
  json as_json() const { return to_json(job, run()); }
};

const OutletAnswer& tap(const Forecast& forecast, const std::string& id) {
  return *std::ranges::find(forecast.outlets, id, &OutletAnswer::tap);
}

TEST(Forecast, AnswersForEveryTapRunAndGroup) {
  const Case small;
  const Forecast answer = small.run();
  EXPECT_EQ(answer.outlets.size(), 4U) << "O1 counts twice";
  EXPECT_EQ(answer.runs.size(), small.job.runs.size());
  EXPECT_EQ(answer.groups.size(), 1U);
  EXPECT_DOUBLE_EQ(answer.days, 2);
  EXPECT_FALSE(answer.stopped);
  EXPECT_EQ(answer.members, 1);
  EXPECT_GT(answer.building.litres_per_day, 0);
  EXPECT_GT(answer.building.cable_kwh_per_day, 0);
  EXPECT_LT(std::abs(answer.building.balance_residual_frac), 1e-6) << "heat that comes in goes out or stays";
  ASSERT_NE(answer.worst_tap, draw::none);
  EXPECT_FALSE(answer.draws.empty());
  for (const OutletAnswer& outlet : answer.outlets) {
    EXPECT_LE(outlet.end_c.p50, 60) << "nothing is hotter than the heater stores";
    EXPECT_LE(outlet.wasted_litres_per_day, outlet.litres_per_day);
  }
}

TEST(Forecast, IsTheSameWhenLookedAtAndShowsItsFirstMember) {
  Case small;
  small.options.ensemble = 3;
  small.options.threads = 2;
  const std::string alone = small.as_json().dump();
  std::vector<double> seen_until_s;
  std::vector<float> last_seen_c;
  small.options.look = [&](const draw::Scene& nominal, const draw::Records& so_far) {
    EXPECT_EQ(so_far.run_c.size(), so_far.time_s.size() * nominal.runs.size());
    seen_until_s.push_back(so_far.time_s.back());
    last_seen_c = so_far.run_c;
  };
  const Forecast watched = small.run();
  EXPECT_EQ(to_json(small.job, watched).dump(), alone);
  ASSERT_EQ(seen_until_s.size(), 49u) << "of the first member alone, once an hour from the first";
  EXPECT_TRUE(std::ranges::is_sorted(seen_until_s));
  EXPECT_EQ(last_seen_c, watched.records.run_c) << "the last look sees all of it";
}

TEST(Forecast, AnyNumberOfThreadsGivesTheSameBits) {
  Case small;
  small.options.ensemble = 6;
  small.options.compare = true;
  const std::string once = small.as_json().dump();
  for (const int threads : {2, 5}) {
    small.options.threads = threads;
    EXPECT_EQ(small.as_json().dump(), once) << threads;
  }
}

TEST(Forecast, TheSeedDecidesTheDraws) {
  Case small;
  const std::string once = small.as_json().dump();
  EXPECT_EQ(small.as_json().dump(), once);
  small.options.seed = 2;
  EXPECT_NE(small.as_json().dump(), once);
}

TEST(Forecast, MembersDifferAndOnlyTheFirstKeepsItsDraws) {
  Case small;
  const Forecast alone = small.run();
  small.options.ensemble = 8;
  const Forecast many = small.run();
  EXPECT_EQ(many.members, 8);
  EXPECT_EQ(many.draws.size(), alone.draws.size());
  EXPECT_EQ(many.records.run_c, alone.records.run_c);
  EXPECT_LT(many.member_cable_kwh_per_day.p5, many.member_cable_kwh_per_day.p95);
  EXPECT_EQ(alone.member_cable_kwh_per_day.p5, alone.member_cable_kwh_per_day.p95);
}

/// Numbers of two answers to the same question asked in another order: sums may round otherwise.
void expect_alike(const json& one, const json& other, const std::string& where) {
  if (one.is_number() && other.is_number()) {
    const double a = one.get<double>(), b = other.get<double>();
    EXPECT_NEAR(a, b, 1e-6 * std::max(1.0, std::abs(a))) << where;
  } else if (one.is_object() && other.is_object()) {
    for (const auto& [key, value] : one.items())
      expect_alike(value, other.at(key), std::string(where).append("/").append(key));
  } else if (one.is_array() && other.is_array() && one.size() == other.size()) {
    for (std::size_t i = 0; i < one.size(); ++i)
      expect_alike(one[i], other[i], std::string(where).append("/").append(std::to_string(i)));
  } else {
    EXPECT_EQ(one, other) << where;
  }
}

json by_id(const json& list, const char* key) {
  json object = json::object();
  for (const json& item : list) object[item.at(key).get<std::string>()] = item;
  return object;
}

TEST(Forecast, TheOrderOfRowsDoesNotMatter) {
  Case small, shuffled;
  std::ranges::reverse(shuffled.job.runs);
  std::rotate(shuffled.job.outlets.begin(), shuffled.job.outlets.begin() + 1, shuffled.job.outlets.end());
  shuffled.plan = plan::make_plan(shuffled.job, {.samples = 20});
  for (Case* both : {&small, &shuffled}) both->options.ensemble = 3;
  const json one = small.as_json(), other = shuffled.as_json();
  expect_alike(by_id(one["taps"], "tap"), by_id(other["taps"], "tap"), "taps");
  expect_alike(by_id(one["runs"], "id"), by_id(other["runs"], "id"), "runs");
  expect_alike(one["groups"], other["groups"], "groups");
  expect_alike(one["building"], other["building"], "building");
  EXPECT_EQ(one["worst_tap"], other["worst_tap"]);
}

TEST(Forecast, WithoutCableTheWaterIsColderAndTheDrawsTheSame) {
  Case small;
  small.options.compare = true;
  const Forecast answer = small.run();
  ASSERT_EQ(answer.alternatives.size(), 3U);
  const Alternative &traced = answer.alternatives[0], &untraced = answer.alternatives[1];
  EXPECT_GT(traced.cable_kwh_per_day, 0);
  EXPECT_EQ(untraced.cable_kwh_per_day, 0);
  EXPECT_LE(untraced.hot_in_10_s_frac, traced.hot_in_10_s_frac);
  EXPECT_GE(untraced.wasted_litres_per_day, traced.wasted_litres_per_day);
}

TEST(Forecast, AStopKeepsWhatIsDone) {
  Case small;
  small.options.progress = [](double done_frac) { return done_frac < 0.6; };
  const Forecast answer = small.run();
  EXPECT_TRUE(answer.stopped);
  EXPECT_GT(answer.days, 0.5);
  EXPECT_LT(answer.days, 2);
  EXPECT_EQ(answer.members, 1);
  EXPECT_GT(answer.building.cable_kwh_per_day, 0);
}

TEST(Forecast, AStoppedEnsembleKeepsItsFinishedMembers) {
  Case small;
  small.options.ensemble = 10;
  small.options.progress = [](double done_frac) { return done_frac < 0.45; };
  const Forecast answer = small.run();
  EXPECT_TRUE(answer.stopped);
  EXPECT_EQ(answer.members, 4);
  EXPECT_DOUBLE_EQ(answer.days, 2);
}

TEST(Forecast, AStopBeforeAnythingIsReportedAnswersNothing) {
  Case small;
  small.options.compare = true;
  small.options.progress = [](double) { return false; };
  const Forecast answer = small.run();
  EXPECT_TRUE(answer.stopped);
  EXPECT_EQ(answer.members, 0);
  EXPECT_EQ(answer.worst_tap, draw::none);
  EXPECT_NO_THROW(to_json(small.job, answer));
}

TEST(Forecast, RecordedDrawsTakeThePlaceOfOthers) {
  Case small;
  small.options.days = 1;
  small.options.recorded = {{2, 7 * draw::hour_s, 120, 1e-4}, {0, 8 * draw::hour_s, 30, 5e-5}};
  const Forecast answer = small.run();
  ASSERT_EQ(answer.draws.size(), 2U);
  EXPECT_NEAR(answer.building.litres_per_day, 12 + 1.5, 1e-6);
  EXPECT_NEAR(answer.peak.simulated_l_per_s, 0.1, 1e-12);
  EXPECT_DOUBLE_EQ(tap(answer, answer.scene.taps[2].id).draws_per_day, 1);
}

// Regulation (EU) 812/2013, Annex VII table 3: profile M is 23 draws and 5.845 kWh a day.
TEST(Forecast, ATappingProfileStandsAtShowers) {
  Case small;
  small.options.tapping = "M";
  const Forecast answer = small.run();
  EXPECT_DOUBLE_EQ(tap(answer, "O2").draws_per_day, 23);
  EXPECT_EQ(tap(answer, "O1").draws_per_day, 0);
  EXPECT_EQ(std::ranges::count(answer.assumptions, "simulate.tapping", &job::Assumption::field), 1);
}

TEST(Forecast, FaultsAreLivedThrough) {
  Case small;
  const double sound_kwh = small.run().building.cable_kwh_per_day;
  small.options.faults = {{FaultKind::contactor_stuck_off, "main", 0}};
  const Forecast dead = small.run();
  EXPECT_GT(sound_kwh, 0);
  EXPECT_NEAR(dead.building.cable_kwh_per_day, 0, 1e-12) << "to the rounding of an integral";
}

TEST(Forecast, AColdStartBeginsCold) {
  Case small;
  const Forecast held = small.run();
  small.options.cold_start = true;
  const Forecast cold = small.run();
  ASSERT_EQ(cold.records.time_s.front(), 0);
  for (std::size_t i = 0; i < cold.scene.runs.size(); ++i) {
    const draw::SceneRun& run = cold.scene.runs[i];
    if (run.group == draw::none) continue;
    EXPECT_NEAR(cold.records.run_c[i], run.air_c.at(0), 1) << run.id;
    EXPECT_GT(held.records.run_c[i], cold.records.run_c[i] + 10) << run.id;
  }
}

TEST(Forecast, BrokenPromisesThrow) {
  Case small;
  small.options.days = 0;
  EXPECT_THROW(small.run(), std::logic_error);
  small.options.days = 1;
  small.options.ensemble = 0;
  EXPECT_THROW(small.run(), std::logic_error);
}

TEST(Forecast, EachMemberIsHandedOverInOrderWithItsDraws) {
  Case small;
  small.options.ensemble = 5;
  small.options.threads = 3;
  small.options.keep_draws = true;
  std::vector<std::size_t> seen;
  double cable_j = 0, days = 0;
  small.options.each_member = [&](std::size_t member, const draw::Scene& nominal,
                                  const draw::Result& result) {
    seen.push_back(member);
    EXPECT_FALSE(result.draws.empty());
    EXPECT_EQ(result.runs.size(), nominal.runs.size());
    cable_j += result.balance.cable_j;
    days += (result.end_s - result.begin_s) / draw::day_s;
  };
  const Forecast answer = small.run();
  EXPECT_EQ(seen, (std::vector<std::size_t>{0, 1, 2, 3, 4}));
  EXPECT_DOUBLE_EQ(cable_j / 3.6e6 / days, answer.building.cable_kwh_per_day);
}

}  // namespace
}  // namespace firstdraw::forecast
