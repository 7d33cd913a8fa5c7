// make_plan end to end on a small building made by hand: its numbers against the lower rooms, sums by hand,
// and the design choice against plans of every combination.
#include "plan/plan.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "physics/pipe_loss.hpp"
#include "piping/network.hpp"
#include "plan/options.hpp"
#include "plan/run_classes.hpp"
#include "plan/small_job.hpp"
#include "power/protection.hpp"

namespace firstdraw::plan {
namespace {

constexpr Options quick{200, 1, 1}, no_samples{0, 1, 1};

const MaterialLine& material(const Plan& plan, const std::string& item) {
  const auto found = std::find_if(plan.materials.begin(), plan.materials.end(),
                                  [&item](const MaterialLine& line) { return line.item == item; });
  if (found == plan.materials.end()) throw std::logic_error("no such material: " + item);
  return *found;
}

std::string setting(const Plan& plan, const std::string& name) {
  for (const Setting& line : plan.settings)
    if (line.name == name) return line.value;
  return "missing";
}

// ---- runs and groups
// ----------------------------------------------------------------------------------------

TEST(Plan, LossIsThatOfThePhysics) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    const job::Run& run = job.runs[i];
    physics::Surroundings around;
    around.air_c = job::air_around(job, run).usual_c;
    const auto section =
        physics::insulated(run.pipe, *physics::find_insulation(run.insulation), plan.runs[i].insulation);
    const double water_c = run.traced ? 46 : job.supply.delivered_c;
    const double expected_w_per_m = physics::pipe_loss(section, water_c, around).loss_w_per_m;
    EXPECT_NEAR(plan.runs[i].loss_w_per_m, expected_w_per_m, 1e-5 * expected_w_per_m) << run.id;
  }
}

TEST(Plan, SensorRunSitsAtMaintainAndItsDutyIsLossOverOutput) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  const RunPlan& sensor = plan.runs[1];
  const GroupPlan& group = plan.groups[0];
  EXPECT_NEAR(sensor.at_maintain_c + group.sensor_offset_k, 46, 1e-6);
  EXPECT_LT(std::abs(group.sensor_offset_k), 0.3) << "opposite the cable on copper: tenths of a kelvin";
  // R2 has no fittings: the duty is plain loss over output at its voltage, but for the sensor's tenth of a
  // kelvin.
  const physics::HeatingCable cable(job.cables[static_cast<std::size_t>(sensor.cable)]);
  const double left = cable.voltage_factor(208 * sensor.voltage_frac) / cable.voltage_factor(208);
  EXPECT_NEAR(group.duty, sensor.loss_w_per_m / (left * sensor.output_w_per_m), 0.01);
  EXPECT_NEAR(sensor.energy_kwh_per_day, 20 * sensor.loss_w_per_m * 24 / 1000,
              0.01 * sensor.energy_kwh_per_day);
}

TEST(Plan, EveryRunHoldsInEveryCaseTheChoicePromised) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    if (!job.runs[i].traced) continue;
    const RunPlan& run = plan.runs[i];
    EXPECT_GE(run.spare_frac, 0) << job.runs[i].id;
    EXPECT_GE(run.at_maintain_c, 44 - 0.05) << job.runs[i].id;
    EXPECT_GE(run.worst_cold_c, 44 - 0.1) << job.runs[i].id;
    EXPECT_LE(run.at_maintain_c, 55 + 0.1) << job.runs[i].id;
    EXPECT_LE(run.stuck_on_c, 85) << job.runs[i].id;
    EXPECT_GE(run.stuck_on_c, run.worst_hot_c) << job.runs[i].id;
  }
  EXPECT_EQ(plan.groups[0].best_sensor_run, "R2");
}

TEST(Plan, UntracedRunHasInsulationOnly) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  const RunPlan& run = plan.runs[4];
  EXPECT_EQ(run.cable, piping::none);
  EXPECT_EQ(run.cable_length_m, 0);
  EXPECT_GT(run.insulation.nominal_thickness_m, 0);
  EXPECT_TRUE(std::isnan(run.at_maintain_c));
  EXPECT_TRUE(to_json(job, plan)["runs"][4]["at_maintain_c"].is_null());
  EXPECT_TRUE(to_json(job, plan)["runs"][4]["cable"].is_null());
}

