#include "power/known.hpp"

#include <algorithm>

namespace firstdraw::power {

namespace {

using piping::at;

physics::CableSheet without_price(physics::CableSheet sheet) {
  sheet.price_per_m = 0;
  return sheet;
}

bool works_alike(const physics::HeatingCable& one, const physics::HeatingCable& other) {
  return without_price(one.sheet()) == without_price(other.sheet());
}

/// Everything circuit_voltage looks at.
std::vector<double> question(const piping::Network& network, const Circuit& circuit,
                             std::span<const double> cable_length_m, std::span<const double> water_c,
                             std::span<const double> derating_frac, double panel_v) {
  std::vector<double> asked{panel_v,
                            static_cast<double>(circuit.cable),
                            static_cast<double>(circuit.feed_node),
                            circuit.wiring.one_way_m,
                            circuit.wiring.loop_ohm_per_m,
                            static_cast<double>(circuit.end_nodes.size())};
  asked.insert(asked.end(), circuit.end_nodes.begin(), circuit.end_nodes.end());
  for (std::size_t i = 0; i < circuit.runs.size(); ++i) {
    const std::size_t run = at(circuit.runs[i]);
    asked.insert(asked.end(),
                 {static_cast<double>(network.from_node[run]), static_cast<double>(network.to_node[run]),
                  cable_length_m[i], water_c[i], derating_frac[i]});
  }
  return asked;
}

}  // namespace

void Known::begin(const std::vector<physics::HeatingCable>& cables, double start_c) {
  if (!starts_ || starts_->start_c() != start_c || !std::ranges::equal(cables_, cables, works_alike)) {
    cables_ = cables;
    starts_.emplace(cables_, start_c);
    voltages_ = {};
    models_.clear();
  }
  voltages_.next_round();
  starts_->next_round();
}

const CircuitVoltage& Known::voltage(const piping::Network& network, const Circuit& circuit,
                                     std::span<const double> cable_length_m, std::span<const double> water_c,
                                     std::span<const double> derating_frac, double panel_v) {
  return voltages_.get(question(network, circuit, cable_length_m, water_c, derating_frac, panel_v), [&] {
    return circuit_voltage(network, circuit, cables_[at(circuit.cable)], cable_length_m, water_c,
                           derating_frac, panel_v);
  });
}

const physics::CableModel& Known::model(int cable) {
  const auto [place, fresh] = models_.try_emplace(cable);
  if (fresh) place->second = physics::fit_cable(cables_[at(cable)].sheet()).model;
  return place->second;
}

}  // namespace firstdraw::power
