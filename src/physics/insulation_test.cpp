#include "physics/insulation.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

namespace firstdraw::physics {
namespace {

using ::testing::HasSubstr;

Insulation kinked() {
  Insulation out;
  out.mean_c = {0, 20, 100};
  out.conductivity_w_per_m_k = {0.03, 0.035, 0.06};
  return out;
}

TEST(Insulation, MeanOfOnePieceIsAtTheMiddle) {
  const Insulation k = kinked();
  EXPECT_NEAR(k.mean_conductivity(30, 90), k.conductivity_at(60), 1e-16);
  EXPECT_NEAR(k.mean_conductivity(90, 30), k.conductivity_at(60), 1e-16);
  EXPECT_EQ(k.mean_conductivity(40, 40), k.conductivity_at(40));
}

TEST(Insulation, MeanAcrossKinksIsTheIntegral) {
  // -10..0 held 0.03; 0..20 mean 0.0325; 20..60 from 0.035 to 0.0475
  EXPECT_NEAR(kinked().mean_conductivity(-10, 60), (10 * 0.03 + 20 * 0.0325 + 40 * 0.04125) / 70, 1e-16);
}

TEST(Insulation, OtherFaceUndoesTheIntegral) {
  const Insulation k = kinked();
  for (const double from : {-30.0, 0.0, 7.0, 20.0, 55.0, 100.0, 130.0}) {
    for (const double to : {-25.0, 0.0, 3.0, 20.0, 77.0, 100.0, 150.0}) {
      const double integral = k.mean_conductivity(from, to) * (from - to);
      EXPECT_NEAR(k.other_face_c(from, integral), to, 1e-11) << from << " to " << to;
    }
  }
}

TEST(Insulation, FoundByWhatPeopleWrite) {
  for (const char* text :
       {"glass-fibre", "glass fibre", "Glass Fiber", "fiberglass", "glass fibre, preformed (ASTM C547)"}) {
    ASSERT_TRUE(find_insulation(text)) << text;
    EXPECT_EQ(find_insulation(text)->id, "glass-fibre");
  }
  EXPECT_THAT(find_insulation("glas fibre").error(), HasSubstr("did you mean \"glass"));
  EXPECT_THAT(find_insulation("concrete").error(), HasSubstr("known are glass-fibre"));
}

TEST(Insulation, TablesAreWhole) {
  EXPECT_EQ(all_insulations().size(), 7u);
  for (const Insulation& insulation : all_insulations()) {
    ASSERT_EQ(insulation.mean_c.size(), insulation.conductivity_w_per_m_k.size());
    EXPECT_GE(insulation.mean_c.size(), 2u) << insulation.id;
    for (std::size_t i = 1; i < insulation.mean_c.size(); ++i)
      EXPECT_GT(insulation.mean_c[i], insulation.mean_c[i - 1]);
    EXPECT_FALSE(insulation.source.empty());
    EXPECT_GT(insulation.max_c, 80);
  }
}

TEST(Clearance, TouchesFarSideAndCorners) {
  const double r = 0.014;
  const CableSection cable{0.011, 0.006};
  const double radius = 0.5 * clearance_bore_m(2 * r, cable, 1), centre = radius - r;
  EXPECT_NEAR(std::hypot(0.5 * cable.width_m, r + cable.thickness_m - centre), radius, 1e-15);
  EXPECT_LT(2 * radius, clearance_bore_m(2 * r, cable, 2));
}

TEST(Clearance, NoCableIsThePipe) {
  EXPECT_EQ(clearance_bore_m(0.028, {0.011, 0.006}, 0), 0.028);
  EXPECT_NEAR(clearance_bore_m(0.028, {}, 1), 0.028, 1e-15);
  EXPECT_EQ(clearance_bore_m(0.002, {0.1, 0.001}, 1), 0.1);  // a plate rather than a cable
}

TEST(FitInsulation, CableAsksForTheNextBore) {
  const double tube_1_in = 0.028575;
  EXPECT_EQ(fit_insulation(tube_1_in, {}, 0, 0.0254, SizeSeries::inch_tube).made_for, "tube 1");
  const auto size = fit_insulation(tube_1_in, {0.011, 0.006}, 1, 0.0254, SizeSeries::inch_tube);
  EXPECT_EQ(size.made_for, "tube 1-1/2");
  EXPECT_NEAR(size.outer_diameter_m, 3.5 * 0.0254, 1e-9);
  EXPECT_EQ(fit_insulation(0.028, {0.011, 0.006}, 1, 0.030, SizeSeries::metric).made_for, "35 mm");
}

TEST(FitInsulation, WallAsOrderedWhereTheTableHasNone) {
  const auto size = fit_insulation(0.028575, {}, 0, 0.019, SizeSeries::inch_tube);
  EXPECT_EQ(size.made_for, "tube 1");
  EXPECT_NEAR(size.thickness_m(), 0.019, 1e-12);
  const auto wide = fit_insulation(0.5, {}, 0, 0.05, SizeSeries::metric);
  EXPECT_EQ(wide.made_for, "made to measure");
  EXPECT_EQ(wide.bore_m, 0.5);
}

}  // namespace
}  // namespace firstdraw::physics
