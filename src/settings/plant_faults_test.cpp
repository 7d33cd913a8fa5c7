// Planted faults against what steady physics says of them, and groups that do not feed each other.
#include "settings/plant_faults.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "physics/heating_cable.hpp"
#include "piping/network.hpp"
#include "plan/sections.hpp"
#include "settings/ordinary_year.hpp"
#include "settings/small_settings_job.hpp"

namespace firstdraw::settings {
namespace {

using forecast::FaultKind;

/// Nothing drawn, constant set-point.
struct Standing {
  job::Job job = washing_job();
  plan::Plan plan = plan::make_plan(job, {.samples = 0});
  Timetable timetable{"", {{"main", {{0x7f, 0, 55}}}}};
  ProofOptions options;
  Lab lab{job, plan, timetable, options};

  std::vector<float> readings(const std::string& fault, double begin_s, double days) const {
    forecast::SceneOptions building;
    if (!fault.empty()) {
      building.faults = {*forecast::read_fault(fault, job, plan)};
      building.faults[0].begin_s = begin_s;
    }
    draw::Options how;
    how.end_s = days * draw::day_s;
    how.record_every_s = alarm_step_s;
    how.record_controls_only = true;
    return draw::simulate(lab.scene(building), {}, how).records.reading_c;
  }
};

/// Where the sheet's output, at the plan's local voltage and on metal pipe, meets the loss of the run's own
/// pipe and insulation in usual air: bisection on steady laws of the physics room, no simulation.
double stuck_balance_c(const Standing& small, std::size_t index) {
  const job::Run& run = small.job.runs[index];
  const plan::RunPlan& planned = small.plan.runs[index];
  const physics::HeatingCable cable(small.job.cables[static_cast<std::size_t>(planned.cable)]);
  plan::Sections sections;
  const hold::LossCurve loss = sections.loss(run, planned.insulation);
  const double air_c = job::air_around(small.job, run).usual_c;
  const auto surplus_w = [&](double water_c) {
    return planned.passes * cable.power_w_per_m(water_c, 208 * planned.voltage_frac) *
               planned.cable_length_m / planned.passes -
           loss.loss_w_per_m(water_c, air_c) * piping::loss_length_m(run);
  };
  double low_c = 20, high_c = 120;
  for (int i = 0; i < 60; ++i) {
    const double middle_c = (low_c + high_c) / 2;
    (surplus_w(middle_c) > 0 ? low_c : high_c) = middle_c;
  }
  return low_c;
}

// Tolerance 1.5 K: the sensor opposite the cable reads a little below the wall's mean, allowances of cable
// that heat no pipe are counted here, and the simulation's output is a table of whole degrees.
TEST(PlantFaults, StuckContactorRaisesTheReadingToTheSteadyBalance) {
  const Standing small;
  const auto readings = small.readings("contactor-stuck-on:main", 0, 5);
  const double settled_c = static_cast<double>(readings.back());
  EXPECT_NEAR(settled_c, stuck_balance_c(small, 1), 1.5);
  EXPECT_LT(settled_c, small.plan.runs[1].stuck_on_c) << "the plan's is the hottest case";
  EXPECT_GT(settled_c, small.plan.runs[1].stuck_on_c - 15);
}

TEST(PlantFaults, NothingDiffersBeforeTheFaultBegins) {
  const Standing small;
  const std::string circuit = small.plan.circuits.at(0).id;
  const auto sound = small.readings("", 0, 2);
  for (const std::string& fault :
       {std::string("contactor-stuck-on:main"), std::string("contactor-stuck-off:main"),
        std::string("sensor-off-pipe:main"), "breaker-open:" + circuit}) {
    const auto faulty = small.readings(fault, draw::day_s, 2);
    const std::size_t begin = 24 * 60;
    for (std::size_t i = 0; i < begin; ++i) ASSERT_NEAR(faulty[i], sound[i], 1e-3F) << fault << ' ' << i;
    EXPECT_GT(std::abs(faulty.back() - sound.back()), 5) << fault;
  }
}

/// Without heat the pipe ends at the air's temperature; a sensor in the air gets there within minutes.
TEST(PlantFaults, WhatTheSensorReadsInTheEnd) {
  const Standing small;
  const double air_c = 21;  // of the ceiling, where R2 is
  const auto off = small.readings("sensor-off-pipe:main", 0, 1);
  EXPECT_NEAR(off.at(30), air_c, 0.1);
  const auto dead = small.readings("breaker-open:" + small.plan.circuits.at(0).id, 0, 14);
  EXPECT_NEAR(dead.back(), air_c, 0.5);
  EXPECT_GT(dead.at(60), 45) << "it cools slowly";
}

TEST(PlantFaults, BeginsCoverTheWeekAndTheSetback) {
  const Standing small;
  const Timetable lowered{"", {{"main", {{0x7f, 5 * 3600.0, 55}, {0x7f, 21 * 3600.0, {}}}}}};
  const auto begins_s = fault_begins_s(small.lab, lowered, 1);
  EXPECT_GE(begins_s.size(), 6U);
  EXPECT_TRUE(std::ranges::is_sorted(begins_s));
  EXPECT_THAT(begins_s, testing::Contains(21 * 3600.0 - 60)) << "just before it is lowered";
  EXPECT_THAT(begins_s, testing::Contains(25 * 3600.0)) << "in the middle";
  EXPECT_TRUE(std::ranges::any_of(begins_s, [](double s) { return s > 5 * draw::day_s; }));
}

/// main feeds riser and branch; riser feeds top.
TEST(GroupsApart, OneBelowTheOtherIsNotApart) {
  draw::Scene scene;
  scene.groups.resize(4);
  const std::vector<std::pair<int, int>> upstream_and_group = {{-1, 0}, {0, 1}, {0, 2}, {1, -1}, {3, 3}};
  for (const auto& [upstream, group] : upstream_and_group) {
    draw::SceneRun run;
    run.upstream = upstream;
    run.group = group;
    scene.runs.push_back(run);
  }
  using Sets = std::vector<std::vector<int>>;
  EXPECT_EQ(groups_apart(scene), (Sets{{0}, {1, 2}, {3}}));
}

}  // namespace
}  // namespace firstdraw::settings
