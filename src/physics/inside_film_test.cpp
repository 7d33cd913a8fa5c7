#include "physics/inside_film.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "physics/water.hpp"

namespace firstdraw::physics {
namespace {

constexpr double bore_m = 0.02, length_m = 10, warm_c = 55;

double speed_at(double reynolds_number) {
  return reynolds_number * water(warm_c).kinematic_viscosity_m2_per_s() / bore_m;
}
double film_at(double reynolds_number) {
  return flowing_film_w_per_m2_k(bore_m, length_m, speed_at(reynolds_number), warm_c);
}
double mixing_at(double reynolds_number, double travelled_s) {
  return axial_mixing_m2_per_s(bore_m, speed_at(reynolds_number), warm_c, travelled_s);
}

TEST(InsideFilm, StillWaterConducts) {
  EXPECT_NEAR(film_at(0), 3.66 * water(warm_c).conductivity_w_per_m_k / bore_m, 1e-9);
}

TEST(InsideFilm, RisesWithFlowWithoutSteps) {
  double last = film_at(0);
  for (double re = 10; re < 1e5; re *= 1.02) {
    const double now = film_at(re);
    EXPECT_GT(now, last) << re;
    EXPECT_LT(now / last, 1.12) << re;
    last = now;
  }
}

TEST(InsideFilm, StraightBetweenLaminarAndTurbulent) {
  EXPECT_NEAR(film_at(3150), 0.5 * (film_at(2300) + film_at(4000)), 1e-9 * film_at(3150));
  EXPECT_NEAR(film_at(2300 - 1e-6), film_at(2300 + 1e-6), 1e-5);
  EXPECT_NEAR(film_at(4000 - 1e-6), film_at(4000 + 1e-6), 1e-5);
}

TEST(InsideFilm, DirectionOfFlowDoesNotMatter) {
  EXPECT_EQ(flowing_film_w_per_m2_k(bore_m, length_m, -0.3, warm_c),
            flowing_film_w_per_m2_k(bore_m, length_m, 0.3, warm_c));
  EXPECT_EQ(axial_mixing_m2_per_s(bore_m, -0.3, warm_c, 5), axial_mixing_m2_per_s(bore_m, 0.3, warm_c, 5));
}

TEST(AxialMixing, StartsFromConductionAndGrowsWithTravel) {
  const double conduction = water(warm_c).diffusivity_m2_per_s();
  EXPECT_NEAR(mixing_at(1500, 0), conduction, 1e-15);
  EXPECT_NEAR(mixing_at(0, 100), conduction, 1e-15);
  double last = 0;
  for (double s = 1; s < 1e6; s *= 2) {
    EXPECT_GT(mixing_at(1500, s), last);
    last = mixing_at(1500, s);
  }
  EXPECT_NEAR(mixing_at(1500, std::numeric_limits<double>::infinity()), last, 1e-3 * last);
}

TEST(AxialMixing, TurbulentDoesNotDependOnTravel) { EXPECT_EQ(mixing_at(8000, 1), mixing_at(8000, 1000)); }

TEST(AxialMixing, NoStepWhereTheFlowTurns) {
  for (const double edge : {2300.0, 4000.0}) {
    const double below = mixing_at(edge * (1 - 1e-9), 60), above = mixing_at(edge * (1 + 1e-9), 60);
    EXPECT_NEAR(below, above, 1e-6 * above);
  }
}

}  // namespace
}  // namespace firstdraw::physics