TEST(Plan, GroupWithSetbackUsesLessInTheHoursLeft) {
  job::Job job = small_job();
  job.groups[0].setback_c = 40;
  job.economics.hours_per_year = 6000;
  const Plan plan = make_plan(job, no_samples);
  job.groups[0].maintain_c = 40;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {  // the same building, held at 40
    job.runs[i].thickness_m = plan.runs[i].insulation.nominal_thickness_m;
    if (job.runs[i].traced) job.runs[i].cable = job.cables[static_cast<std::size_t>(plan.runs[i].cable)].id;
  }
  const Plan colder = make_plan(job, no_samples);
  const double expected = (plan.groups[0].power_w * 6000 + colder.groups[0].power_w * 2760) / 1000;
  EXPECT_NEAR(plan.groups[0].energy_kwh_per_year, expected, 2e-3 * expected);
  EXPECT_NEAR(plan.totals.cost_per_year, 0.15 * expected, 2e-3 * 0.15 * expected);
}

TEST(Plan, ExtraCableOnAValveHeatsIt) {
  job::Run run = small_run("R", "a", "b", "copper L 1", 10, "ceiling");
  EXPECT_DOUBLE_EQ(heated_length_m(run), 10);
  run.valves = 2;
  run.tees = 3;
  const auto allowance = piping::cable_allowance(run.pipe.outer_diameter_m);
  EXPECT_DOUBLE_EQ(heated_length_m(run), 10 + 2 * allowance.per_valve_m) << "tails at tees heat nothing";
}

// ---- classes
// ------------------------------------------------------------------------------------------------

TEST(RunClasses, LikeRunsShareOne) {
  job::Job job = small_job();
  const auto classes_of = [&job] { return classify(job).classes.size(); };
  const std::size_t before = classes_of();
  job.runs.push_back(small_run("R5", "d", "e", "copper L 3/4", 4, "ceiling"));  // like R4
  EXPECT_EQ(classes_of(), before);
  job.runs.back().thickness_m = 0.0254;
  EXPECT_EQ(classes_of(), before + 1);
  job.runs.back().thickness_m.reset();
  job.runs.back().valves = 4;  // four valves in four metres
  EXPECT_EQ(classes_of(), before + 1);
}

TEST(RunClasses, AreNamedLikeColumnsOfASheet) {
  EXPECT_EQ(class_name(0), "A");
  EXPECT_EQ(class_name(25), "Z");
  EXPECT_EQ(class_name(26), "AA");
  EXPECT_EQ(class_name(26 + 26 * 26), "AAA");
}

TEST(RunClasses, ZeroLengthUnknownGroupOrNoCableIsNotHeated) {
  job::Job job = small_job();
  EXPECT_EQ(heating_group(job, job.runs[0]), 0);
  job.runs[0].length_m = 0;
  EXPECT_EQ(heating_group(job, job.runs[0]), piping::none);
  job.runs[1].group = "elsewhere";
  EXPECT_EQ(heating_group(job, job.runs[1]), piping::none);
  job.cables.clear();
  EXPECT_EQ(heating_group(job, job.runs[2]), piping::none);
  EXPECT_NO_THROW(make_plan(job, quick)) << "survey slips are findings, not failures";
}

TEST(Plan, NothingTracedAndNothingAtAll) {
  job::Job job = small_job();
  for (job::Run& run : job.runs) {
    run.traced = false;
    run.group.clear();
  }
  const Plan plan = make_plan(job, quick);
  EXPECT_TRUE(plan.circuits.empty());
  EXPECT_EQ(plan.totals.cable_m, 0);
  EXPECT_EQ(plan.groups[0].best_sensor_run, "");
  job.runs.clear();
  job.groups.clear();
  const Plan empty = make_plan(job, quick);
  EXPECT_TRUE(empty.materials.empty());
  EXPECT_TRUE(std::isnan(empty.totals.all_hold_prob)) << "nothing was sampled";
  EXPECT_TRUE(to_json(job, empty)["runs"].empty());
}

// ---- costs by hand
// ------------------------------------------------------------------------------------------

TEST(Costs, PresentValueFactor) {
  job::Economics economics;
  economics.life_years = 20;
  economics.discount_frac = 0.04;
  // Uniform-series present-worth factor (P/A, 4 %, 20) = 13.5903: any compound-interest table, from memory.
  EXPECT_NEAR(present_value_factor(economics), 13.5903, 5e-5);
  economics.discount_frac = 0;
  EXPECT_DOUBLE_EQ(present_value_factor(economics), 20);
  economics.discount_frac = 0.04;
  economics.energy_price_per_kwh = 0.15;
  economics.hours_per_year = 8760;
  EXPECT_NEAR(cost_per_held_w(economics), 8.760 * 0.15 * 13.5903, 1e-4);
}

