// Laws that the physics must keep for every pipe, insulation and room, not only for the cases someone
// computed.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "physics/heating_cable.hpp"
#include "physics/pipe_loss.hpp"
#include "physics/wall_angle.hpp"
#include "physics/water.hpp"

namespace firstdraw::physics {
namespace {

using std::numbers::pi;

/// A number between two others, in a million steps.
double between(double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 1'000'001) / 1e6; }

template <class T>
const T& any_of(std::span<const T> all) {
  return all[*rc::gen::inRange<std::size_t>(0, all.size())];
}

Surroundings any_room() {
  return {.air_c = between(-30, 45),
          .emissivity = between(0.03, 1),
          .orientation = *rc::gen::element(Orientation::horizontal, Orientation::vertical),
          .height_m = between(0.3, 30),
          .air_speed_m_per_s = *rc::gen::element(0.0, 0.0, 0.3, 4.0),
          .law = *rc::gen::element(FilmLaw::iso_12241, FilmLaw::churchill_chu, FilmLaw::astm_c680_1989)};
}

PipeSection any_section() {
  const Pipe& pipe = any_of(all_pipes());
  PipeSection section = bare(pipe);
  section.inner_film_w_per_m2_k = *rc::gen::element(0.0, 150.0, 2000.0);
  double bore_m = pipe.outer_diameter_m * between(1, 1.4);
  const int layers = *rc::gen::inRange(0, 3);
  for (int i = 0; i < layers; ++i) {
    const double outer_m = bore_m + 2 * between(0.005, 0.08);
    section.layers.push_back({any_of(all_insulations()), bore_m, outer_m, between(0.8, 3)});
    bore_m = outer_m;
  }
  return section;
}

TEST(PipeLossProperty, GrowsWithTheTemperatureDifference) {
  ASSERT_TRUE(rc::check([] {
    const PipeSection section = any_section();
    const Surroundings room = any_room();
    const double water_c = between(room.air_c, 95), hotter_c = water_c + between(0.01, 20);
    const double cool = loss_w_per_m(section, water_c, room), hot = loss_w_per_m(section, hotter_c, room);
    RC_ASSERT(cool >= 0);
    RC_ASSERT(hot > cool);
  }));
}

TEST(PipeLossProperty, BalanceClosesUnlessTheFilmSteps) {
  ASSERT_TRUE(rc::check([] {
    const PipeSection section = any_section();
    Surroundings room = any_room();
    room.orientation = Orientation::horizontal;  // the step of the ISO law needs half a metre of diameter
    const double water_c = between(-10, 95);
    RC_PRE(std::abs(water_c - room.air_c) > 0.1);
    const PipeLoss at = pipe_loss(section, water_c, room);
    const double outer_m =
        section.layers.empty() ? section.outer_diameter_m : section.layers.back().outer_diameter_m;
    const double taken = pi * outer_m * at.surface_film_w_per_m2_k * (at.surface_c - room.air_c);
    RC_ASSERT(std::abs(taken - at.loss_w_per_m) <= 1e-10 * std::abs(at.loss_w_per_m));
    RC_ASSERT((water_c - at.surface_c) * (at.surface_c - room.air_c) >= 0);  // the surface is between
  }));
}

// Above the critical radius k/h more insulation always helps. The film at the thinner layer judges.
TEST(PipeLossProperty, FallsWithThicknessAboveTheCriticalRadius) {
  ASSERT_TRUE(rc::check([] {
    PipeSection section = bare(any_of(all_pipes()));
    const double bore_m = section.outer_diameter_m, outer_m = bore_m + 2 * between(0.006, 0.08);
    section.layers.push_back({any_of(all_insulations()), bore_m, outer_m});
    const Surroundings room = any_room();
    const double water_c = room.air_c + between(1, 60);
    const PipeLoss thin = pipe_loss(section, water_c, room);
    const double k = std::log(outer_m / bore_m) / (2 * pi * thin.layer_resistance_m_k_per_w[0]);
    RC_PRE(0.5 * outer_m > k / thin.surface_film_w_per_m2_k);
    section.layers[0].outer_diameter_m = outer_m + 2 * between(0.001, 0.05);
    RC_ASSERT(loss_w_per_m(section, water_c, room) < thin.loss_w_per_m);
  }));
}

// A layer's resistance knows only the ratio of its diameters, and is inverse to conductivity.
TEST(PipeLossProperty, ResistanceScales) {
  ASSERT_TRUE(rc::check([] {
    Insulation constant;
    constant.mean_c = {10};
    constant.conductivity_w_per_m_k = {between(0.01, 0.1)};
    const double bore_m = between(0.01, 0.2), outer_m = bore_m * between(1.1, 6), scale = between(0.3, 3),
                 times = between(0.3, 3);
    const auto resistance = [&](double by, double factor) {
      const PipeSection section{.inner_diameter_m = by * bore_m,
                                .outer_diameter_m = by * bore_m,
                                .layers = {{constant, by * bore_m, by * outer_m, factor}}};
      return pipe_loss(section, 60, {.air_c = 20}).layer_resistance_m_k_per_w[0];
    };
    const double base = resistance(1, 1);
    RC_ASSERT(std::abs(resistance(scale, 1) / base - 1) < 1e-12);
    RC_ASSERT(std::abs(resistance(1, times) * times / base - 1) < 1e-12);
  }));
}

CableSheet any_sheet() {
  CableSheet sheet;
  sheet.id = "any";
  sheet.rated_voltage_v = 240;
  double pipe_c = between(-40, 0), power = between(20, 60);
  const int points = *rc::gen::inRange(1, 12);
  for (int i = 0; i < points; ++i) {
    sheet.output.push_back({pipe_c, power});
    pipe_c += between(0.5, 30);
    power *= *rc::gen::element(1.0, between(0, 1));  // level stretches too
  }
  double voltage_v = between(100, 200), factor = between(0.3, 0.8);
  for (int i = 0; i < 3; ++i) {
    sheet.voltage.push_back({voltage_v, factor});
    voltage_v += between(5, 60);
    factor += between(0, 0.5);
  }
  return sheet;
}

TEST(HeatingCableProperty, OutputNeverRisesAndStaysInTheSheet) {
  ASSERT_TRUE(rc::check([] {
    const HeatingCable cable(any_sheet());
    const auto& output = cable.sheet().output;
    const double pipe_c = between(output.front().pipe_c - 20, output.back().pipe_c + 20);
    const double warmer_c = pipe_c + between(0, 10), voltage_v = between(80, 400);
    const double most = output.front().power_w_per_m, least = output.back().power_w_per_m;
    const double power = cable.power_w_per_m(pipe_c, voltage_v) / cable.voltage_factor(voltage_v);
    const double warm = cable.power_w_per_m(warmer_c, voltage_v) / cable.voltage_factor(voltage_v);
    const double rounding = 1e-13 * most;
    RC_ASSERT(warm <= power + rounding);
    RC_ASSERT(power <= most + rounding);
    RC_ASSERT(power >= least - rounding);
    RC_ASSERT(cable.voltage_factor(voltage_v + between(0, 10)) >= cable.voltage_factor(voltage_v) - 1e-13);
  }));
}

TEST(CableModelProperty, FitGivesTheModelBack) {
  ASSERT_TRUE(rc::check([] {
    const CableModel made{.reference_c = 10,
                          .core_ohm_m = between(300, 8000),
                          .beta_per_k = between(0.005, 0.05),
                          .core_to_pipe_m_k_per_w = between(0.1, 2)};
    CableSheet sheet;
    sheet.rated_voltage_v = 230;
    for (const double pipe_c : {-30.0, -10.0, 10.0, 30.0, 50.0, 70.0}) {
      sheet.output.push_back({pipe_c, made.power_w_per_m(pipe_c, 230)});
    }
    const CableFit fit = fit_cable(sheet);
    RC_ASSERT(fit.worst_output_error_frac < 1e-6);
    RC_ASSERT(std::abs(fit.model.beta_per_k / made.beta_per_k - 1) < 1e-3);
    RC_ASSERT(std::abs(fit.model.core_to_pipe_m_k_per_w / made.core_to_pipe_m_k_per_w - 1) < 1e-2);
  }));
}

TEST(CableModelProperty, OutputRisesWithVoltageLessThanItsSquare) {
  ASSERT_TRUE(rc::check([] {
    const CableModel model{.reference_c = 10,
                           .core_ohm_m = between(300, 8000),
                           .beta_per_k = between(1e-4, 0.05),
                           .core_to_pipe_m_k_per_w = between(0, 2)};
    const double pipe_c = between(-40, 80), voltage_v = between(80, 300), more = between(1.001, 1.5);
    const double ratio =
        model.power_w_per_m(pipe_c, voltage_v * more) / model.power_w_per_m(pipe_c, voltage_v);
    RC_ASSERT(ratio > 1);
    RC_ASSERT(ratio <= more * more * (1 + 1e-12));
    RC_ASSERT(model.inrush_ratio(pipe_c, voltage_v) >= 1);
  }));
}

TEST(ClearanceProperty, CircleHoldsPipeAndCableAndNoMore) {
  ASSERT_TRUE(rc::check([] {
    const double r = between(0.004, 0.15);
    const CableSection cable{between(0.002, 0.016), between(0.001, 0.009)};
    const double radius = 0.5 * clearance_bore_m(2 * r, cable, 1);
    // The circle's centre lies on the axis through the cable; it must hold the pipe's far side and both
    // corners.
    const double top = r + cable.thickness_m, half = 0.5 * cable.width_m;
    const double centre = radius < half ? top : radius - r;
    RC_ASSERT(std::hypot(half, top - centre) <= radius * (1 + 1e-12));
    RC_ASSERT(r + std::abs(centre) <= radius * (1 + 1e-12));
    RC_ASSERT(2 * radius <= clearance_bore_m(2 * r, cable, 2) * (1 + 1e-12));
    RC_ASSERT(2 * radius >= 2 * r + cable.thickness_m);
    for (const SizeSeries series : {SizeSeries::inch_iron, SizeSeries::inch_tube, SizeSeries::metric}) {
      const int passes = *rc::gen::inRange(0, 4);
      const auto size = fit_insulation(2 * r, cable, passes, between(0.01, 0.1), series);
      RC_ASSERT(size.bore_m >= clearance_bore_m(2 * r, cable, passes) * (1 - 1e-8));
      RC_ASSERT(size.thickness_m() > 0);
    }
  }));
}

TEST(FindPipeProperty, AnyTextGivesAPipeOrASentence) {
  ASSERT_TRUE(rc::check([] {
    std::string text = *rc::gen::element<std::string>("copper L 1-1/4 in", "stainless steel 10S 2",
                                                      "copper EN 1057 22x1", "pex 3/4", "");
    const auto damage = *rc::gen::arbitrary<std::string>();
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size() + 1);
    text.replace(at, *rc::gen::inRange<std::size_t>(0, 4), damage);
    if (const auto found = find_pipe(text)) {
      RC_ASSERT(found->inner_diameter_m() > 0);
    } else {
      RC_ASSERT(!found.error().empty());
    }
    const auto parts = find_pipe(damage, text, damage);
    RC_ASSERT(parts || !parts.error().empty());
  }));
}

