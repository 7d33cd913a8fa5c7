#include "physics/pipe_loss.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string_view>

#include "physics/interpolate.hpp"
#include "tables/table.hpp"

namespace firstdraw::physics {
namespace {

using std::numbers::pi;
constexpr double tolerance = 1e-13;  // of the loss
constexpr int most_iterations = 200;

double ring(double inner_m, double outer_m) { return std::log(outer_m / inner_m) / (2 * pi); }

double inner_resistance(const PipeSection& section) {
  double resistance = 0;
  if (section.inner_film_w_per_m2_k > 0) {
    resistance += 1 / (pi * section.inner_diameter_m * section.inner_film_w_per_m2_k);
  }
  if (section.wall_conductivity_w_per_m_k > 0 && section.outer_diameter_m > section.inner_diameter_m) {
    resistance +=
        ring(section.inner_diameter_m, section.outer_diameter_m) / section.wall_conductivity_w_per_m_k;
  }
  return resistance;
}

double outermost_diameter_m(const PipeSection& section) {
  return section.layers.empty() ? section.outer_diameter_m : section.layers.back().outer_diameter_m;
}

/// Outer face of a layer whose inner face is at `face_c` when `loss` flows through it.
double beyond(const Layer& layer, double face_c, double loss) {
  const double shape = ring(layer.inner_diameter_m, layer.outer_diameter_m) / layer.conductivity_factor;
  return layer.insulation.other_face_c(face_c, loss * shape);
}

/// Every temperature follows from the loss, marching outwards; the loss is right when the room takes from the
/// surface what comes through the pipe.
struct Balance {
  const PipeSection& section;
  const Surroundings& around;
  double water_c = 0;
  double inner_m_k_per_w = inner_resistance(section);
  double diameter_m = outermost_diameter_m(section);

