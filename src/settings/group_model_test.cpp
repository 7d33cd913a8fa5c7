// The model of a planned group against the steady room and against the network in time.
#include "settings/group_model.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "draw/simulate.hpp"
#include "plan/held.hpp"
#include "settings/luck.hpp"
#include "settings/planned_washroom.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double step_s = 1800;
constexpr std::size_t steps = 336;

const PlannedWashroom& planned() {
  static const PlannedWashroom made;
  return made;
}

const GroupModel& model() {
  static const GroupModel made = group_models(planned().job, planned().plan).front();
  return made;
}

hold::State steady_at(const job::Job& job, const plan::Plan& plan, double reading_c, hold::Mode mode) {
  plan::Workshop shop(job);
  hold::Building building = plan::building_of(shop, plan);
  building.groups[0].maintain_c = reading_c;
  return hold::solve(building, mode, {});
}

// Tables of standard normal quantiles (any statistics handbook; memory).
TEST(NormalQuantile, AsTabulated) {
  EXPECT_NEAR(normal_quantile(0.5), 0, 1e-12);
  EXPECT_NEAR(normal_quantile(0.95), 1.644854, 1e-6);
  EXPECT_NEAR(normal_quantile(0.975), 1.959964, 1e-6);
  EXPECT_NEAR(normal_quantile(0.99), 2.326348, 1e-6);
  EXPECT_NEAR(normal_quantile(0.05), -1.644854, 1e-6);
}

TEST(GroupModel, HasTheHeatedRunsAndTheSensors) {
  ASSERT_EQ(model().runs.size(), 4u);
  EXPECT_EQ(model().id, "main");
  EXPECT_EQ(model().runs[at(model().sensor)].id, "R2");
  EXPECT_FALSE(model().open_loop);
  EXPECT_TRUE(model().notes.empty());
}

TEST(GroupModel, LiesWhereTheSteadyRoomSays) {
  for (const double set_c : {42.0, 48.3, 55.0, 61.0}) {
    const hold::State state = steady_at(planned().job, planned().plan, set_c + model().sensor_offset_k,
                                        hold::Mode::sensor_at_maintain);
    const std::vector<double> water_c = held_c(model(), set_c, false);
    for (std::size_t r = 0; r < water_c.size(); ++r)
      EXPECT_NEAR(water_c[r], state.runs[r].water_c, 0.05) << model().runs[r].id << " at " << set_c;
    EXPECT_NEAR(duty_at(model(), set_c), state.groups[0].duty, 1e-3);
  }
}

TEST(GroupModel, BadLuckIsThePlansQuantileAtMaintain) {
  const double maintain_c = planned().job.groups[0].maintain_c - model().sensor_offset_k;
  const std::vector<double> weak_c = held_c(model(), maintain_c, true);
  for (std::size_t r = 0; r < weak_c.size(); ++r) {
    EXPECT_GT(model().runs[r].weak_loss_factor, 1);
    EXPECT_NEAR(weak_c[r], planned().plan.runs[at(model().runs[r].job_run)].water_c.p5, 0.05);
  }
}

TEST(GroupModel, MoreConfidenceIsFartherDownInProportionToTheQuantile) {
  job::Job surer = planned().job;
  surer.week.confidence_frac = 0.99;
  const GroupModel sure = group_models(surer, planned().plan).front();
  const double maintain_c = surer.groups[0].maintain_c - sure.sensor_offset_k;
  const std::vector<double> weak_c = held_c(sure, maintain_c, true);
  for (std::size_t r = 0; r < weak_c.size(); ++r) {
    const plan::RunPlan& run = planned().plan.runs[at(sure.runs[r].job_run)];
    EXPECT_NEAR(weak_c[r], run.at_maintain_c - (run.at_maintain_c - run.water_c.p5) * 2.326348 / 1.644854,
                0.05);
  }
}

TEST(GroupModel, WithoutSamplesEveryRunIsUsualAndItSaysSo) {
  const PlannedWashroom unsampled(washroom(), 0);
  const GroupModel usual = group_models(unsampled.job, unsampled.plan).front();
  for (const ModelRun& run : usual.runs) EXPECT_EQ(run.weak_loss_factor, 1);
  ASSERT_EQ(usual.notes.size(), 1u);
  EXPECT_NE(usual.notes[0].find("without sampling"), std::string::npos);
}