TEST(Costs, OfAnUntracedRunAreItsInsulation) {
  job::Job job = small_job();
  job.runs[4].thickness_m = 0.0254;
  const Plan plan = make_plan(job, no_samples);
  const physics::InsulationSize& size = plan.runs[4].insulation;
  const double section_m2 =
      std::numbers::pi / 4 * (std::pow(size.outer_diameter_m, 2) - std::pow(size.bore_m, 2));
  EXPECT_NEAR(plan.choices.back().lifetime_cost, 2 * (section_m2 * 1500 + 10), 1e-9);
}

TEST(Costs, AreReckonedWithTheDearestPriceForASheetWithout) {
  job::Job job = small_job();
  job.cables[0].price_per_m = std::nan("");
  const Workshop shop(job);
  EXPECT_EQ(shop.cable_price_per_m, (std::vector<double>{26, 26}));
  const Plan plan = make_plan(job, no_samples);
  ASSERT_EQ(plan.assumptions.size(), 1u);
  EXPECT_EQ(plan.assumptions[0].field, "cable.mild.price");
}

// ---- the choice against plans of every combination
// ----------------------------------------------------------

struct Combination {
  std::size_t cable = 0;
  std::array<std::size_t, 4> thickness{};  // of R1 to R4

  bool next() {
    for (std::size_t& t : thickness) {
      if (++t < 3) return true;
      t = 0;
    }
    return ++cable < 2;
  }
};

job::Job fix(job::Job job, const Combination& combination) {
  job.groups[0].cable = job.cables[combination.cable].id;
  for (std::size_t i = 0; i < 4; ++i)
    job.runs[i].thickness_m = job.design.thicknesses_m[combination.thickness[i]];
  job.runs[4].thickness_m = job.design.thicknesses_m[0];
  return job;
}

bool holds(const job::Job& job, const Plan& plan) {
  const job::ControlGroup& group = job.groups[0];
  for (std::size_t i = 0; i < 4; ++i) {
    const RunPlan& run = plan.runs[i];
    const double low_c = group.maintain_c - group.hold_tolerance_k;
    if (run.spare_frac < 0 || run.at_maintain_c < low_c || run.worst_cold_c < low_c) return false;
    if (run.at_maintain_c > group.high_alarm_c || run.stuck_on_c > 85) return false;
  }
  return true;
}

/// First cost and energy of the heated runs from the finished plan, by the words of the decision record.
double cost_by_hand(const job::Job& job, const Plan& plan, const Combination& combination) {
  const job::Economics& money = job.economics;
  const physics::CableSheet& sheet = job.cables[combination.cable];
  const double longest_m =
      power::circuit_limits(physics::HeatingCable(sheet), job.panels[0], job.requirements).longest_m();
  double cost = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const physics::InsulationSize& size = plan.runs[i].insulation;
    const double section_m2 =
        std::numbers::pi / 4 * (std::pow(size.outer_diameter_m, 2) - std::pow(size.bore_m, 2));
    cost +=
        job.runs[i].length_m * (section_m2 * money.insulation_price_per_m3 + money.insulation_fixed_per_m);
    cost += piping::cable_length_m(job.runs[i], 1) *
            (sheet.price_per_m + money.cable_labour_per_m + money.connection_cost / longest_m);
  }
  const double kwh_per_year = plan.groups[0].power_w * money.hours_per_year / 1000;
  return cost + kwh_per_year * money.energy_price_per_kwh * 13.590326;
}

TEST(Choice, IsTheCheapestOfAllPlansThatHold) {
  const job::Job job = small_job();
  const Plan chosen = make_plan(job, no_samples);
  Combination combination;
  double best = 1e99, best_of_chosen = 0;
  int holding = 0;
  do {
    const job::Job fixed = fix(job, combination);
    const Plan plan = make_plan(fixed, no_samples);
    if (!holds(fixed, plan)) continue;
    ++holding;
    best = std::min(best, cost_by_hand(fixed, plan, combination));
  } while (combination.next());
  for (std::size_t i = 0; i < 4; ++i) best_of_chosen += chosen.choices[i].lifetime_cost;
  EXPECT_GT(holding, 1);
  // Energy in the choice is interpolated to 0.1 %, and the sensor's offset of 0.04 K is left out.
  EXPECT_NEAR(best_of_chosen, best, 2e-3 * best);
}

