#include "forecast/replay.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

namespace firstdraw::forecast {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

/// A main and two taps on runouts of their own; nothing in it is heated.
draw::Scene two_taps() {
  draw::Scene scene;
  for (const char* id : {"R-01", "O-01", "O-02"}) {
    draw::SceneRun run;
    run.id = id;
    run.upstream = scene.runs.empty() ? draw::none : 0;
    run.length_m = run.upstream == draw::none ? 10 : 2;
    run.inner_diameter_m = 0.02;
    run.cells = 20;
    run.wall_j_per_m_k = 200;
    run.insulation = {0.6, 0.6, 0.6, 50, 50};
    run.loss_u0 = run.insulation.steady_w_per_m_k();
    run.standing_film_w_per_m2_k = 300;
    run.flowing_film_w_per_m2_k = 1500;
    scene.runs.push_back(run);
  }
  scene.taps.resize(2);
  scene.taps[0].id = "O-01";
  scene.taps[0].run = 1;
  scene.taps[1].id = "O-02";
  scene.taps[1].run = 2;
  return scene;
}

job::Job with_shaft() {
  job::Job job;
  job.spaces = {{"shaft", "Shaft", {15, 20, 25}}};
  return job;
}

job::Result<RecordedLog> read(std::string_view text, const std::vector<ColumnUse>& uses = {}) {
  return read_log(text, "log.csv", uses, with_shaft(), two_taps());
}

/// The messages, one a line.
std::string errors(std::string_view text, const std::vector<ColumnUse>& uses = {}) {
  const auto log = read(text, uses);
  if (log) return "no error";
  std::string all;
  for (const job::Diagnostic& problem : log.error()) all += problem.text() + "\n";
  return all;
}

TEST(ReplayLog, ReadsUnitsOfHeadings) {
  const auto log = read(
      "time (min),supply (°F),air:shaft (°C),flow:O-01 (l/min),at:O-01 (°C)\n"
      "0,140,20,6,20\n"
      "1,122,21,6,21.5\n");
  ASSERT_TRUE(log) << log.error().front().text();
  EXPECT_DOUBLE_EQ(log->end_s, 60);
  ASSERT_EQ(log->drives.size(), 2U);
  EXPECT_NEAR(log->drives[0].values.at(0), 60, 1e-12);
  EXPECT_EQ(log->drives[1].place, "shaft");
  EXPECT_THAT(log->draws, ElementsAre(draw::Draw{0, 0, 60, 1e-4}));
  ASSERT_EQ(log->traces.size(), 1U);
  EXPECT_TRUE(log->traces[0].tap);
  EXPECT_THAT(log->traces[0].temp_c, ElementsAre(20, 21.5));
}

TEST(ReplayLog, MapNamesColumnsAndTheRestIsNamed) {
  const auto log =
      read("Zeit (s),Sensor 3 (°C),Note\n0,20,a\n10,21,b\n", {{"Zeit", "time"}, {"Sensor 3", "at:R-01"}});
  ASSERT_TRUE(log) << log.error().front().text();
  EXPECT_FALSE(log->traces[0].tap);
  EXPECT_EQ(log->traces[0].index, 0);
  EXPECT_THAT(log->unused_columns, ElementsAre("Note"));
}

TEST(ReplayLog, FlowBecomesPulsesOfTheMean) {
  const auto log = read(
      "time (s),flow:O-02 (l/s),at:O-02 (°C)\n"
      "0,0,20\n10,0,20\n20,0.2,20\n30,0.2,20\n40,0.2,20\n50,0,20\n60,0,20\n");
  ASSERT_TRUE(log);
  EXPECT_THAT(log->draws, ElementsAre(draw::Draw{1, 10, 10, 1e-4}, draw::Draw{1, 20, 20, 2e-4},
                                      draw::Draw{1, 40, 10, 1e-4}));
}

TEST(ReplayLog, MassFlowTakesTheDensityOfWhatEnters) {
  // 983.2 kg/m3 at 60 degC and 0.1 MPa (IAPWS-IF97); the pressure of a building adds 2e-4.
  const auto log = read("time (s),supply (°C),flow:O-01 (kg/h),at:O-01 (°C)\n0,60,360,20\n10,60,360,20\n");
  ASSERT_TRUE(log);
  EXPECT_NEAR(log->draws.at(0).flow_m3_per_s * 983.2 / 0.1, 1, 3e-4);
}

TEST(ReplayLog, DatesCountFromMonday) {
  // 2026-03-04 is a Wednesday.
  const auto log = read("time,at:O-01 (°C)\n2026-03-04T06:30,20\n2026-03-04 06:30:12.5,21\n");
  ASSERT_TRUE(log) << log.error().front().text();
  EXPECT_TRUE(log->dated);
  EXPECT_DOUBLE_EQ(log->begin_s, 2 * draw::day_s + 6.5 * draw::hour_s);
  EXPECT_DOUBLE_EQ(log->end_s - log->begin_s, 12.5);
  EXPECT_EQ(time_text(*log, log->end_s), "Wed 06:30:12");
}

TEST(ReplayLog, BlankReadingsAreNone) {
  const auto log = read("time (s),at:O-01 (°C),at:R-01 (°C)\n0,20,20\n10,,21\n20,22,\n");
  ASSERT_TRUE(log);
  EXPECT_THAT(log->traces[0].time_s, ElementsAre(0, 20));
  EXPECT_THAT(log->traces[1].time_s, ElementsAre(0, 10));
}

TEST(ReplayLog, WrongNamesAreAnsweredWithTheNearest) {
  const std::string rows = "\n0,20\n10,21\n";
  EXPECT_THAT(errors("time (s),at:O-03 (°C)" + rows),
              HasSubstr("log.csv:1:10: at:O-03: there is no tap or run \"O-03\" (did you mean"));
  EXPECT_THAT(errors("time (s),T1 (°C)" + rows, {{"T2", "at:R-01"}}),
              HasSubstr("T2: the log has no such column (did you mean \"T1\"?)"));
  EXPECT_THAT(errors("time (s),T1 (°C)" + rows, {{"T1", "suply"}}),
              HasSubstr("\"suply\" is not what a column can be (did you mean supply?)"));
  EXPECT_THAT(errors("time (s),at:R-01 (°C),air:shaf (°C)\n0,20,20\n1,20,20\n"),
              HasSubstr("there is no space \"shaf\" (did you mean \"shaft\"?)"));
  EXPECT_THAT(errors("time (s),at:R-01 (°K)" + rows), HasSubstr("log.csv:1:10"));
  EXPECT_THAT(errors("time (s),flow (l/s)" + rows), HasSubstr("which tap does it flow from? there are 2"));
}

TEST(ReplayLog, MissingColumnsAreNamed) {
  EXPECT_THAT(errors("at:R-01 (°C)\n20\n21\n"), HasSubstr("no column is \"time\""));
  EXPECT_THAT(errors("time (s),supply (°C)\n0,20\n10,21\n"),
              HasSubstr("no column is a temperature to compare with"));
  EXPECT_THAT(errors("time (s),supply (°C),Supply 2 (°C),at:R-01 (°C)\n0,20,1,1\n10,21,1,1\n",
                     {{"Supply 2", "supply"}}),
              HasSubstr("another column is \"supply\" already"));
}

TEST(ReplayLog, EveryWrongCellHasItsPlace) {
  const std::string all = errors(
      "time (s),supply (°C),at:R-01 (°C)\n"
      "0,60,20\n"
      "10,,20\n"
      "5,60,20\n"
      "20,hot,20\n"
      "30,60,140\n"
      "40,60\n");
  EXPECT_THAT(all, HasSubstr("log.csv:3:4: supply: is blank (what drives the simulation must have no gap)"));
  EXPECT_THAT(all, HasSubstr("log.csv:4:1: time: \"5\" is not later than the row before"));
  EXPECT_THAT(all, HasSubstr("log.csv:5:4: supply: "));
  EXPECT_THAT(all, HasSubstr("log.csv:6:7: at:R-01: \"140\" is not within 0 to 100 °C"));
  EXPECT_THAT(all, HasSubstr("log.csv:7: 2 cells, but the first line names 3"));
}

TEST(ReplayLog, ManyWrongCellsOfAColumnAreCounted) {
  std::string text = "time (s),at:R-01 (°C)\n";
  for (int i = 0; i < 50; ++i) text += std::to_string(i) + ",x\n";
  EXPECT_THAT(errors(text), HasSubstr("at:R-01: 47 more cells like these"));
}

/// What the engine itself says with a supply of 60 degC, an open tap and a cold start, as a log.
std::string made_log(double shift_k) {
  draw::Scene scene = two_taps();
  draw::Options options;
  options.end_s = 300;
  options.run_in_s = 0;
  options.start = draw::Start::cold;
  options.tick_s = options.record_every_s = 10;
  const draw::Result result = draw::simulate(scene, std::vector{draw::Draw{0, 0, 300, 1e-4}}, options);
  std::string text = "time (s),supply (°C),flow:O-01 (l/s),at:O-01 (°C)\n";
  for (std::size_t i = 0; i < result.records.time_s.size(); ++i) {
    text += std::to_string(result.records.time_s[i]) + ",60,0.1," +
            std::to_string(static_cast<double>(result.records.tap_c[2 * i]) + shift_k) + "\n";
  }
  return text;
}

TEST(Replay, OwnWaterIsReproducedAndAShiftIsTheBias) {
  for (const double shift_k : {0.0, 1.5}) {
    const auto log = read(made_log(-shift_k));
    ASSERT_TRUE(log) << log.error().front().text();
    ReplayOptions options;
    options.start_c = 20;
    const Replay result = replay(with_shaft(), two_taps(), *log, options);
    ASSERT_EQ(result.traces.size(), 1U);
    EXPECT_EQ(result.traces[0].time_s.size(), 31U);
    EXPECT_NEAR(result.traces[0].bias_k, shift_k, 0.1);
    EXPECT_NEAR(result.litres, 30, 1e-9);
    EXPECT_LT(result.balance_residual_frac, 1e-9);
  }
}

TEST(Replay, StartsWhereItIsTold) {
  const auto log = read("time (s),air (°C),at:R-01 (°C)\n0,20,45\n600,20,44\n");
  ASSERT_TRUE(log);
  ReplayOptions options;
  options.start_c = 45;
  const Replay result = replay(with_shaft(), two_taps(), *log, options);
  EXPECT_NEAR(result.traces.at(0).simulated_c.front(), 45, 1e-4);
  EXPECT_LT(result.traces.at(0).simulated_c.back(), 45);
}

TEST(Replay, IsWrittenAsJson) {
  const auto log = read(made_log(0));
  ASSERT_TRUE(log);
  const Replay result = replay(with_shaft(), two_taps(), *log, {});
  const nlohmann::json json = to_json(result);
  EXPECT_EQ(json["places"].size(), 1U);
  EXPECT_EQ(json["places"][0]["points"], 31);
  EXPECT_TRUE(json["start_c"].is_null());
  EXPECT_EQ(json["rows"], json["places"][0]["points"]);
}

}  // namespace
}  // namespace firstdraw::forecast
