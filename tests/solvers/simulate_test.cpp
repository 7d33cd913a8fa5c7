// draw::simulate against independent solvers of the same equations, on scenes small enough to solve finely.
#include "draw/simulate.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>

#include "solvers/by_simulate.hpp"
#include "solvers/cvode_method.hpp"
#include "solvers/epanet.hpp"
#include "solvers/refined.hpp"
#include "solvers/small_scenes.hpp"

namespace firstdraw::solvers {
namespace {

draw::Options options(const Case& what, double tick_s, double longest_step_s) {
  draw::Options result;
  result.end_s = what.end_s;
  result.tick_s = tick_s;
  result.longest_step_s = longest_step_s;
  result.start = what.held ? draw::Start::held : draw::Start::cold;
  return result;
}

Rms compare(const char* what, std::span<const TapTemps> one, std::span<const TapTemps> other) {
  const Rms result = rms(one, other);
  std::cout << what << ": opening " << result.opening_k << " K, after 10 s " << result.after_10_s_k
            << " K, end " << result.end_k << " K, largest " << result.largest_k << " K, " << result.draws
            << " draws\n";
  return result;
}

std::vector<TapTemps> refined(const Case& what, double cell_m) {
  Refined method(what.scene, {cell_m, std::min(cell_m, what.shortest_time_s), what.held});
  return drive(what.scene, what.draws, {0, what.end_s, 20}, method);
}

std::vector<TapTemps> simulated(const Case& what, double cell_m, double runout_cell_m, double tick_s,
                                double longest_step_s) {
  return by_simulate(with_cells(what.scene, cell_m, runout_cell_m), what.draws,
                     options(what, tick_s, longest_step_s));
}
std::vector<TapTemps> finely_simulated(const Case& what) { return simulated(what, 0.1, 0.1, 1, 30); }

/// What upwind cells spread falls in proportion to their size: twice the finer answer less the coarser one.
std::vector<TapTemps> extrapolated_cvode(const Case& what, double cell_m) {
  const auto by = [&](double size_m) {
    CvodeMethod method(what.scene, {Linear::tree, size_m, 1e-6, 1e-4, what.held});
    return drive(what.scene, what.draws, {0, what.end_s, 20}, method);
  };
  std::vector<TapTemps> fine = by(0.5 * cell_m);
  const std::vector<TapTemps> coarse = by(cell_m);
  for (std::size_t i = 0; i < fine.size(); ++i) {
    fine[i].opening_c = 2 * fine[i].opening_c - coarse[i].opening_c;
    fine[i].after_10_s_c = 2 * fine[i].after_10_s_c - coarse[i].after_10_s_c;
    fine[i].end_c = 2 * fine[i].end_c - coarse[i].end_c;
  }
  return fine;
}

/// The reference itself is known to about 0.01 K (Refined.ConvergesWhenCellsAreHalved: 0.007 K rms between
/// 0.1 m and 0.05 m), and blocks of 0.1 m, ticks of 1 s and standing steps of 30 s err by as much again.
TEST(Simulate, ConvergesToTheRefinedReference) {
  const Case what = small_tree();
  const auto truth = refined(what, 0.05);
  const Rms coarse = compare("1 m", simulated(what, 1, 1, 1, 30), truth);
  const Rms fine = compare("0.1 m", finely_simulated(what), truth);
  EXPECT_LT(fine.opening_k, 0.03);
  EXPECT_LT(fine.after_10_s_k, 0.03);
  EXPECT_LT(fine.end_k, 0.03);
  EXPECT_LT(fine.opening_k, 0.25 * coarse.opening_k);
  EXPECT_LT(fine.end_k, 0.25 * coarse.end_k);
}

/// Between first and second order in the length of a block, at the usual ticks.
TEST(Simulate, HalvingBlocksAtLeastHalvesTheError) {
  const Case what = small_tree();
  const draw::Options usual;
  const auto truth = refined(what, 0.1);
  const Rms whole = compare("1 m", simulated(what, 1, 1, usual.tick_s, 30), truth);
  const Rms half = compare("0.5 m", simulated(what, 0.5, 0.5, usual.tick_s, 30), truth);
  EXPECT_LT(half.opening_k, 0.5 * whole.opening_k);
  EXPECT_LT(half.after_10_s_k, 0.5 * whole.after_10_s_k);
  EXPECT_LT(half.end_k, 0.5 * whole.end_k);
}

/// The usual steps, which grow while a run stands, are as good as short ones.
TEST(Simulate, UsualStandingStepsLeaveLittle) {
  const Case what = small_tree();
  const auto truth = simulated(what, 0.5, 0.5, 1, 4);
  const draw::Options usual;
  EXPECT_LT(compare("usual", simulated(what, 0.5, 0.5, 1, usual.longest_step_s), truth).opening_k, 0.03);
}

/// Nothing of the reference's making takes part here. Extrapolated from 0.1 m and 0.05 m CVODE's cells are
/// still 0.04 K (opening), 0.12 K (after 10 s) and 0.07 K (end) from where they go (a third of that one
/// halving on).
TEST(Simulate, AgreesWithCvode) {
  const Case what = small_tree();
  const Rms error = compare("CVODE", finely_simulated(what), extrapolated_cvode(what, 0.1));
  EXPECT_LT(error.opening_k, 0.06);
  EXPECT_LT(error.after_10_s_k, 0.18);
  EXPECT_LT(error.end_k, 0.1);
}

/// EPANET's clock is whole seconds, and a reading during a second in which a front passes means little.
bool steady_at(const std::vector<std::vector<double>>& taps_c, double time_s, std::size_t tap) {
  constexpr double changes_k = 0.3;
  const auto second = static_cast<std::size_t>(time_s);
  return second >= 1 && second + 1 < taps_c.size() &&
         std::abs(taps_c[second + 1][tap] - taps_c[second - 1][tap]) < changes_k;
}

/// EPANET's readings at the times of `TapTemps`; NaN where a front passes.
std::vector<TapTemps> by_epanet(const Case& what) {
  constexpr int pattern_s = 10;
  const auto taps_c = epanet_taps_c(what, pattern_s);
  std::vector<TapTemps> result(what.draws.size());
  for (std::size_t i = 0; i < result.size(); ++i) {
    const draw::Draw& draw = what.draws[i];
    const auto read = [&](double time_s, double& into_c) {
      const auto tap = draw::at(draw.tap);
      if (steady_at(taps_c, time_s, tap)) into_c = taps_c[static_cast<std::size_t>(time_s)][tap];
    };
    read(draw.open_s, result[i].opening_c);
    read(draw.open_s + 10, result[i].after_10_s_c);
    read(draw.open_s + draw.duration_s, result[i].end_c);
  }
  return result;
}

/// EPANET 2.2 (first-order bulk decay of what stands for temperature above the air). The scene's walls and
/// insulation cannot weigh nothing: 1.5 J/(m K) beside 324 J/(m K) of water in the thinnest pipe, 0.5 % of at
/// most 20 K lost.
TEST(Epanet, AgreesOnWaterThatOnlyCools) {
  const Case what = cooling_tree();
  constexpr double light_parts_k = 0.1;
  const auto epanet = by_epanet(what);
  const Rms reference = compare("EPANET and refined", epanet, refined(what, 0.1));
  const Rms ours = compare("EPANET and simulate", epanet, finely_simulated(what));
  EXPECT_GE(ours.draws, 9);  // of ten
  EXPECT_LT(reference.largest_k, light_parts_k);
  EXPECT_LT(ours.largest_k, light_parts_k);
}

TEST(Epanet, InputHasEveryPipeAndDemand) {
  const std::string input = epanet_input(cooling_tree(), 10);
  for (const char* part :
       {"run0 supply end0 12 26 ", "run5 end3 tap1 4 10 ", "supply 40", "use0 0.08", "LPS"})
    EXPECT_NE(input.find(part), std::string::npos) << part;
}

}  // namespace
}  // namespace firstdraw::solvers