TEST(Choice, SaysWhyEveryOtherOptionLost) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  ASSERT_EQ(plan.choices.size(), 5u);
  for (const Choice& choice : plan.choices) {
    EXPECT_EQ(choice.rejected.size(), choice.run_class == "E" ? 2u : 5u) << choice.run_class;
    for (const auto& rejected : choice.rejected) EXPECT_FALSE(rejected.why.empty()) << rejected.option;
  }
  EXPECT_THAT(plan.choices[0].rejected[0].why, testing::StartsWith("weak: "));
  EXPECT_TRUE(std::isnan(plan.choices[0].rejected[0].lifetime_cost));
}

TEST(Choice, RejectsWhatGetsTooHotUnlessACutOutStopsIt) {
  job::Job job = small_job();
  job.cables[0].max_powered_c = job.cables[1].max_powered_c = 52;  // less than any option reaches stuck on
  const Plan hot = make_plan(job, no_samples);
  EXPECT_THAT(hot.choices[0].chosen, testing::HasSubstr("too hot: with the control stuck on"));
  job.groups[0].high_cutout_c = 51;
  const Plan stopped = make_plan(job, no_samples);
  EXPECT_THAT(stopped.choices[0].chosen, testing::Not(testing::HasSubstr("too hot")));
}

TEST(Choice, HonoursWhatTheUserFixed) {
  job::Job job = small_job();
  job.runs[0].cable = "mild";
  job.runs[0].thickness_m = 0.0508;
  job.runs[2].passes = 2;
  const Plan plan = make_plan(job, no_samples);
  EXPECT_EQ(plan.runs[0].cable, 0);
  EXPECT_FALSE(plan.runs[0].cable_chosen);
  EXPECT_FALSE(plan.runs[0].thickness_chosen);
  EXPECT_DOUBLE_EQ(plan.runs[0].insulation.nominal_thickness_m, 0.0508);
  EXPECT_EQ(plan.runs[2].passes, 2);
  EXPECT_TRUE(plan.runs[2].cable_chosen);
}

TEST(Choice, OpenLoopHoldsOnTheUsualDayByItsEnteredAmbient) {
  job::Job job = small_job();
  job.groups[0].kind = job::ControlKind::entered_ambient;
  job.groups[0].sensor_run.clear();
  job.groups[0].entered_ambient_c = 18;
  const Plan plan = make_plan(job, no_samples);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_GE(plan.runs[i].at_maintain_c, 44 - 0.05) << job.runs[i].id;
    EXPECT_LE(plan.runs[i].at_maintain_c, 55 + 0.05) << job.runs[i].id;
    EXPECT_THAT(plan.choices[i].chosen, testing::Not(testing::HasSubstr("nothing offered"))) << i;
  }
}

TEST(Choice, MeetsTheEnergyCodeWhereThicknessIsOpen) {
  job::Job job = small_job();
  job.requirements.energy_code = "ashrae-90.1-2016";
  const Plan plan = make_plan(job, no_samples);
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    const auto& run = job.runs[i];
    const auto least = rules::minimum_thickness(job.requirements.energy_code, run.pipe.outer_diameter_m,
                                                run.pipe.inner_diameter_m(), run.pipe.size, 46, 0.035);
    ASSERT_TRUE(least.has_value());
    EXPECT_GE(plan.runs[i].insulation.nominal_thickness_m, least->thickness_m - 1e-6) << run.id;
  }
}

// ---- materials and settings by hand
// -------------------------------------------------------------------------

