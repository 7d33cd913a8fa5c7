// Bare pipes in still air against three published tables, each of which follows another film law.
#include <gtest/gtest.h>

#include <cmath>

#include "physics/pipe_loss.hpp"
#include "published.hpp"
#include "within.hpp"

namespace firstdraw::physics {
namespace {

using reference::published;
using reference::within_frac;

constexpr double w_per_m_of_btu_per_h_ft = 0.961519;

/// A pipe whose surface is at `pipe_c`: no film inside, no wall.
double surface_loss(double diameter_m, double pipe_c, const Surroundings& around) {
  const PipeSection section{.inner_diameter_m = diameter_m, .outer_diameter_m = diameter_m, .layers = {}};
  return loss_w_per_m(section, pipe_c, around);
}

// Bare black steel pipe, emissivity 0.9, still air 20 degC, roymech.org table of 212 values printed to 1 W/m
// (read). The page does not name its law; the ISO 12241 law meets every value within its rounding, on both
// branches.
TEST(BarePipe, All212PointsOfTheIsoTable) {
  int checked = 0;
  for (const auto& row : published("bare_pipe_steel_20C_eps0p9").rows()) {
    const Surroundings room{.air_c = 20, .emissivity = 0.9};
    const double loss = surface_loss(1e-3 * row.number("od_mm"), row.number("pipe_temp_C"), room);
    EXPECT_NEAR(loss, row.number("published_W_per_m"), 0.5 + 1e-9)
        << row.text("od_mm") << " mm at " << row.text("pipe_temp_C") << " degC";
    ++checked;
  }
  EXPECT_EQ(checked, 212);
}

// Churchill-Chu for the same pipes, computed elsewhere with another air correlation (computed). Only where
// the film temperature is inside this program's air table (0 to 100 degC); 0.1 % for linear interpolation in
// both.
TEST(BarePipe, ChurchillChuColumnOfTheSameTable) {
  int checked = 0;
  for (const auto& row : published("bare_pipe_steel_20C_eps0p9").rows()) {
    if (row.number("pipe_temp_C") > 180) continue;
    const Surroundings room{.air_c = 20, .emissivity = 0.9, .law = FilmLaw::churchill_chu};
    const double loss = surface_loss(1e-3 * row.number("od_mm"), row.number("pipe_temp_C"), room);
    EXPECT_TRUE(within_frac(loss, row.number("computed_ChurchillChu_W_per_m"), 1e-3));
    ++checked;
  }
  EXPECT_GE(checked, 40);
}

// Heating Ventilating Air Conditioning Guide 1941 Table 6, unchanged in the 1955 Guide ch. 28 Table 1: bare
// steel pipe, still air 70 degF (read in scans). The pre-2000 ASTM C680 law with emissivity 0.94. Hot-water
// columns (50 to 140 degF above air): 2 %, the table's own unevenness; steam columns: 3.5 %. One value (3-1/2
// in, 110 degF) looks like an old misprint and is only in the wider band.
TEST(BarePipe, AshveGuideByTheOlderLaw) {
  int checked = 0;
  for (const auto& row : published("bare_pipe_steel_ashve_guide").rows()) {
    const double rise_k = row.number("temp_difference_F") / 1.8;
    const Surroundings room{.air_c = (70.0 - 32) / 1.8, .emissivity = 0.94, .law = FilmLaw::astm_c680_1989};
    const double loss = surface_loss(0.0254 * row.number("od_in"), room.air_c + rise_k, room);
    const bool misprint = row.text("nps_in") == "3-1/2" && row.number("temp_difference_F") == 110;
    const double tolerance = row.number("temp_difference_F") <= 140 && !misprint ? 0.02 : 0.035;
    EXPECT_TRUE(within_frac(loss / rise_k, row.number("published_W_per_m_K"), tolerance))
        << row.text("nps_in") << " in, " << row.text("temp_difference_F") << " degF";
    ++checked;
  }
  EXPECT_EQ(checked, 105);
}

// ASHRAE Handbook Fundamentals, bare steel pipe in still air at 80 degF (memory, not confirmed).
// Churchill-Chu with emissivity 0.94: 1.5 %, the spread found when the table was recalled.
TEST(BarePipe, AshraeTableByChurchillChu) {
  int checked = 0;
  for (const auto& row : published("bare_pipe_steel_ashrae_80F_memory").rows()) {
    const Surroundings room{.air_c = (80.0 - 32) / 1.8, .emissivity = 0.94, .law = FilmLaw::churchill_chu};
    const double pipe_c = (row.number("pipe_temp_F") - 32) / 1.8;
    if (0.5 * (pipe_c + room.air_c) > 100) continue;  // outside the air table
    const double loss = surface_loss(0.0254 * row.number("od_in"), pipe_c, room);
    EXPECT_TRUE(within_frac(loss / w_per_m_of_btu_per_h_ft, row.number("recalled_Btu_per_h_ft"), 0.015))
        << row.text("nps_in") << " in at " << row.text("pipe_temp_F") << " degF";
    ++checked;
  }
  EXPECT_EQ(checked, 16);
}

// Standing hot water in bare copper tube: 120 to 105 degF in room air takes about 10 min in 1/2 in and 15 min
// in 3/4 in (commentary to section 609.11 of a US plumbing code, read in quotation). "About": 25 %. Type L,
// 70 degF, emissivity 0.6.
TEST(BarePipe, CoolDownTimesOfPlumbingCodeCommentary) {
  const Surroundings room{.air_c = (70.0 - 32) / 1.8, .emissivity = 0.6};
  const auto minutes = [&](const char* name) {
    const Pipe pipe = find_pipe(name).value();
    const double store_j_per_m_k = pipe.bore_area_m2() * 990 * 4180 + pipe.wall_area_m2() *
                                                                          pipe.density_kg_per_m3 *
                                                                          pipe.heat_capacity_j_per_kg_k;
    const double start_c = (120.0 - 32) / 1.8, end_c = (105.0 - 32) / 1.8;
    const int steps = 200;
    double seconds = 0;
    for (int i = 0; i < steps; ++i) {
      const double water_c = start_c + (end_c - start_c) * (i + 0.5) / steps;
      seconds += store_j_per_m_k * (start_c - end_c) / steps / loss_w_per_m(bare(pipe), water_c, room);
    }
    return seconds / 60;
  };
  EXPECT_TRUE(within_frac(minutes("copper L 1/2"), 10, 0.25));
  EXPECT_TRUE(within_frac(minutes("copper L 3/4"), 15, 0.25));
}

}  // namespace
}  // namespace firstdraw::physics