TEST(GroupModel, OpenLoopFollowsTheEnteredAmbientOfTheSteadyRoom) {
  PlannedWashroom open(planned());
  open.job.groups[0].kind = job::ControlKind::entered_ambient;
  open.job.groups[0].entered_ambient_c = 17;
  const GroupModel loose = group_models(open.job, open.plan).front();
  ASSERT_TRUE(loose.open_loop);
  ASSERT_EQ(loose.runs.size(), 5u);
  EXPECT_EQ(loose.runs[at(loose.sensor)].job_run, -1);
  for (const double set_c : {45.0, 55.0}) {
    const hold::State state = steady_at(open.job, open.plan, set_c, hold::Mode::entered_ambient);
    const std::vector<double> water_c = held_c(loose, set_c, false);
    for (std::size_t r = 0; r < 4; ++r) EXPECT_NEAR(water_c[r], state.runs[r].water_c, 0.05);
  }
}

TEST(GroupModel, SetPointsEndWhereTheFirstThingDoes) {
  EXPECT_NEAR(model().most_settable_c, planned().job.controller.highest_c - model().sensor_offset_k, 1e-9);
  PlannedWashroom other(planned());
  other.job.groups[0].high_cutout_c = 62;
  const GroupModel cut = group_models(other.job, other.plan).front();
  EXPECT_NEAR(cut.most_settable_c, 62 - 0.25 - 2 - cut.sensor_offset_k, 1e-9);
  EXPECT_NE(cut.most_because.find("cut-out"), std::string::npos);
  other.job.cables[at(other.plan.runs[0].cable)].max_powered_c = 58;
  const GroupModel hot = group_models(other.job, other.plan).front();
  EXPECT_NE(hot.most_because.find("powered cable"), std::string::npos);
  for (const double water_c : held_c(hot, hot.most_settable_c, false)) EXPECT_LE(water_c, 58 - 0.25 + 1e-6);
}

TEST(GroupModel, RunsThatNoSetPointHelpsAreNamed) {
  EXPECT_TRUE(model().hopeless.empty());
  PlannedWashroom other(planned());
  other.job.controller.highest_c = 51;
  const GroupModel low = group_models(other.job, other.plan).front();
  EXPECT_FALSE(low.hopeless.empty()) << "50 degC in bad luck of a run colder than the sensor's";
  const std::vector<double> weak_c = held_c(low, low.most_settable_c, true);
  for (std::size_t r = 0; r < weak_c.size(); ++r)
    EXPECT_EQ(weak_c[r] < 50, std::ranges::find(low.hopeless, low.runs[r].id) != low.hopeless.end());
}

/// Every night at 45 degC from ten to five, in the full network: cells, walls, two shells of insulation, a
/// thermostat with its differential. Nobody draws.
draw::Result network_in_time(const PlannedWashroom& planned) {
  job::Job job = planned.job;
  job.periods = {{"main", 0x7f, 22 * 3600.0, 5 * 3600.0, job::Period::Setting::setback}};
  const draw::Scene scene = forecast::make_scene(job, planned.plan, {});
  draw::Options options;
  options.end_s = 7 * 86400.0;
  options.record_every_s = step_s;
  return draw::simulate(scene, {}, options);
}

TEST(LiveLumped, IsCloseToTheNetworkInTimeWithoutDraws) {
  const draw::Result full = network_in_time(planned());
  std::vector<double> set_c(steps, 55 - model().sensor_offset_k);
  for (std::size_t s = 0; s < steps; ++s)
    if (s % 48 < 10 || s % 48 >= 44) set_c[s] -= 10;
  const Lived lived = live_lumped(model(), set_c, step_s);
  const std::size_t scene_runs = planned().scene.runs.size();
  double worst_k = 0, mean_w = 0, full_w = 0;
  for (std::size_t r = 0; r < model().runs.size(); ++r) {
    const int in_scene = forecast::find_run(planned().scene, model().runs[r].id);
    for (std::size_t i = 0; i < full.records.time_s.size(); ++i) {
      const auto s = static_cast<std::size_t>(std::lround(full.records.time_s[i] / step_s)) % steps;
      worst_k =
          std::max(worst_k, std::abs(lived.usual_c[r * steps + s] -
                                     static_cast<double>(full.records.run_c[i * scene_runs + at(in_scene)])));
    }
    full_w += full.runs[at(in_scene)].cable_j / 604800;
  }
  for (const double w : lived.power_w) mean_w += w / steps;
  RecordProperty("worst_k", std::to_string(worst_k));
  EXPECT_LT(worst_k, 1.0);
  EXPECT_NEAR(mean_w, full_w, 0.02 * full_w);
}

}  // namespace
}  // namespace firstdraw::settings
