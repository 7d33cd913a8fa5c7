// Voltage and current along a circuit: currents from the ends, voltages from the feed, a few times over. Each
// stretch is a uniform outflow, which is a few parts in ten thousand off for cables as long as a breaker
// allows (tests/reference/diagnosis_test.cpp).
#include <cmath>

#include "power/electrical.hpp"
#include "prove/forward_parts.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using enum Cause;

constexpr double wire_rise_k = 10;  // bus wires above the pipe
// How the cable is fixed shifts its own temperature against that of the sheet's test pipe; our choice. It
// counts most where output falls steeply.
constexpr double fixing_k = 2;
constexpr double least_v = 1;

double value_of(double number) { return number; }
double value_of(const Dual& number) { return number.v; }
double mapped(double value, double, double) { return value; }

/// A circuit as numbers of one kind: plain to settle, with derivatives for the last rounds.
template <class Number>
struct Walk {
  const ScopeCircuit& circuit;
  const CableTable& cable;
  Number source_v;
  double wiring_ohm = 0;
  std::vector<double> length_m, ohm;
  std::vector<Number> conductance{};  // W per metre at rated voltage
  std::vector<Number> mean_v{}, far_v{}, own_a{}, entering_a{};
  Number amps{}, feed_v{};

  void currents() {
    amps = 0;
    entering_a.assign(length_m.size(), Number(0));
    own_a.assign(length_m.size(), Number(0));
    for (std::size_t s = length_m.size(); s-- > 0;) {
      const double volts = value_of(mean_v[s]);
      const Sample factor = cable.factor(volts);
      if (volts > least_v && length_m[s] > 0)
        own_a[s] = conductance[s] * (mapped(factor.value, factor.slope, mean_v[s]) / mean_v[s]) * length_m[s];
      entering_a[s] += own_a[s];
      const int parent = circuit.stretches[s].parent;
      (parent < 0 ? amps : entering_a[at(parent)]) += entering_a[s];
    }
  }

  void voltages() {
    feed_v = source_v - amps * wiring_ohm;
    far_v.resize(length_m.size());
    for (std::size_t s = 0; s < length_m.size(); ++s) {
      const int parent = circuit.stretches[s].parent;
      const Number& near_v = parent < 0 ? feed_v : far_v[at(parent)];
      const Number through = entering_a[s] - own_a[s];
      mean_v[s] = near_v - (through * 0.5 + own_a[s] * (1.0 / 3)) * ohm[s];
      far_v[s] = near_v - (through + own_a[s] * 0.5) * ohm[s];
    }
  }

  void rounds(int count) {
    for (int round = 0; round < count; ++round) {
      currents();
      voltages();
    }
  }
};

}  // namespace

void Forward::ladder(int index, const Setting& setting, Now& now) const {
  const ScopeCircuit& circuit = scope_->circuits[at(index)];
  CircuitNow& made = now.circuits[at(index)];
  const std::size_t count = circuit.stretches.size();
  const Fault& fault = setting.fault;
  made.known = true;
  made.cable = setting.of_circuit(wrong_cable, index, circuit.group) ? fault.sheet : circuit.cable;
  made.far_v.assign(count, 0);
  if (setting.of_circuit(breaker_open, index, circuit.group) ||
      setting.of_group(contactor_stuck_off, circuit.group))
    return;  // feed_v and amps stay nil
  const CableTable& cable = scope_->cables[at(made.cable)];
  const bool fed_wrong = setting.of_circuit(wrong_voltage, index, circuit.group);
  const double source_v = fed_wrong ? fault.value : circuit.panel_v;
  const double source_frac = fed_wrong ? 0.01 : circuit.volts_frac;
  const double wiring_ohm =
      fed_wrong ? 0 : circuit.wiring_ohm;  // a wrong voltage is one at the power connection
  const double aged = setting.of_circuit(ageing_cable, index, circuit.group) ? fault.value : 1;
  Walk<double> plain{circuit, cable, source_v, wiring_ohm, {}, {}};
  for (std::size_t s = 0; s < count; ++s) {
    const RunNow& run = now.runs[at(circuit.runs[s])];
    plain.length_m.push_back(circuit.stretches[s].length_m * run.live_frac);
    plain.ohm.push_back(
        power::copper_resistance_at(cable.sheet().bus_loop_ohm_per_m, run.water_c.v + wire_rise_k) *
        plain.length_m.back());
    plain.conductance.push_back(aged * circuit.stretches[s].derating_frac *
                                cable.output(run.water_c.v).value);
    plain.mean_v.push_back(source_v);
  }
  plain.rounds(3);
  Walk<Dual> exact{circuit,    cable,          Dual::tolerance(source_v, source_v * source_frac, volts_slot),
                   wiring_ohm, plain.length_m, plain.ohm};
  for (const double volts : plain.mean_v)
    exact.mean_v.push_back(Dual::tolerance(volts, volts * source_frac, volts_slot));
  Dual scale = aged;
  scale.g[batch_slot] = aged * 0.5 * cable.sheet().output_tolerance_frac;
  scale.g[length_slot] = aged * length_frac;
  for (std::size_t s = 0; s < count; ++s) {
    const RunNow& run = now.runs[at(circuit.runs[s])];
    const Sample output = cable.output(run.water_c.v);
    scale.g[law_slot] =
        aged * std::hypot(law_frac, output.value > 0 ? fixing_k * output.slope / output.value : 0);
    exact.conductance.push_back(scale * mapped(output.value, output.slope, run.water_c) *
                                circuit.stretches[s].derating_frac);
  }
  exact.rounds(2);
  made.amps = exact.amps;
  made.feed_v = exact.feed_v;
  made.far_v = std::move(exact.far_v);
  for (std::size_t s = 0; s < count; ++s) {
    RunNow& run = now.runs[at(circuit.runs[s])];
    const Sample output = cable.output(run.water_c.v);
    run.amp_per_k = output.value > 0 ? exact.own_a[s].v * output.slope / output.value : 0;
    const int parent = circuit.stretches[s].parent;
    const bool cut =
        run.live_frac < 1 || (parent >= 0 && now.runs[at(circuit.runs[at(parent)])].live_frac < 1);
    if (cut) made.far_v[s] = 0;
  }
}

}  // namespace firstdraw::prove
