#include "generate_cable.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace firstdraw::bench {

namespace {

constexpr double rated_v = 208;

struct Spec {
  const char* id;
  double at_55c_w_per_m, core_to_pipe_m_k_per_w, price_per_m;
};

double rounded(double value, double step) { return std::round(value / step) * step; }

/// The model whose output is as specified at 55 degC: beta Rc V^2 / R = w exp(w) with w = beta Rc p.
physics::CableModel model_of(const Spec& spec) {
  physics::CableModel model;
  model.beta_per_k = 0.02;
  model.core_to_pipe_m_k_per_w = spec.core_to_pipe_m_k_per_w;
  const double w = model.beta_per_k * spec.core_to_pipe_m_k_per_w * spec.at_55c_w_per_m;
  const double ohm_m_at_55 = rated_v * rated_v / (spec.at_55c_w_per_m * std::exp(w));
  model.core_ohm_m = ohm_m_at_55 / std::exp(model.beta_per_k * (55 - model.reference_c));
  return model;
}

/// 80 % of the breaker 300 s after the start, and at most a tenth of the voltage lost along the bus wires.
double max_length_m(double breaker_a, double settled_a_per_m, double loop_ohm_per_m) {
  const double by_breaker_m = 0.8 * breaker_a / settled_a_per_m;
  const double by_drop_m = std::sqrt(2 * 0.1 * rated_v / (loop_ohm_per_m * settled_a_per_m));
  return std::floor(std::min(by_breaker_m, by_drop_m));
}

void fill_tables(physics::CableSheet& sheet, const physics::CableModel& model) {
  for (const double pipe_c : {0, 10, 20, 30, 40, 45, 50, 55, 60, 70, 85}) {
    sheet.output.push_back({pipe_c, rounded(model.power_w_per_m(pipe_c, rated_v), 0.01)});
  }
  for (const double voltage_v : {187, 198, 208, 220, 229, 240}) {
    const double factor = model.power_w_per_m(52, voltage_v) / model.power_w_per_m(52, rated_v);
    sheet.voltage.push_back({voltage_v, rounded(factor, 0.001)});
  }
  for (const double start_c : {0, 5, 10, 15, 20}) {
    const double settled_a_per_m = model.power_w_per_m(start_c, rated_v) / rated_v;
    const double peak_a_per_m = settled_a_per_m * model.inrush_ratio(start_c, rated_v);
    sheet.cold_start.push_back({start_c, rounded(peak_a_per_m, 1e-4), rounded(settled_a_per_m, 1e-4)});
  }
  for (const double breaker_a : {15, 20, 30}) {
    for (const auto& start : sheet.cold_start) {
      const double length_m = max_length_m(breaker_a, start.settled_a_per_m, sheet.bus_loop_ohm_per_m);
      sheet.max_length.push_back({breaker_a, rated_v, start.start_c, length_m});
    }
  }
}

physics::CableSheet sheet_of(const Spec& spec) {
  physics::CableSheet sheet;
  sheet.id = spec.id;
  sheet.name = std::string("Larkspur ") + spec.id;
  sheet.maker = "Larkspur Thermal (invented)";
  sheet.source = "invented, from the two-parameter cable model";
  sheet.rated_voltage_v = rated_v;
  sheet.output_tolerance_frac = 0.1;
  sheet.bus_conductor = "16 AWG";
  sheet.bus_loop_ohm_per_m = 0.027;
  sheet.capacitance_f_per_m = 0.45e-9;
  sheet.max_powered_c = 85;
  sheet.max_unpowered_c = 90;
  sheet.min_install_c = -20;
  sheet.min_bend_radius_m = 0.013;
  sheet.section = {0.012, 0.0053};
  sheet.price_per_m = spec.price_per_m;
  fill_tables(sheet, model_of(spec));
  return sheet;
}

}  // namespace

std::vector<physics::CableSheet> generate_cables() {
  return {sheet_of({"lt-12", 12, 1.5, 28}), sheet_of({"lt-18", 18, 1.25, 32}),
          sheet_of({"lt-8", 8, 1.6, 25})};
}

}  // namespace firstdraw::bench
