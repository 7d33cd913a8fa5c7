#include "scene_of.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace firstdraw::bench {
namespace {

constexpr double air_c = 22, hold_c = 55, fixed_share = 0.6, tick_s = 20;
constexpr double cable_at_hold_w_per_m = 12, cable_slope_w_per_m_k = -0.2;

/// Copper tube, common metric sizes (memory): bore and wall thickness.
struct Tube {
  double bore_m, thickness_m;
};
constexpr std::array<Tube, 10> tubes{{{0.010, 0.001},
                                      {0.013, 0.001},
                                      {0.016, 0.001},
                                      {0.020, 0.001},
                                      {0.025, 0.0015},
                                      {0.032, 0.0015},
                                      {0.039, 0.0015},
                                      {0.050, 0.002},
                                      {0.072, 0.002},
                                      {0.103, 0.0025}}};

/// Smallest tube in which the likely flow of so many taps stays below 1.5 m/s.
Tube tube_for(int taps) {
  constexpr double speed_m_per_s = 1.5, one_tap_m3_per_s = 0.1e-3, crowd = 0.6;
  const double flow_m3_per_s = one_tap_m3_per_s * std::pow(taps, crowd);
  const double bore_m = std::sqrt(4 * flow_m3_per_s / (std::numbers::pi * speed_m_per_s));
  const auto found = std::ranges::find_if(tubes, [&](const Tube& tube) { return tube.bore_m >= bore_m; });
  return found == tubes.end() ? tubes.back() : *found;
}

/// Copper: 8900 kg/m3, 385 J/(kg K) (memory).
double wall_j_per_m_k(const Tube& tube) {
  constexpr double copper_j_per_m3_k = 8900 * 385;
  return copper_j_per_m3_k * std::numbers::pi * (tube.bore_m + tube.thickness_m) * tube.thickness_m;
}

/// Mineral wool as three equal resistances and two equal masses; air film 10 W/(m2 K).
physics::RadialLadder ladder_for(const Tube& tube, double insulation_m) {
  constexpr double conductivity_w_per_m_k = 0.038, wool_j_per_m3_k = 80 * 840, film_w_per_m2_k = 10;
  const double inside_m = 0.5 * tube.bore_m + tube.thickness_m, outside_m = inside_m + insulation_m;
  const double resistance = std::log(outside_m / inside_m) / (2 * std::numbers::pi * conductivity_w_per_m_k) +
                            1 / (film_w_per_m2_k * 2 * std::numbers::pi * outside_m);
  const double mass_j_per_m_k =
      wool_j_per_m3_k * std::numbers::pi * (outside_m * outside_m - inside_m * inside_m);
  return {3 / resistance, 3 / resistance, 3 / resistance, mass_j_per_m_k / 2, mass_j_per_m_k / 2};
}

class Builder {
 public:
  Builder(const BuildingSize& size, Control control, double cell_m)
      : size_(size), control_(control), cell_m_(cell_m) {}

  draw::Scene build() {
    scene_.cables = {cable()};
    int main = draw::none, left = size_.tap_groups();
    for (int riser = 0; riser < size_.risers; ++riser) {
      scene_.groups.push_back(group(riser));
      main = add("main", main, 18, left, true);
      left -= size_.levels * size_.groups_per_level;
      add_riser(main);
    }
    return std::move(scene_);
  }

