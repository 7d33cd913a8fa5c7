// Steady state and warm-up against closed forms, published losses and an independent numerical route.
#include "hold/hold.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "hold/invented_building.hpp"
#include "published.hpp"
#include "within.hpp"

namespace firstdraw::hold {
namespace {

using physics::FilmLaw;
using physics::HeatingCable;
using physics::Layer;
using physics::Orientation;
using physics::PipeSection;
using physics::Surroundings;
using reference::published;
using reference::within_frac;

physics::Insulation constant(double conductivity_w_per_m_k) {
  physics::Insulation insulation;
  insulation.mean_c = {0};
  insulation.conductivity_w_per_m_k = {conductivity_w_per_m_k};
  return insulation;
}

/// Air so fast that the surface is at its temperature: for sources that prescribe the film, or none.
const Surroundings no_film{.emissivity = 0, .air_speed_m_per_s = 1e12};

/// A pipe whose source prescribes the film outside: it becomes a very thin outermost layer of the film's
/// resistance. Without conductivity there is no wall; without a film coefficient no film.
LossCurve prescribed(double inner_m, double pipe_m, double wall_k, double inner_film,
                     std::vector<Layer> layers, double outer_film_w_per_m2_k) {
  PipeSection section{.inner_diameter_m = inner_m,
                      .outer_diameter_m = pipe_m,
                      .wall_conductivity_w_per_m_k = wall_k,
                      .inner_film_w_per_m2_k = inner_film,
                      .layers = std::move(layers)};
  if (outer_film_w_per_m2_k > 0) {
    const double outer_m = section.layers.back().outer_diameter_m, thin = 1e-6;
    const double same_resistance_k = 0.5 * outer_m * outer_film_w_per_m2_k * std::log1p(thin);
    section.layers.push_back({constant(same_resistance_k), outer_m, outer_m * (1 + thin)});
  }
  return {section, no_film};
}

/// A cable whose output falls in a straight line through these two points.
HeatingCable straight_cable(double low_c, double at_low_w_per_m, double high_c, double at_high_w_per_m) {
  physics::CableSheet sheet;
  sheet.id = "straight";
  sheet.rated_voltage_v = 230;
  sheet.output = {{low_c, at_low_w_per_m}, {high_c, at_high_w_per_m}};
  return HeatingCable(sheet);
}
HeatingCable steady_cable(double power_w_per_m) {
  return straight_cable(-60, power_w_per_m, 200, power_w_per_m);
}

/// One run of 1 m that carries the sensor.
Building one_run(LossCurve loss, HeatingCable cable, double air_c, double maintain_c) {
  HeldRun run;
  run.job_run = run.group = run.cable = 0;
  run.pipe_length_m = run.loss_length_m = 1;
  run.loss = std::move(loss);
  run.air = {air_c, air_c, air_c};
  Building building;
  building.runs = {run};
  building.cables = {std::move(cable)};
  building.groups.emplace_back();
  building.groups[0].sensor = 0;
  building.groups[0].maintain_c = maintain_c;
  building.groups[0].voltage_v = 230;
  return building;
}

// Copper 22 x 1, 30 mm of k 0.035, film 10, air 20 degC, water 983.2 kg/m3 and 4185 J/(kg K), copper 8900 and
// 385, no heat in the insulation. Closed forms of the lumped pipe, T = Ta + q R (1 - exp(-t/RC)); computed,
// printed to 8 digits.
struct StandingWater {
  LossCurve loss = prescribed(0.020, 0.022, 0, 0, {{constant(0.035), 0.022, 0.082}}, 10);
  double capacity_j_per_m_k = 1292.6686 + 226.05801;
  double to_reach_s(double power_w_per_m, double start_c, double target_c, double air_c) const {
    const Building building = one_run(loss, steady_cable(power_w_per_m), air_c, 0);
    return warm_up(building.runs[0], building.cables[0], capacity_j_per_m_k, start_c, target_c, air_c, 230)
        .to_maintain_s;
  }
};

TEST(StandingWaterReference, PowerToHold) {
  EXPECT_TRUE(within_frac(1 / (StandingWater{}.loss.loss_w_per_m(1, 0)), 6.3709389, 2e-7));
  const State state =
      solve(one_run(StandingWater{}.loss, steady_cable(12), 20, 55), Mode::sensor_at_maintain, {});
  EXPECT_TRUE(within_frac(state.runs[0].power_w, 5.4936957, 2e-7));
  EXPECT_TRUE(within_frac(state.groups[0].duty, 5.4936957 / 12, 2e-7));
}

TEST(StandingWaterReference, FinalTemperatureWithTwelveWatts) {
  const State state = solve(one_run(StandingWater{}.loss, steady_cable(12), 20, 55), Mode::stuck_on, {});
  EXPECT_NEAR(state.runs[0].water_c, 96.451267, 1e-5);
}

TEST(StandingWaterReference, WarmUpWithTwelveWatts) {
  const StandingWater pipe;
  EXPECT_TRUE(within_frac(pipe.to_reach_s(12, 20, 43.752716, 20), 3600, 1e-6));
  EXPECT_TRUE(within_frac(pipe.to_reach_s(12, 20, 55, 20), 5922.8441, 1e-6));
  EXPECT_EQ(pipe.to_reach_s(12, 20, 96.46, 20), std::numeric_limits<double>::infinity());
}

// Cooling from 60 towards air at 20 is the mirror image of warming from 20 towards air at 60 with the cable
// off.
TEST(StandingWaterReference, CoolingAsItsMirrorImage) {
  const StandingWater pipe;
  const auto cooled_to = [&](double temp_c) { return pipe.to_reach_s(0, 20, 80 - temp_c, 60); };
  EXPECT_TRUE(within_frac(cooled_to(55), 1292.0116, 1e-6));
  EXPECT_TRUE(within_frac(cooled_to(50), 2783.5296, 1e-6));
  EXPECT_TRUE(within_frac(cooled_to(47.572362), 3600, 1e-6));
  EXPECT_TRUE(within_frac(cooled_to(29.030586), 4 * 3600, 1e-6));
}

// The pieces of the heat capacity: water by IAPWS at 60 degC and table copper differ from the rounded 983.2,
// 4185, 8900 and 385 of the source by less than 0.5 %.
TEST(StandingWaterReference, HeatCapacityOfWaterAndCopper) {
  const auto pipe = physics::find_pipe("copper 22x1").value();
  EXPECT_TRUE(within_frac(heat_capacity_j_per_m_k(pipe, {}, nullptr, 60), 1292.6686 + 226.05801, 5e-3));
}

// Cooling time of standing water, ASHRAE Handbook Fundamentals 2019, ch. 23 (formula read in quotation): NPS
// 1 schedule 40, 3.50 in over the insulation, k 0.25 Btu in/(h ft2 F), 50 to 32 degF at 0 degF, water alone
// holding heat: 1.2499385 h (computed). As its mirror image: from 0 degF towards 50 degF.
TEST(CoolingTimeReference, AshraeFormulaForStandingWater) {
  constexpr double in = 0.0254, k = 0.25 * 0.1442279, degree = 5.0 / 9;
  const double capacity = std::numbers::pi / 4 * 1.049 * in * 1.049 * in * 62.4 * 16.0184634 * 4186.8;
  const LossCurve loss = prescribed(1.049 * in, 1.315 * in, 0, 0, {{constant(k), 1.315 * in, 3.50 * in}}, 0);
  const Building building = one_run(loss, steady_cable(0), 50 * degree, 0);
  const double taken_s =
      warm_up(building.runs[0], building.cables[0], capacity, 0, 18 * degree, 50 * degree, 230).to_maintain_s;
  EXPECT_TRUE(within_frac(taken_s, 1.2499385 * 3600, 1e-5));  // conversions above hold 6 digits
}

// Output a - bT and loss U(T - Ta): T = (d a + U Ta)/(U + d b), and warm-up C/(U + b) ln((T1 - T0)/(T1 - T)).
TEST(StraightLinesReference, EquilibriumAndWarmUp) {
  const double a = 30, b = 0.3, u = 1 / 6.3709389, air_c = 18;
  const HeatingCable cable = straight_cable(-10, a + 10 * b, 95, a - 95 * b);
  const Building building = one_run(StandingWater{}.loss, cable, air_c, 46);
  const State held = solve(building, Mode::sensor_at_maintain, {});
  EXPECT_TRUE(within_frac(held.groups[0].duty, u * (46 - air_c) / (a - b * 46), 1e-6));
  for (const double output : {0.1, 0.3, 0.7, 1.0}) {
    const State state = solve(building, Mode::stuck_on, {.cable_output_frac = output});
    EXPECT_NEAR(state.runs[0].water_c, (output * a + u * air_c) / (u + output * b), 1e-5);
  }
  const double end_c = (a + u * air_c) / (u + b);
  const double expected_s = 1500 / (u + b) * std::log((end_c - 10) / (end_c - 46));
  EXPECT_TRUE(within_frac(warm_up(building.runs[0], cable, 1500, 10, 46, air_c, 230).to_maintain_s,
                          expected_s, 1e-6));
}

double printed(const std::string& id) {
  for (const auto& row : published("radial_and_pipe_examples").rows()) {
    if (row.text("id") == id) return row.number("published");
  }
  throw std::runtime_error("no example " + id);
}

/// Power that holds the water of this section.
double holding_w_per_m(const LossCurve& loss, double water_c, double air_c) {
  const State state = solve(one_run(loss, steady_cable(2000), air_c, water_c), Mode::sensor_at_maintain, {});
  EXPECT_NEAR(state.runs[0].water_c, water_c, 1e-6);
  return state.runs[0].power_w;
}

// UK Home Energy Model, pipework unit tests (read); printed to 1e-6 W/m.
TEST(PublishedLossReference, HomeEnergyModel) {
  const LossCurve loss = prescribed(0.025, 0.027, 0, 1500, {{constant(0.035), 0.027, 0.103}}, 10);
  EXPECT_NEAR(holding_w_per_m(loss, 50, 15), printed("R1d"), 1e-5);
  EXPECT_NEAR(holding_w_per_m(loss, 52, 21), printed("R1e"), 1e-5);
}

// University of Alaska AE 403/603 note, 2015 (read); printed to 4 or 5 digits.
TEST(PublishedLossReference, AlaskaArcticEngineeringNote) {
  for (const int thickness_mm : {10, 20, 30, 40}) {
    const Layer layer{constant(0.03), 0.052, 0.052 + 2e-3 * thickness_mm};
    const LossCurve loss = prescribed(0.050, 0.052, 386, 300, {layer}, 14);
    EXPECT_TRUE(
        within_frac(holding_w_per_m(loss, 80, 10), printed("R2-" + std::to_string(thickness_mm)), 1e-4));
  }
}

// Finnish course exercise: answer printed 40.2 W/m (read).
TEST(PublishedLossReference, FinnishSteelPipe) {
  const LossCurve loss = prescribed(0.100, 0.106, 17, 4500, {{constant(0.033), 0.106, 0.206}}, 10);
  EXPECT_NEAR(holding_w_per_m(loss, 130, -5), 40.2, 0.05);
}

// 96 cases with k = 0.0302 + 0.000156 T and the film solved, by another program (computed; printed to 1e-4
// W/m). ISO law: 1e-4 of the loss. Churchill-Chu there took air from a correlation, here from a table: 3e-4.
TEST(PublishedLossReference, NinetySixInsulatedCases) {
  physics::Insulation line;
  line.mean_c = {-50, 150};
  line.conductivity_w_per_m_k = {0.0302 - 50 * 0.000156, 0.0302 + 150 * 0.000156};
  int checked = 0;
  for (const auto& row : published("computed_insulated_pipe_cases").rows()) {
    const double pipe_m = 1e-3 * row.number("od_mm");
    PipeSection section{.inner_diameter_m = pipe_m, .outer_diameter_m = pipe_m, .layers = {}};
    section.layers.push_back({line, pipe_m, pipe_m + 2e-3 * row.number("insulation_mm")});
    const bool iso = row.text("method").starts_with("ISO");
    const LossCurve loss(section, {.emissivity = row.number("emissivity"),
                                   .law = iso ? FilmLaw::iso_12241 : FilmLaw::churchill_chu});
    const double power_w = holding_w_per_m(loss, row.number("pipe_C"), row.number("air_C"));
    EXPECT_TRUE(within_frac(power_w, row.number("q_W_per_m"), iso ? 1e-4 : 3e-4)) << row.text("pipe");
    ++checked;
  }
  EXPECT_EQ(checked, 96);
}

PipeSection section_of(const tables::Row& row) {
  PipeSection section{.inner_diameter_m = 1e-3 * row.number("inner_diameter_mm"),
                      .outer_diameter_m = 1e-3 * row.number("outer_diameter_mm"),
                      .wall_conductivity_w_per_m_k = row.number("wall_conductivity"),
                      .inner_film_w_per_m2_k = row.number("inner_film"),
                      .layers = {}};
  for (const std::string number : {"1", "2"}) {
    if (row.text("insulation_" + number).empty()) continue;
    section.layers.push_back({physics::find_insulation(row.text("insulation_" + number)).value(),
                              1e-3 * row.number("bore_" + number + "_mm"),
                              1e-3 * row.number("outer_" + number + "_mm"), row.number("factor_" + number)});
  }
  return section;
}

Surroundings surroundings_of(const tables::Row& row) {
  const std::string& law = row.text("law");
  return {
      .emissivity = row.number("emissivity"),
      .orientation = row.text("orientation") == "vertical" ? Orientation::vertical : Orientation::horizontal,
      .height_m = row.number("height_m"),
      .air_speed_m_per_s = row.number("air_speed"),
      .law = law == "iso_12241"       ? FilmLaw::iso_12241
             : law == "churchill_chu" ? FilmLaw::churchill_chu
                                      : FilmLaw::astm_c680_1989};
}

// The same 210 sections as for pipe_loss, by numerical integration and Brent's method (scripts/reference/
// pipe_loss_by_bvp.py, scipy; computed). The loss curve is promised to 1e-6.
TEST(ShootingReference, LossCurveOnTwoHundredSections) {
  int checked = 0;
  for (const auto& row : published("pipe_loss_scipy").rows()) {
    const LossCurve loss(section_of(row), surroundings_of(row));
    const double got = loss.loss_w_per_m(row.number("water_c"), row.number("air_c"));
    EXPECT_TRUE(within_frac(got, row.number("loss_w_per_m"), 1e-6)) << "case " << row.text("case");
    ++checked;
  }
  EXPECT_EQ(checked, 210);
}

// Sixty heated runs: integration through the layers, Brent's method on the water temperature and scipy's
// PCHIP for the cable (scripts/reference/hold_by_shooting.py; computed). Loss to 1e-6 is temperature to some
// 3e-5 K here.
TEST(ShootingReference, SixtyHeatedRuns) {
  int checked = 0;
  for (const auto& row : published("hold_scipy").rows()) {
    const double power = row.number("power_at_10c_w_per_m"), air_c = row.number("air_c");
    const HeatingCable cable(invented_sheet("reference", power));
    Building building = one_run(LossCurve(section_of(row), surroundings_of(row)), cable, air_c, 46);
    building.groups[0].voltage_v = cable.sheet().rated_voltage_v;
    const State state = solve(building, Mode::stuck_on, {.cable_output_frac = row.number("drive")});
    EXPECT_NEAR(state.runs[0].water_c, row.number("water_c"), 3e-5) << "case " << row.text("case");
    EXPECT_TRUE(within_frac(state.runs[0].loss_w, row.number("loss_w_per_m"), 1e-6))
        << "case " << row.text("case");
    const double table_end_c = cable.sheet().output.back().pipe_c,
                 table_start_c = cable.sheet().output.front().pipe_c;
    EXPECT_EQ(state.runs[0].extrapolated,
              row.number("water_c") > table_end_c || row.number("water_c") < table_start_c);
    ++checked;
  }
  EXPECT_EQ(checked, 60);
}

}  // namespace
}  // namespace firstdraw::hold