  double wall_c(double loss) const { return water_c - loss * inner_m_k_per_w; }
  double surface_c(double loss) const {
    double face_c = wall_c(loss);
    for (const Layer& layer : section.layers) face_c = beyond(layer, face_c, loss);
    return face_c;
  }
  double film(double at_c) const {
    return convection_w_per_m2_k(diameter_m, at_c, around) + radiation_w_per_m2_k(at_c, around);
  }
  double taken_at(double at_c) const { return pi * diameter_m * film(at_c) * (at_c - around.air_c); }
  /// What the room takes; none once the march has passed the air temperature.
  double taken(double loss) const {
    const double at_c = surface_c(loss);
    const bool passed = (at_c - around.air_c) * (water_c - around.air_c) <= 0;
    return passed ? 0 : taken_at(at_c);
  }
};

struct Solved {
  double loss = 0;
  int iterations = 0;
};

/// First guess of the loss: usual film of 10 W/(m2 K), conductivities at the water temperature.
double first_guess(const Balance& balance) {
  double resistance = balance.inner_m_k_per_w + 1 / (pi * balance.diameter_m * 10);
  for (const Layer& layer : balance.section.layers) {
    resistance += ring(layer.inner_diameter_m, layer.outer_diameter_m) /
                  (layer.conductivity_factor * layer.insulation.conductivity_at(balance.water_c));
  }
  return (balance.water_c - balance.around.air_c) / resistance;
}

/// The room takes less the larger the loss, so the answer is between 0 and what the room would take from a
/// surface at water temperature. Secant steps, halving when one leaves the bracket or fails to shrink it.
Solved solve(const Balance& balance) {
  if (balance.water_c == balance.around.air_c) return {};
  double low = 0, high = balance.taken_at(balance.water_c);
  if (balance.section.layers.empty() && balance.inner_m_k_per_w == 0) return {high, 1};
  double at = first_guess(balance), last_at = 0, last_gap = balance.taken_at(balance.water_c);
  if (std::abs(at) >= std::abs(high)) at = 0.5 * high;
  Solved solved;
  for (solved.iterations = 1; solved.iterations < most_iterations; ++solved.iterations) {
    const double gap = balance.taken(at) - at;
    (gap * high > 0 ? low : high) = at;
    if (std::abs(gap) <= tolerance * std::abs(at) || std::abs(high - low) <= tolerance * std::abs(high))
      break;
    double next = at - gap * (at - last_at) / (gap - last_gap);
    const bool outside = !((next - low) * (next - high) < 0);
    if (outside || solved.iterations % 8 == 0) next = 0.5 * (low + high);
    last_at = at;
    last_gap = gap;
    at = next;
  }
  solved.loss = at;
  return solved;
}

PipeLoss report(const Balance& balance, const Solved& solved) {
  PipeLoss out;
  out.loss_w_per_m = solved.loss;
  out.iterations = solved.iterations;
  out.wall_c = balance.wall_c(solved.loss);
  out.resistance_m_k_per_w = balance.inner_m_k_per_w;
  double face_c = out.wall_c;
  for (const Layer& layer : balance.section.layers) {
    const double outer_c = beyond(layer, face_c, solved.loss);
    const double k = layer.conductivity_factor * layer.insulation.mean_conductivity(face_c, outer_c);
    out.layer_resistance_m_k_per_w.push_back(ring(layer.inner_diameter_m, layer.outer_diameter_m) / k);
    out.resistance_m_k_per_w += out.layer_resistance_m_k_per_w.back();
    face_c = outer_c;
  }
  out.surface_c = face_c;
  out.surface_film_w_per_m2_k = balance.film(face_c);
  out.resistance_m_k_per_w += 1 / (pi * balance.diameter_m * out.surface_film_w_per_m2_k);
  if (solved.loss != 0) out.resistance_m_k_per_w = (balance.water_c - balance.around.air_c) / solved.loss;
  return out;
}

struct Points {
  std::vector<double> outer_diameter_m, length_m;
};
using FittingTable = std::array<Points, 6>;  // by Fitting

const FittingTable& fitting_table() {
  static const FittingTable built = [] {
    constexpr std::array<std::string_view, 6> names{"elbow",      "tee",         "valve_insulated",
                                                    "valve_bare", "flange_bare", "support"};
    FittingTable points;
    for (const auto& row : tables::table("fitting_losses").rows()) {
      const auto found = std::ranges::find(names, row.text("fitting"));
      if (found == names.end()) throw std::logic_error("fitting_losses.csv: unknown fitting");
      Points& at = points.at(static_cast<std::size_t>(found - names.begin()));
      at.outer_diameter_m.push_back(1e-3 * row.number("outer_diameter_mm"));
      at.length_m.push_back(row.number("equivalent_length_m"));
    }
    return points;
  }();
  return built;
}

}  // namespace

PipeSection bare(const Pipe& pipe) {
  return {.inner_diameter_m = pipe.inner_diameter_m(),
          .outer_diameter_m = pipe.outer_diameter_m,
          .wall_conductivity_w_per_m_k = pipe.conductivity_w_per_m_k,
          .layers = {}};
}

PipeSection insulated(const Pipe& pipe, const Insulation& insulation, const InsulationSize& size) {
  if (size.bore_m < pipe.outer_diameter_m * (1 - 1e-9)) {
    throw std::logic_error("insulation for " + size.made_for + " does not go over the pipe");
  }
  PipeSection section = bare(pipe);
  section.layers.push_back({insulation, size.bore_m, size.outer_diameter_m});
  return section;
}

PipeLoss pipe_loss(const PipeSection& section, double water_c, const Surroundings& around) {
  const Balance balance{section, around, water_c};
  return report(balance, solve(balance));
}

double loss_w_per_m(const PipeSection& section, double water_c, const Surroundings& around) {
  return solve(Balance{section, around, water_c}).loss;
}

double equivalent_length_m(Fitting fitting, double pipe_outer_diameter_m) {
  const Points& points = fitting_table().at(static_cast<std::size_t>(fitting));
  return linear_held(points.outer_diameter_m, points.length_m, pipe_outer_diameter_m);
}

}  // namespace firstdraw::physics