TEST(Materials, AddUp) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  // 12 + 20 + 15 + 9 m, 0.3 m on the valve and three tails of 0.3 m make 57.2 m, 187.7 ft.
  EXPECT_EQ(material(plan, "strong").quantity, 188);
  EXPECT_EQ(material(plan, "strong").unit, "ft");
  EXPECT_NEAR(material(plan, "strong").price, 57.2 * 26, 1e-9);
  // Labels: one at the connection, then every 6 m: 2 + 4 + 3 + 2.
  EXPECT_EQ(material(plan, "Caution label, electric heating cable under insulation").quantity, 12);
  // One circuit that branches once: a connection, a tee, two ends.
  ASSERT_EQ(plan.circuits.size(), 1u);
  EXPECT_EQ(material(plan, "Power connection kit").quantity, 1);
  EXPECT_EQ(material(plan, "Tee kit").quantity, 1);
  EXPECT_EQ(material(plan, "End seal kit").quantity, 2);
  EXPECT_EQ(material(plan, "Circuit tag").quantity, 4);
  // Feeder of 20 m: two conductors and 10 % make 44 m, 144.4 ft; conduit and 5 % 21 m, 68.9 ft.
  EXPECT_EQ(material(plan, "Copper conductor").quantity, 145);
  EXPECT_EQ(material(plan, "Copper earth conductor").quantity, 73);
  EXPECT_EQ(material(plan, "Conduit").quantity, 69);
  double insulation_ft = 0;
  for (const auto& line : plan.materials)
    if (line.section == "Insulation" && line.unit == "ft") insulation_ft += line.quantity;
  // 58 m of pipe and 5 % make 199.8 ft, each of the sizes rounded up.
  EXPECT_GE(insulation_ft, 200);
  EXPECT_LE(insulation_ft, 204);
  EXPECT_EQ(std::count_if(plan.materials.begin(), plan.materials.end(),
                          [](const auto& line) { return line.item.find("Aluminium tape") == 0; }),
            0)
      << "copper needs none";
}

TEST(Materials, AluminiumTapeAndMetresOnPlasticPipe) {
  job::Job job = small_job();
  job.units = units::System::metric;
  for (auto& run : job.runs) run.pipe = pipe_named("pex 3/4 in");
  job.groups[0].maintain_c = 42;
  const Plan plan = make_plan(job, no_samples);
  EXPECT_EQ(material(plan, "Aluminium tape over cable on plastic pipe").quantity, 2)
      << "56.3 m in rolls of 50 m";
  EXPECT_LT(plan.runs[0].derating_frac, 1);
  EXPECT_GT(plan.runs[0].derating_frac, 0.5);
  EXPECT_EQ(plan.materials.front().unit, "m");
  EXPECT_EQ(plan.materials.front().quantity, 58);
}

TEST(Settings, AreTheJobsInOrder) {
  const job::Job job = small_job();
  const Plan plan = make_plan(job, no_samples);
  EXPECT_EQ(setting(plan, "Sensor place"), "run R2");
  EXPECT_EQ(setting(plan, "Maintain temperature"), "114.8 °F");
  EXPECT_EQ(setting(plan, "Ambient to enter"), "69.8 °F");
  EXPECT_EQ(setting(plan, "High-temperature cut-out"), "none given");
  EXPECT_NE(setting(plan, "C01 current, pipe at maintain"), "missing");
  EXPECT_EQ(plan.settings.front().name, "Sensor place");
}

TEST(Settings, SetbackInTheGrowthBandIsSaidSo) {
  job::Job job = small_job();
  job.groups[0].setback_c = 40;
  for (const Setting& line : make_plan(job, no_samples).settings) {
    if (line.name == "Setback temperature") {
      EXPECT_THAT(line.note, testing::HasSubstr("Legionella"));
    }
  }
}

// ---- as a value
// ---------------------------------------------------------------------------------------------

TEST(Plan, SameForAnyNumberOfThreads) {
  const job::Job job = small_job();
  const std::string one = to_json(job, make_plan(job, {500, 3, 1})).dump();
  EXPECT_EQ(one, to_json(job, make_plan(job, {500, 3, 1})).dump());
  EXPECT_EQ(one, to_json(job, make_plan(job, {500, 3, 3})).dump());
  EXPECT_NE(one, to_json(job, make_plan(job, {500, 4, 1})).dump());
}

TEST(Plan, SourcesAreListedOnceAndSorted) {
  const Plan plan = make_plan(small_job(), no_samples);
  ASSERT_GT(plan.sources.size(), 5u);
  for (std::size_t i = 1; i < plan.sources.size(); ++i) {
    const auto key = [&plan](std::size_t s) {
      return std::tie(plan.sources[s].document, plan.sources[s].edition, plan.sources[s].clause);
    };
    EXPECT_LT(key(i - 1), key(i));
  }
}

TEST(Plan, JsonRoundsToNineDigits) {
  const job::Job job = small_job();
  Plan plan = make_plan(job, no_samples);
  plan.runs[0].loss_w_per_m = 1.0 / 3;
  plan.runs[0].warm_up_s = std::numeric_limits<double>::infinity();
  const nlohmann::json run = to_json(job, plan)["runs"][0];
  EXPECT_EQ(run["loss_w_per_m"].dump(), "0.333333333");
  EXPECT_TRUE(run["warm_up_s"].is_null());
}

}  // namespace
}  // namespace firstdraw::plan
