// The independent solvers among themselves: what makes them fit to judge the simulation.
#include <gtest/gtest.h>

#include <cmath>

#include "solvers/cells_ode.hpp"
#include "solvers/cvode_method.hpp"
#include "solvers/drive.hpp"
#include "solvers/plain_parcels.hpp"
#include "solvers/refined.hpp"
#include "solvers/small_scenes.hpp"

namespace firstdraw::solvers {
namespace {

std::vector<TapTemps> solve(const Case& what, Method&& method) {
  return drive(what.scene, what.draws, {0, what.end_s, 20}, method);
}
std::vector<TapTemps> refined(const Case& what, double cell_m) {
  return solve(what, Refined(what.scene, {cell_m, cell_m, true}));
}
std::vector<TapTemps> cvode(const Case& what, Linear linear, double cell_m, double relative = 1e-6) {
  return solve(what, CvodeMethod(what.scene, {linear, cell_m, relative, 100 * relative, true}));
}

TEST(Refined, ConvergesWhenCellsAreHalved) {
  const Case what = small_tree();
  const auto finest = refined(what, 0.05), middle = refined(what, 0.1), coarse = refined(what, 0.2);
  const Rms one = rms(coarse, middle), two = rms(middle, finest);
  // Less than half of the step before: faster than first order.
  EXPECT_LT(two.opening_k, 0.5 * one.opening_k);
  EXPECT_LT(two.after_10_s_k, 0.5 * one.after_10_s_k);
  EXPECT_LT(two.end_k, 0.5 * one.end_k);
}

/// Upwind cells spread fronts in proportion to their size, so the error against the truth halves with them.
TEST(Cvode, UpwindCellsConvergeToTheRefinedReference) {
  const Case what = small_tree();
  const auto truth = refined(what, 0.05);
  const Rms coarse = rms(cvode(what, Linear::tree, 0.2), truth),
            fine = rms(cvode(what, Linear::tree, 0.1), truth);
  EXPECT_NEAR(fine.opening_k / coarse.opening_k, 0.5, 0.15);
  EXPECT_LT(fine.after_10_s_k, 0.5 * coarse.after_10_s_k);
  EXPECT_NEAR(fine.end_k / coarse.end_k, 0.5, 0.15);
}

/// One set of equations, two ways to solve the linear systems: the answers differ by the integrator's own
/// tolerance, 1e-6 of 60 K at each step.
TEST(Cvode, TreeSweepAndSparseFactorisationAgree) {
  const Case what = small_tree();
  EXPECT_LT(rms(cvode(what, Linear::tree, 0.5), cvode(what, Linear::klu, 0.5)).largest_k, 5e-3);
}

TEST(Cvode, ToleranceIsNotWhatLimitsIt) {
  const Case what = small_tree();
  EXPECT_LT(rms(cvode(what, Linear::tree, 0.5, 1e-6), cvode(what, Linear::tree, 0.5, 1e-8)).largest_k, 5e-3);
}

/// (I - gamma J) x = b by the sweep, multiplied out again with differences of the rates.
TEST(CellsOde, TreeSweepSolvesItsSystem) {
  const Case what = small_tree();
  CellsOde ode(Grid(what.scene, 0));
  ode.set(std::vector<double>{2e-4, 2e-4, 1e-4, 0, 1e-4, 1e-4, 0, 1e-4}, std::vector<double>{0.6});
  const auto size = static_cast<std::size_t>(ode.size());
  std::vector<double> state(size), b(size), x(size), shifted(size), rate(size), moved_rate(size), slope_per_s;
  for (std::size_t i = 0; i < size; ++i)
    state[i] = 35 + static_cast<double>(i % 7), b[i] = std::sin(static_cast<double>(i));
  constexpr double gamma_s = 3, small = 1e-4;
  ode.source_slopes(state.data(), slope_per_s);
  ode.solve(gamma_s, slope_per_s, b.data(), x.data());
  for (std::size_t i = 0; i < size; ++i) shifted[i] = state[i] + small * x[i];
  ode.rates(state.data(), rate.data());
  ode.rates(shifted.data(), moved_rate.data());
  for (std::size_t i = 0; i < size; ++i)
    EXPECT_NEAR(x[i] - gamma_s * (moved_rate[i] - rate[i]) / small, b[i], 1e-5) << i;
}

/// The plain methods are no truth, but they solve the same equations: finer cells and steps bring them
/// closer.
TEST(Plain, MethodsComeCloserWithFinerCellsAndSteps) {
  const Case what = small_tree();
  const auto truth = refined(what, 0.1);
  const auto loop = [&](double size) {
    return rms(solve(what, PlainLoop(what.scene, {size, size, true})), truth);
  };
  const auto parcels = [&](double size) {
    return rms(solve(what, PlainParcels(what.scene, {size, size, true})), truth);
  };
  EXPECT_LT(loop(0.25).end_k, 0.5 * loop(1).end_k);
  EXPECT_LT(parcels(0.25).end_k, 0.5 * parcels(1).end_k);
}

}  // namespace
}  // namespace firstdraw::solvers
