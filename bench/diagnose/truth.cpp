#include "truth.hpp"

#include <algorithm>
#include <cmath>

#include "plan/run_classes.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::Cause;
using enum prove::Cause;

std::vector<forecast::Fault> faults_of(const Building& building, const Planted& planted) {
  using Kind = forecast::FaultKind;
  const job::Job& job = building.job;
  const auto fault = [](Kind kind, std::string place, double value = 0) {
    forecast::Fault made;
    made.kind = kind;
    made.place = std::move(place);
    made.value = value;
    return std::vector{made};
  };
  const std::string group = job.groups[at(planted.group)].id, run = job.runs[at(planted.run)].id;
  switch (planted.cause) {
    case sensor_beside_cable:
      return fault(Kind::sensor_beside_cable, group);
    case sensor_upstream:
      return fault(Kind::sensor_upstream, group);
    case sensor_unplugged:
      return fault(Kind::sensor_lost, group);
    case sensor_off_pipe:
      return fault(Kind::sensor_off_pipe, group);
    case wrong_ambient:
      return fault(Kind::wrong_ambient, group, planted.value);
    case contactor_stuck_on:
      return fault(Kind::contactor_stuck_on, group);
    case contactor_stuck_off:
      return fault(Kind::contactor_stuck_off, group);
    case breaker_open:
      return fault(Kind::breaker_open, building.plan.circuits[at(planted.circuit)].id);
    case wet_insulation:
      return fault(Kind::wet_insulation, run, planted.value);
    case missing_insulation:
      return fault(Kind::missing_insulation, run);
    default:
      return {};
  }
}

/// Power of a metre by the fitted core at this voltage over that at the panel's.
double core_share(const Building& building, int cable, double volts, double nominal_v) {
  const physics::CableModel model = physics::fit_cable(building.job.cables[at(cable)]).model;
  return model.power_w_per_m(50, volts) / model.power_w_per_m(50, nominal_v);
}

/// Water where the cable is alive, of a run that is dead in part: the rest is as cold as its coldest cell.
double warm_part_c(const std::vector<double>& live_frac, double mean_c, double coldest_c, double most_c) {
  double live = 0;
  for (const double cell : live_frac) live += cell / static_cast<double>(live_frac.size());
  if (live_frac.empty() || live <= 0 || live >= 1) return mean_c;
  return std::max(mean_c, std::min(most_c, (mean_c - (1 - live) * coldest_c) / live));
}

}  // namespace

forecast::Variation Truth::luck_of(Dice& dice) {
  const job::Job& job = building_.job;
  forecast::Variation luck;
  const double fittings = even(dice, 0.98, 1.2), material = even(dice, 0.85, 1.1);
  std::vector<double> space_shift_k;
  for (const job::Space& space : job.spaces)
    space_shift_k.push_back(
        0.9 * even(dice, space.air.low_c - space.air.usual_c, space.air.high_c - space.air.usual_c));
  for (const job::Run& run : job.runs) {
    luck.insulation_factor.push_back(material * fittings * even(dice, 0.82, 1.2));
    const int space = plan::index_of(job.spaces, run.space);
    double shift_k = space == -1 ? even(dice, -2, 2) : space_shift_k[at(space)];
    for (const Planted& one : planted_)
      if (one.cause == colder_air && space == one.space) shift_k = -one.value + even(dice, -1, 1);
    luck.air_shift_k.push_back(shift_k);
  }
  for (const physics::CableSheet& sheet : job.cables)
    cable_factor_.push_back(1 + even(dice, -1, 1) * sheet.output_tolerance_frac * 0.9);
  luck.cable_factor = cable_factor_;
  for (const job::ControlGroup& group : job.groups) {
    const int panel = plan::index_of(job.panels, group.panel);
    const double factor =
        panel == -1 ? 1 : even(dice, job.panels[at(panel)].low_frac, job.panels[at(panel)].high_frac);
    panel_v_.push_back(panel == -1 ? 0 : factor * job.panels[at(panel)].voltage_v);
    luck.voltage_factor.push_back(factor);
    luck.sensor_shift_k.push_back(heavy(dice, 0.6));
  }
  return luck;
}

/// The pipe's own direction is from the heater; the cable comes from its feed.
void Truth::kill(draw::SceneRun& run, const Planted& dead) const {
  const power::Circuit& fed = building_.plan.circuits[at(dead.circuit)];
  const auto cable = cable_of(building_, fed);
  for (std::size_t s = 0; s < cable.stretches.size(); ++s) {
    if (fed.runs[at(cable.run_position[s])] != run.job_run) continue;
    const double live = live_frac(cable, s, dead);
    const bool along = cable.far_node[s] == building_.plan.network.to_node[at(run.job_run)];
    run.live_frac.clear();
    for (int c = 0; c < run.cells; ++c) {
      const int from_feed = along ? c : run.cells - 1 - c;
      run.live_frac.push_back(std::clamp(live * run.cells - from_feed, 0.0, 1.0));
    }
  }
}

/// What the faults of room forecast do not hold: those of one circuit.
void Truth::spoil(draw::SceneRun& run) const {
  const int circuit =
      run.job_run == -1 || run.group == -1 ? -1 : building_.plan.runs[at(run.job_run)].circuit;
  if (circuit == -1) return;
  const double nominal_v = building_.job.panels[at(building_.plan.circuits[at(circuit)].panel)].voltage_v;
  if (const Planted* aged = of_circuit(ageing_cable, circuit)) run.cable_share *= aged->value;
  if (const Planted* fed = of_circuit(wrong_voltage, circuit))
    run.cable_share *= core_share(building_, run.cable, fed->value, nominal_v);
  if (const Planted* other = of_circuit(wrong_cable, circuit)) {
    run.cable_share *= cable_factor_[at(other->sheet)] / cable_factor_[at(run.cable)];
    run.cable = other->sheet;
  }
  if (const Planted* dead = of_circuit(dead_length, circuit)) kill(run, *dead);
}