TEST(WallProperty, RiseIsInProportionToPowerAndPositive) {
  ASSERT_TRUE(rc::check([] {
    const Pipe& pipe = any_of(all_pipes());
    const double h_i = between(50, 3000), u_o = between(0, 12), power = between(1, 40),
                 times = between(0.1, 5);
    const double water_c = between(5, 80), air_c = between(-20, 40), strip_m = between(0.004, 0.016);
    const WallProfile one = wall_profile(pipe, h_i, u_o, water_c, air_c, power, strip_m);
    const WallProfile more = wall_profile(pipe, h_i, u_o, water_c, air_c, times * power, strip_m);
    const double rise_k = one.under_cable_c - one.idle_c;
    RC_ASSERT(rise_k > 0);
    RC_ASSERT(std::abs((more.under_cable_c - more.idle_c) - times * rise_k) <= 1e-9 * times * rise_k + 1e-11);
    RC_ASSERT(one.at(pi) <= one.under_cable_c);
    RC_ASSERT(one.at(pi) - one.idle_c >= -1e-4 * rise_k);
  }));
}

TEST(WaterProperty, HeatCapacityIsTheSlopeOfEnthalpy) {
  ASSERT_TRUE(rc::check([] {
    const double temp_k = between(274, 372), pressure_mpa = between(0.15, 5), step_k = 0.01;
    const double slope = (if97_region1(temp_k + step_k, pressure_mpa).enthalpy_j_per_kg -
                          if97_region1(temp_k - step_k, pressure_mpa).enthalpy_j_per_kg) /
                         (2 * step_k);
    RC_ASSERT(std::abs(slope / if97_region1(temp_k, pressure_mpa).heat_capacity_j_per_kg_k - 1) < 1e-7);
    const double volume_slope = (if97_region1(temp_k + step_k, pressure_mpa).volume_m3_per_kg -
                                 if97_region1(temp_k - step_k, pressure_mpa).volume_m3_per_kg) /
                                (2 * step_k);
    const If97 at = if97_region1(temp_k, pressure_mpa);
    RC_ASSERT(std::abs(volume_slope / at.volume_m3_per_kg - at.expansion_per_k) < 1e-9);
  }));
}

}  // namespace
}  // namespace firstdraw::physics
