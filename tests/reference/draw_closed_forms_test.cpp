// The engine of the network in time against closed forms, on scenes of one pipe. Sources: the equations named
// at each test; values marked (table) are computed by quadrature or from the closed form, independently of
// this program, and printed with the digits given.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <array>

#include "draw_scene.hpp"

namespace firstdraw::reference {
namespace {

using draw::Draw;
using draw::none;
using draw::Options;
using draw::Result;
using draw::Scene;

// Standing water: T = T_a + (T_0 - T_a) exp(-t / (R' C')), lumped.
// Copper 22 x 1, 30 mm insulation k 0.035 without heat of its own, h_o 10; water 983.2 kg/m3, 4185 J/(kg K);
// copper 8900, 385. Tolerance 1 mK: the film of 1e5 W/(m2 K) between water and wall, which the closed form
// does not have, is 2.5e-5 of R' (0.4 mK); records are single precision (4 uK).

constexpr double copper_loss_w_per_m_k = 1 / 6.3709389;
constexpr double water_j_per_m3_k = 983.2 * 4185;
constexpr double copper_wall_j_per_m_k = 226.05801;
constexpr double standing_tolerance_k = 1e-3, heated_tolerance_k = 3e-3;

Scene standing_copper(double start_c) {
  Scene scene = one_pipe({.wall_j_per_m_k = copper_wall_j_per_m_k,
                          .loss_w_per_m_k = copper_loss_w_per_m_k,
                          .air_c = air_after(start_c, 20, 0)});
  scene.water_j_per_m3_k = water_j_per_m3_k;
  return scene;
}

TEST(ClosedForms, StandingWaterCoolsExponentially) {
  const Result result = draw::simulate(standing_copper(60), {}, from_cold(8 * draw::hour_s, 20));
  const std::array<std::array<double, 2>, 5> table{
      {{0.5, 53.209855}, {1, 47.572362}, {2, 39.005879}, {4, 29.030586}, {8, 22.038787}}};
  for (const auto& [hours, expected_c] : table)
    EXPECT_NEAR(recorded(result.records, result.records.run_c, hours * draw::hour_s), expected_c,
                standing_tolerance_k)
        << hours << " h";
}

TEST(ClosedForms, StandingWaterDoesNotDependOnTheStep) {
  const Result fine = draw::simulate(standing_copper(60), {}, from_cold(draw::hour_s, 5));
  const Result coarse = draw::simulate(standing_copper(60), {}, from_cold(draw::hour_s, 900));
  EXPECT_NEAR(recorded(fine.records, fine.records.run_c, draw::hour_s),
              recorded(coarse.records, coarse.records.run_c, draw::hour_s), 1e-5);
}

TEST(ClosedForms, StandingWaterIsHeatedByConstantPower) {
  Scene scene = standing_copper(20);
  heat(scene, straight_cable(12, 0));
  const Result result = draw::simulate(scene, {}, from_cold(40 * draw::hour_s, 20));
  const auto water_c = [&](double time_s) { return recorded(result.records, result.records.run_c, time_s); };
  // The cable's heat passes that film into the water: 12 W/m raise the wall by 1.9 mK.
  EXPECT_NEAR(water_c(draw::hour_s), 43.752716, heated_tolerance_k);  // (table)
  EXPECT_NEAR(water_c(5922.8441), 55, heated_tolerance_k);            // (table)
  EXPECT_NEAR(water_c(40 * draw::hour_s), 96.451267,
              heated_tolerance_k + 76.45 * std::exp(-40 * 3600 / 9675.7));
}

// Balance of cable and loss.

TEST(ClosedForms, CableWithFallingOutputComesToItsBalance) {
  // p = p0 - a W and U (W - air): W = (p0 + U air) / (U + a)
  Scene scene = standing_copper(20);
  const double at_0_c = 20, fall = 0.15;
  heat(scene, straight_cable(at_0_c, -fall));
  const double expected_c = (at_0_c + copper_loss_w_per_m_k * 20) / (copper_loss_w_per_m_k + fall);
  const Result result = draw::simulate(scene, {}, from_cold(40 * draw::hour_s, 20));
  EXPECT_NEAR(recorded(result.records, result.records.run_c, 40 * draw::hour_s), expected_c, 1e-4);
}

TEST(ClosedForms, LossThatGrowsWithTheDifferenceComesToItsBalance) {
  // U(d) = u0 + u1 d: d = (-u0 + sqrt(u0^2 + 4 u1 p)) / (2 u1)
  Scene scene = standing_copper(20);
  const double u0 = copper_loss_w_per_m_k, u1 = 1e-3, power = 8;
  scene.runs[0].loss_u1 = u1;
  heat(scene, straight_cable(power, 0));
  const double above_air_k = (-u0 + std::sqrt(u0 * u0 + 4 * u1 * power)) / (2 * u1);
  const Result result = draw::simulate(scene, {}, from_cold(40 * draw::hour_s, 20));
  EXPECT_NEAR(recorded(result.records, result.records.run_c, 40 * draw::hour_s), 20 + above_air_k, 1e-4);
}

// Plug flow with loss: T_out = T_e + (T_in - T_e) exp(-U' L / (m c)), T_e = T_air + q'/U'.
// U' 0.2 W/(m K), 50 m, 60 degC in, air 20, c 4185 (table). Steady: heat of wall and insulation does not
// count. The engine's own error is of first order in the loss of one cell over its flow, e = U' dx / (m c) =
// N / n, with N = U' L / (m c): a cell loses heat by the temperature at its end,
//   off = (T_in - T_e) exp(-N) N e / 2.
// It is checked by its size, by its order and by what is left when two numbers of cells are extrapolated.

struct PlugFlow {
  double flow_kg_per_s, plain_c, heated_c;
};
constexpr std::array<PlugFlow, 2> plug_flows{{{0.1, 59.055534, 59.763884}, {0.005, 44.803436, 56.200859}}};

double plug_flow_outlet_c(double flow_kg_per_s, bool heated, int cells) {
  Scene scene = one_pipe(
      {.length_m = 50, .cells = cells, .wall_j_per_m_k = copper_wall_j_per_m_k, .loss_w_per_m_k = 0.2});
  scene.water_j_per_m3_k = water_j_per_m3_k;
  if (heated) heat(scene, straight_cable(6, 0));
  const double flow_m3_per_s = flow_kg_per_s / 983.2, end_s = 6 * draw::hour_s;
  const Result result =
      draw::simulate(scene, std::vector{Draw{0, 0, end_s, flow_m3_per_s}}, from_cold(end_s, 20));
  return recorded(result.records, result.records.tap_c, end_s);
}

/// What the closed form and the engine differ by, see above.
double plug_flow_off_k(double flow_kg_per_s, bool heated, int cells) {
  const double units = 0.2 * 50 / (flow_kg_per_s * 4185), far_c = heated ? 50 : 20;
  return (60 - far_c) * std::exp(-units) * units * units / cells / 2;
}

// Film of 1e5 W/(m2 K), which the closed form does not have: 3e-5 of N.
constexpr double plug_flow_film_k = 5e-4;

TEST(ClosedForms, PlugFlowLosesHeatAndGainsLinePower) {
  for (const PlugFlow& flow : plug_flows) {
    for (const bool heated : {false, true}) {
      const double outlet_c = plug_flow_outlet_c(flow.flow_kg_per_s, heated, 400);
      EXPECT_NEAR(outlet_c, heated ? flow.heated_c : flow.plain_c,
                  1.1 * plug_flow_off_k(flow.flow_kg_per_s, heated, 400) + plug_flow_film_k)
          << flow.flow_kg_per_s << (heated ? " heated" : "");
    }
  }
}

TEST(ClosedForms, PlugFlowConvergesToItsClosedForm) {
  for (const bool heated : {false, true}) {
    const PlugFlow& slow = plug_flows[1];
    const double expected_c = heated ? slow.heated_c : slow.plain_c;
    const double coarse_c = plug_flow_outlet_c(slow.flow_kg_per_s, heated, 400),
                 fine_c = plug_flow_outlet_c(slow.flow_kg_per_s, heated, 800);
    EXPECT_NEAR((coarse_c - fine_c) / (plug_flow_off_k(slow.flow_kg_per_s, heated, 400) -
                                       plug_flow_off_k(slow.flow_kg_per_s, heated, 800)),
                1, 0.1);
    EXPECT_NEAR(2 * fine_c - coarse_c, expected_c, plug_flow_film_k);
  }
}

// Step at the inlet, heat-storing wall, no loss (Anzelius 1926, Schumann 1929): water J(xi, eta),
//   J = 1 - exp(-eta) int_0^xi exp(-s) I0(2 sqrt(eta s)) ds, xi = h P L / (m c), eta = h P (t - L/v) / C_w.

struct Step {
  double xi, eta, water;
};
constexpr std::array<Step, 7> steps{{{1, 1, 0.654254161},
                                     {2, 2, 0.603500961},
                                     {2, 4, 0.851936357},
                                     {5, 5, 0.563916669},
                                     {5, 10, 0.925607985},
                                     {10, 10, 0.544890156},
                                     {10, 20, 0.974205632}}};

struct Front {
  double length_m = 30, speed_m_per_s = 0.1, film_w_per_m2_k = 800;
  int cells = 300;
};

/// Share of the step that the water at the outlet shows at each time.
std::vector<double> front_at(const Front& front, const std::vector<double>& times_s) {
  const double end_s = *std::ranges::max_element(times_s) + 10;
  Scene scene = one_pipe({.length_m = front.length_m,
                          .cells = front.cells,
                          .wall_j_per_m_k = copper_wall_j_per_m_k,
                          .film_w_per_m2_k = front.film_w_per_m2_k});
  scene.water_j_per_m3_k = water_j_per_m3_k;
  const double flow_m3_per_s = front.speed_m_per_s * pi / 4 * 0.02 * 0.02;
  const double block_s = front.length_m / front.cells / front.speed_m_per_s;
  const Result result =
      draw::simulate(scene, std::vector{Draw{0, 0, end_s, flow_m3_per_s}}, from_cold(end_s, block_s / 2));
  // A block leaves for block_s at one temperature, that of the middle of this time.
  const auto leaving_c = [&](double block) {
    return recorded(result.records, result.records.tap_c, (block + 0.5) * block_s);
  };
  std::vector<double> shares;
  for (const double time_s : times_s) {
    const double place = time_s / block_s - 0.5, before = std::floor(place);
    const double temp_c = leaving_c(before) + (place - before) * (leaving_c(before + 1) - leaving_c(before));
    shares.push_back((temp_c - 20) / 40);
  }
  return shares;
}

/// The front whose outlet is at xi.
Front front_of(double xi, int cells) {
  const double water_w_per_k = water_j_per_m3_k * 0.1 * pi / 4 * 0.02 * 0.02;
  return {.length_m = 10,
          .speed_m_per_s = 0.1,
          .film_w_per_m2_k = xi * water_w_per_k / (10 * pi * 0.02),
          .cells = cells};
}

double time_of(double eta, const Front& front) {
  return front.length_m / front.speed_m_per_s +
         eta * copper_wall_j_per_m_k / (front.film_w_per_m2_k * pi * 0.02);
}

double worst_step_error(int cells) {
  double worst = 0;
  for (const Step& step : steps) {
    const Front front = front_of(step.xi, cells);
    worst = std::max(worst, std::abs(front_at(front, {time_of(step.eta, front)})[0] - step.water));
  }
  return worst;
}

// Block by block the water meets a wall that has met the block before: of second order in the number of
// transfer units of one cell, xi / n, which is 1 / 40 at the steepest of these fronts with 400 cells.
TEST(ClosedForms, StepAtTheInletWithAHeatStoringWall) { EXPECT_LT(worst_step_error(400), 2e-4); }

TEST(ClosedForms, StepIsOfSecondOrder) {
  const double coarse = worst_step_error(200), fine = worst_step_error(400), finest = worst_step_error(800);
  EXPECT_NEAR(std::log2(coarse / fine), 2, 0.15);
  EXPECT_NEAR(std::log2(fine / finest), 2, 0.15);
}

TEST(ClosedForms, HotFrontInAColdCopperRun) {
  // Cu 22 x 1, 30 m, 0.1 m/s, h_i 800; after the undelayed front at 300 s (table). 300 cells of xi / n = 1 /
  // 26: second order as above leaves 1e-3 of the step where the front is steepest.
  const std::array<std::array<double, 2>, 5> table{
      {{10, 0.005132}, {30, 0.145058}, {60, 0.668613}, {90, 0.943737}, {120, 0.994751}}};
  std::vector<double> times_s;
  for (const auto& [after_s, share] : table) times_s.push_back(300 + after_s);
  const std::vector<double> shares = front_at({}, times_s);
  for (std::size_t i = 0; i < table.size(); ++i)
    EXPECT_NEAR(shares[i], table[i][1], 1e-3) << table[i][0] << " s";
}

// Nothing smears.

TEST(ClosedForms, PulseKeepsItsHeightAndVolume) {
  // 20 blocks of hot water between cold, no exchange with the wall: they come out as they went in.
  const double block_s = 0.5, speed_m_per_s = 0.1, pulse_s = 20 * block_s, begin_s = 5;
  Scene scene = one_pipe(
      {.length_m = 10, .cells = 200, .wall_j_per_m_k = copper_wall_j_per_m_k, .film_w_per_m2_k = 1e-9});
  scene.supply.stored_c =
      draw::Series({begin_s, begin_s + 1e-6, begin_s + pulse_s, begin_s + pulse_s + 1e-6}, {20, 60, 60, 20});
  const double flow_m3_per_s = speed_m_per_s * pi / 4 * 0.02 * 0.02;
  const Result result =
      draw::simulate(scene, std::vector{Draw{0, 0, 150, flow_m3_per_s}}, from_cold(150, 0.1));
  double hot_s = 0, between = 0;
  for (const float tap_c : result.records.tap_c) {
    const auto temp_c = static_cast<double>(tap_c);
    if (temp_c > 59.99)
      hot_s += 0.1;
    else if (temp_c > 20.01)
      between += 1;
  }
  EXPECT_NEAR(hot_s, pulse_s, 0.11);
  EXPECT_EQ(between, 0);
  const double carried_j = scene.water_j_per_m3_k * flow_m3_per_s * (150 * 20 + pulse_s * 40);
  EXPECT_NEAR(result.balance.drawn_j / carried_j, 1, 1e-9);
}

TEST(ClosedForms, PulseThatFitsNoBlockKeepsItsHeat) {
  const double pulse_s = 7.3;
  Scene scene = one_pipe(
      {.length_m = 10, .cells = 137, .wall_j_per_m_k = copper_wall_j_per_m_k, .film_w_per_m2_k = 1e-9});
  scene.supply.stored_c = draw::Series({5, 5 + 1e-6, 5 + pulse_s, 5 + pulse_s + 1e-6}, {20, 60, 60, 20});
  const double flow_m3_per_s = 0.1 * pi / 4 * 0.02 * 0.02;
  const Result result =
      draw::simulate(scene, std::vector{Draw{0, 0, 150, flow_m3_per_s}}, from_cold(150, 20));
  const double carried_j = scene.water_j_per_m3_k * flow_m3_per_s * (150 * 20 + pulse_s * 40);
  EXPECT_NEAR(result.balance.drawn_j / carried_j, 1, 1e-9);
}

// Runs one after the other, runs that are shared.

TEST(ClosedForms, TwoHalvesCarryAFrontLikeTheWhole) {
  // Exact shifts: a pipe cut in two equal halves with the same cells gives the same water.
  const PipeGiven whole{.length_m = 20,
                        .cells = 100,
                        .wall_j_per_m_k = copper_wall_j_per_m_k,
                        .loss_w_per_m_k = 0.2,
                        .film_w_per_m2_k = 800};
  PipeGiven half = whole;
  half.length_m = 10;
  half.cells = 50;
  Scene one = one_pipe(whole), two = one_pipe(half);
  two.runs.push_back(pipe_run(half, 0));
  two.taps[0].run = 1;
  const std::vector<Draw> draws{{0, 0, 400, 4e-5}};
  const Result from_one = draw::simulate(one, draws, from_cold(400, 5)),
               from_two = draw::simulate(two, draws, from_cold(400, 5));
  for (double time_s = 0; time_s <= 400; time_s += 5)
    EXPECT_NEAR(recorded(from_one.records, from_one.records.tap_c, time_s),
                recorded(from_two.records, from_two.records.tap_c, time_s), 1e-3)
        << time_s;
}

TEST(ClosedForms, FlowsAddUpInASharedPipe) {
  // No exchange with the wall: a front comes after V_shared / (q1 + q2) + V_own / q.
  Scene scene = one_pipe(
      {.length_m = 10, .cells = 200, .wall_j_per_m_k = copper_wall_j_per_m_k, .film_w_per_m2_k = 1e-9});
  const PipeGiven own{
      .length_m = 4, .cells = 80, .wall_j_per_m_k = copper_wall_j_per_m_k, .film_w_per_m2_k = 1e-9};
  scene.runs.push_back(pipe_run(own, 0));
  scene.runs.push_back(pipe_run(own, 0));
  scene.taps.resize(2);
  scene.taps[0].run = 1;
  scene.taps[1].run = 2;
  const std::array<double, 2> flow_m3_per_s{3e-5, 5e-5};
  const Result result =
      draw::simulate(scene, std::vector{Draw{0, 0, 100, flow_m3_per_s[0]}, Draw{1, 0, 100, flow_m3_per_s[1]}},
                     from_cold(100, 0.1));
  const double metre_m3 = pi / 4 * 0.02 * 0.02;
  for (std::size_t tap = 0; tap < 2; ++tap) {
    const double expected_s =
        metre_m3 * (10 / (flow_m3_per_s[0] + flow_m3_per_s[1]) + 4 / flow_m3_per_s[tap]);
    double arrival_s = 0;
    while (recorded(result.records, result.records.tap_c, arrival_s, tap) < 40) arrival_s += 0.1;
    // A block of the own pipe takes 0.5 s at the slower tap, records 0.1 s.
    EXPECT_NEAR(arrival_s, expected_s, 0.05 * metre_m3 / flow_m3_per_s[tap] + 0.1) << tap;
  }
}

// Heat is neither made nor lost.

Scene branched() {
  Scene scene = one_pipe(
      {.length_m = 12, .cells = 12, .wall_j_per_m_k = 300, .loss_w_per_m_k = 0.25, .film_w_per_m2_k = 900});
  scene.runs.push_back(pipe_run(
      {.length_m = 7, .cells = 7, .wall_j_per_m_k = 200, .loss_w_per_m_k = 0.2, .film_w_per_m2_k = 900}, 0));
  for (int tap = 0; tap < 3; ++tap) {
    scene.runs.push_back(pipe_run({.length_m = 2,
                                   .inner_diameter_m = 0.013,
                                   .cells = 8,
                                   .wall_j_per_m_k = 120,
                                   .loss_w_per_m_k = 0.3,
                                   .film_w_per_m2_k = 900},
                                  tap == 0 ? 0 : 1));
  }
  for (draw::SceneRun& run : scene.runs)
    run.insulation.inner_j_per_m_k = run.insulation.outer_j_per_m_k = 100;
  scene.taps.resize(3);
  for (int tap = 0; tap < 3; ++tap) scene.taps[draw::at(tap)].run = 2 + tap;
  return scene;
}

/// In the order of time.
std::vector<Draw> invented_draws() {
  std::vector<Draw> draws;
  for (int i = 0; i < 200; ++i) {
    const double k = i;
    draws.push_back({i % 3, k * 431 + 17 * (i % 7), 5.0 + 23 * (i % 11), 1e-5 * (3 + i % 9)});
  }
  return draws;
}

TEST(ClosedForms, EnergyBalanceCloses) {
  Scene scene = branched();
  heat(scene, straight_cable(20, -0.2));
  for (std::size_t run = 2; run < 5; ++run) scene.runs[run].group = none;
  Options options = from_cold(draw::day_s, 20);
  const Result result = draw::simulate(scene, invented_draws(), options);
  const double moved_j = result.balance.supply_j + result.balance.cable_j;
  RecordProperty("residual_frac", fmt::format("{:.1e}", result.balance.residual_j / moved_j));
  EXPECT_GT(result.balance.cable_j, 0);
  EXPECT_GT(result.balance.loss_j, 0);
  EXPECT_LT(std::abs(result.balance.residual_j / moved_j), 1e-11);
}

}  // namespace
}  // namespace firstdraw::reference