/// A controller divides the loss it reckons with by the output of the cable it was told, here by fitted
/// cores.
void Truth::tell_cable(draw::SceneGroup& group, const Planted& told) const {
  const power::Circuit& circuit = building_.plan.circuits[at(told.circuit)];
  const double volts = building_.job.panels[at(circuit.panel)].voltage_v;
  const auto power = [&](int sheet, double at_c) {
    return physics::fit_cable(building_.job.cables[at(sheet)]).model.power_w_per_m(at_c, volts);
  };
  draw::ControlSettings& control = group.control;
  for (std::size_t i = 0; i < control.open_loop_duty.size(); ++i) {
    const double at_c = control.open_loop_at_c[i];
    control.open_loop_duty[i] = std::clamp(
        control.open_loop_duty[i] * power(circuit.cable, at_c) / power(told.sheet, at_c), 0.0, 1.0);
  }
}

/// The jacket where a thermometer touches it: a film of its own law for every run, bare pipe nearly the pipe.
void Truth::warm_jackets(const draw::Scene& scene, Dice& dice) {
  surface_c_ = air_c_;
  for (const draw::SceneRun& run : scene.runs) {
    if (run.job_run == -1) continue;
    const plan::RunPlan& planned = building_.plan.runs[at(run.job_run)];
    const double film = even(dice, 7, 12), length_m = building_.job.runs[at(run.job_run)].length_m;
    const double rise_k = run_c_[at(run.job_run)] - air_c_[at(run.job_run)];
    if (of_run(missing_insulation, run.job_run) || !(planned.insulation.outer_diameter_m > 0)) {
      surface_c_[at(run.job_run)] += rise_k * even(dice, 0.9, 1);
      continue;
    }
    const double conductance = run.loss_u0 + rise_k * (run.loss_u1 + rise_k * run.loss_u2);
    const double straight = planned.loss_length_m > length_m ? length_m / planned.loss_length_m : 1;
    surface_c_[at(run.job_run)] +=
        conductance * rise_k * straight / (3.14159 * planned.insulation.outer_diameter_m * film);
  }
}

Truth::Truth(const Building& building, std::vector<Planted> planted, std::uint64_t seed)
    : building_(building), planted_(std::move(planted)) {
  Dice dice(seed);
  forecast::SceneOptions options;
  for (const Planted& one : planted_)
    for (forecast::Fault& fault : faults_of(building, one)) options.faults.push_back(std::move(fault));
  options.variation = luck_of(dice);
  length_frac_ = 1 + heavy(dice, 0.02);
  draw::Scene scene = forecast::make_scene(building.job, building.plan, options);
  for (draw::SceneRun& run : scene.runs) {
    // Conductivity steeper with temperature: the same loss at 25 K, less below and more above.
    run.loss_u1 += 0.003 * run.loss_u0;
    run.loss_u0 *= 1 - 0.075;
    spoil(run);
  }
  for (draw::SceneGroup& group : scene.groups)
    if (group.sensor_run != draw::none) group.sensor_at_frac = even(dice, 0.2, 0.8);
  for (const Planted& one : planted_)
    if (one.cause == wrong_cable_entered) tell_cable(scene.groups[at(one.group)], one);
  live(scene, seed);
  measure_circuits(dice);
  warm_jackets(scene, dice);
}

void Truth::live(const draw::Scene& scene, std::uint64_t seed) {
  Dice dice(seed ^ 0x5eed);
  const forecast::Demand demand = forecast::demand_of(building_.job, scene);
  const double visit_s = draw::day_s + even(dice, 9, 16) * draw::hour_s;
  draw::Options how;
  how.begin_s = visit_s - 1800;
  how.end_s = visit_s;
  how.run_in_s = visit_s - 1800 + draw::day_s;
  how.record_every_s = 60;
  draw::StochasticOptions use;
  use.begin_s = how.begin_s - how.run_in_s;
  use.end_s = visit_s;
  use.seed = seed;
  use.hot_c = building_.job.supply.delivered_c;
  use.cold_c = building_.job.supply.cold_c;
  const auto draws = draw::stochastic_draws(demand.taps, use);
  const draw::Result result = draw::simulate(scene, draws, how);
  const auto& records = result.records;
  const std::size_t last = records.time_s.size() - 1, runs = scene.runs.size(), groups = scene.groups.size();
  run_c_.assign(building_.job.runs.size(), 20);
  live_c_ = run_c_;
  air_c_.assign(building_.job.runs.size(), 20);
  for (std::size_t r = 0; r < runs; ++r) {
    const int job_run = scene.runs[r].job_run;
    if (job_run == -1) continue;
    run_c_[at(job_run)] = static_cast<double>(records.run_c[last * runs + r]);
    live_c_[at(job_run)] =
        warm_part_c(scene.runs[r].live_frac, run_c_[at(job_run)],
                    static_cast<double>(records.run_coldest_c[last * runs + r]), result.runs[r].max_c);
    air_c_[at(job_run)] = scene.runs[r].air_c.at(visit_s);
  }
  for (std::size_t g = 0; g < groups; ++g) {
    reading_c_.push_back(static_cast<double>(records.reading_c[last * groups + g]));
    double sum = 0;
    for (std::size_t i = 0; i < records.time_s.size(); ++i)
      sum += static_cast<double>(records.duty_frac[i * groups + g]);
    duty_.push_back(sum / static_cast<double>(records.time_s.size()));
  }
}

}  // namespace firstdraw::bench