 private:
  void add_riser(int run) {
    for (int level = 0; level < size_.levels; ++level) {
      run = add("riser", run, 3, (size_.levels - level) * size_.groups_per_level, true);
      if (level == 0) scene_.groups.back().sensor_run = run;
      for (int each = 0; each < size_.groups_per_level; ++each) add_tap(run);
    }
  }
  void add_tap(int run) {
    const bool traced = scene_.taps.size() % 6 != 5;
    const int branch = add("branch", run, 5, 1, traced);
    const int runout = add_runout(branch);
    draw::Tap tap;
    tap.id = "tap " + std::to_string(scene_.taps.size());
    tap.run = runout;
    scene_.taps.push_back(tap);
  }
  int add(const char* kind, int upstream, double length_m, int taps, bool traced) {
    constexpr double thickest_m = 0.05, thinnest_m = 0.02;
    const Tube tube = tube_for(taps);
    const int index =
        add_pipe(kind, upstream, length_m, tube, std::clamp(tube.bore_m, thinnest_m, thickest_m));
    draw::SceneRun& run = scene_.runs[draw::at(index)];
    if (!traced) return index;
    run.group = static_cast<int>(scene_.groups.size()) - 1, run.cable = 0;
    run.cable_share =
        run.insulation.steady_w_per_m_k() * (hold_c - air_c) / (cable_at_hold_w_per_m * fixed_share);
    run.linear_about_c = hold_c;
    return index;
  }
  int add_runout(int upstream) {
    constexpr double foam_m = 0.009;
    return add_pipe("runout", upstream, 4, tubes.front(), foam_m);
  }
  int add_pipe(const char* kind, int upstream, double length_m, const Tube& tube, double insulation_m) {
    constexpr double bend_share = 0.1;  // of the conductance comes with the difference, at 40 K
    draw::SceneRun run;
    run.id = std::string(kind) + " " + std::to_string(scene_.runs.size());
    run.upstream = upstream;
    run.length_m = length_m, run.inner_diameter_m = tube.bore_m;
    run.cells = std::max(1, static_cast<int>(std::lround(length_m / cell_m_)));
    run.wall_j_per_m_k = wall_j_per_m_k(tube);
    run.insulation = ladder_for(tube, insulation_m);
    run.loss_u0 = (1 - bend_share) * run.insulation.steady_w_per_m_k();
    run.loss_u1 = bend_share * run.insulation.steady_w_per_m_k() / 40;
    run.standing_film_w_per_m2_k = 300, run.flowing_film_w_per_m2_k = 4000;
    run.air_c = air_c;
    scene_.runs.push_back(run);
    return static_cast<int>(scene_.runs.size()) - 1;
  }
  draw::SceneGroup group(int riser) const {
    draw::SceneGroup group;
    group.id = "riser " + std::to_string(riser + 1);
    group.control.mode =
        control_ == Control::thermostat ? draw::ControlMode::thermostat : draw::ControlMode::open_loop;
    group.control.hold_c = hold_c;
    group.control.differential_k = 2;
    group.control.cycle_s = tick_s;
    group.control.open_loop_at_c = {0, 100}, group.control.open_loop_duty = {fixed_share, fixed_share};
    return group;
  }
  static draw::CableCurve cable() {
    draw::CableCurve curve;
    for (int i = 0; i < draw::CableCurve::points; ++i) {
      const double wall_c = draw::CableCurve::first_c + i * draw::CableCurve::step_k;
      curve.power_w_per_m[i] =
          std::max(0.0, cable_at_hold_w_per_m + cable_slope_w_per_m_k * (wall_c - hold_c));
    }
    return curve;
  }

  BuildingSize size_;
  Control control_;
  double cell_m_;
  draw::Scene scene_;
};

/// SplitMix64 (Steele, Lea, Flood 2014; constants from memory).
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}
  double share() {  // 0...1
    state_ += 0x9e3779b97f4a7c15;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
    z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
    return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1p-53;
  }

 private:
  std::uint64_t state_;
};

}  // namespace

draw::Scene invented_building(const BuildingSize& size, Control control, double cell_m) {
  return Builder(size, control, cell_m).build();
}

std::vector<draw::Draw> invented_draws(const draw::Scene& scene, double end_s, const DrawHabits& habits) {
  constexpr double mean_s = 30, shortest_s = 4, longest_s = 120;
  const double part_s = std::floor(draw::day_s / habits.per_day);
  std::vector<draw::Draw> draws;
  for (std::size_t tap = 0; tap < scene.taps.size(); ++tap) {
    Random random(habits.seed * 1'000'003 + tap);
    for (double begin_s = 0; begin_s < end_s; begin_s += part_s) {
      draw::Draw draw;
      draw.tap = static_cast<int>(tap);
      draw.open_s = begin_s + std::floor(random.share() * (part_s - longest_s - 1));
      draw.duration_s = std::clamp(std::round(-mean_s * std::log1p(-random.share())), shortest_s, longest_s);
      draw.flow_m3_per_s = (0.05 + 0.07 * random.share()) * 1e-3;
      if (draw.open_s < end_s) draws.push_back(draw);
    }
  }
  std::ranges::sort(draws, {}, [](const draw::Draw& draw) { return std::pair(draw.open_s, draw.tap); });
  return draws;
}

int cells_of(const draw::Scene& scene) {
  int cells = 0;
  for (const draw::SceneRun& run : scene.runs) cells += run.cells;
  return cells;
}

double length_m(const draw::Scene& scene) {
  double length_m = 0;
  for (const draw::SceneRun& run : scene.runs) length_m += run.length_m;
  return length_m;
}

}  // namespace firstdraw::bench
