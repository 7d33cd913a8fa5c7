#include "truth.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <stdexcept>

#include "forecast/scene.hpp"
#include "generate_job.hpp"
#include "job/folder.hpp"
#include "places.hpp"
#include "plan/decide.hpp"
#include "plan/run_classes.hpp"
#include "power/electrical.hpp"
#include "power/ladder.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::Cause;
using enum prove::Cause;

job::Job example(const char* name) {
  auto read = job::read_job(std::filesystem::path(places::sources()) / "examples" / name);
  if (!read) throw std::runtime_error("an example does not read");
  return std::move(*read);
}

job::Job job_of(int number, std::uint64_t seed) {
  switch (number % 4) {
    case 0:
      return example("clinic");
    case 1:
      return example("care-home");
    case 2:
      return generate_job(2, 24 + static_cast<int>(seed % 12), seed);
    default:
      return generate_job(4, 40 + static_cast<int>(seed % 25), seed);
  }
}

/// A fifth of the buildings has controllers that go by an entered ambient.
void without_sensors(job::Job& job) {
  for (job::ControlGroup& group : job.groups) {
    group.kind = job::ControlKind::entered_ambient;
    if (group.entered_ambient_c) continue;
    for (const job::Run& run : job.runs)
      if (run.group == group.id) {
        group.entered_ambient_c = job::air_around(job, run).usual_c;
        break;
      }
  }
}

template <class Items>
int pick(const Items& items, Dice& dice) {
  return items[static_cast<std::size_t>(dice() % items.size())];
}

int run_by_length(const Building& building, Dice& dice) {
  double all_m = 0;
  for (const auto& circuit : building.plan.circuits)
    for (const int run : circuit.runs) all_m += building.job.runs[at(run)].length_m;
  double left_m = even(dice, 0, all_m);
  for (const auto& circuit : building.plan.circuits)
    for (const int run : circuit.runs)
      if ((left_m -= building.job.runs[at(run)].length_m) <= 0) return run;
  return building.plan.circuits.front().runs.front();
}

bool has_sensor(const Building& building, int group) {
  return building.job.groups[at(group)].kind == job::ControlKind::pipe_sensor &&
         plan::sensor_run_of(building.job, group) != -1;
}

bool has_upstream(const Building& building, int group) {
  for (const auto& circuit : building.plan.circuits)
    if (circuit.group == group)
      for (int run : circuit.runs) {
        while (run != piping::none && building.plan.runs[at(run)].cable != piping::none)
          run = building.plan.network.upstream_run[at(run)];
        if (run != piping::none) return true;
      }
  return false;
}

int other_sheet(const Building& building, int own, Dice& dice) {
  const int count = static_cast<int>(building.job.cables.size());
  if (count < 2) return -1;
  const int step = 1 + static_cast<int>(dice() % static_cast<std::uint64_t>(count - 1));
  return (own + step) % count;
}

bool needs_sensor(Cause cause) {
  return cause == sensor_beside_cable || cause == sensor_upstream || cause == sensor_unplugged ||
         cause == sensor_off_pipe;
}

bool is_contactor(Cause cause) { return cause == contactor_stuck_on || cause == contactor_stuck_off; }

power::CircuitCable cable_of(const Building& building, const power::Circuit& circuit) {
  std::vector<double> length_m;
  for (const int run : circuit.runs) length_m.push_back(building.plan.runs[at(run)].cable_length_m);
  return power::circuit_cable(building.plan.network, circuit.runs, length_m, circuit.feed_node);
}

/// Metres from the feed to the near end of the run along the circuit's way.
double way_to(const power::Circuit& circuit, const power::CircuitCable& cable, int run) {
  std::vector<double> start_m;
  for (std::size_t s = 0; s < cable.stretches.size(); ++s) {
    const auto& stretch = cable.stretches[s];
    start_m.push_back(
        stretch.parent < 0 ? 0 : start_m[at(stretch.parent)] + cable.stretches[at(stretch.parent)].length_m);
    if (circuit.runs[at(cable.run_position[s])] == run) return start_m.back();
  }
  return 0;
}

std::optional<Planted> try_plant(const Building& building, Cause cause, Dice& dice) {
  Planted made;
  made.cause = cause;
  made.run = run_by_length(building, dice);
  made.circuit = building.plan.runs[at(made.run)].circuit;
  const power::Circuit& circuit = building.plan.circuits[at(made.circuit)];
  made.group = circuit.group;
  made.space = plan::index_of(building.job.spaces, building.job.runs[at(made.run)].space);
  const bool open_loop = !has_sensor(building, made.group);
  if (needs_sensor(cause) && open_loop) return std::nullopt;
  if ((cause == wrong_ambient || cause == wrong_cable_entered) && !open_loop) return std::nullopt;
  if (cause == wrong_cable_entered && (made.sheet = other_sheet(building, circuit.cable, dice)) == -1)
    return std::nullopt;
  if (cause == sensor_upstream && !has_upstream(building, made.group)) return std::nullopt;
  const double panel_v = building.job.panels[at(circuit.panel)].voltage_v;
  if (cause == dead_length) {
    const double metres = building.plan.runs[at(made.run)].cable_length_m;
    made.value = way_to(circuit, cable_of(building, circuit), made.run) + even(dice, 0, metres);
  }
  if (cause == wrong_voltage)
    made.value = even(dice, 0, 1) < 0.5 ? (panel_v > 200 ? 120 : 208) : panel_v * even(dice, 0.4, 0.9);
  if (cause == wrong_cable && (made.sheet = other_sheet(building, circuit.cable, dice)) == -1)
    return std::nullopt;
  if (cause == wet_insulation) made.value = even(dice, 2, 7);
  if (cause == wrong_ambient)
    made.value = *building.job.groups[at(made.group)].entered_ambient_c +
                 (even(dice, 0, 1) < 0.5 ? -1 : 1) * even(dice, 6, 20);
  if (cause == ageing_cable) made.value = even(dice, 0.4, 0.85);
  if (cause == colder_air) {
    if (made.space == -1) return std::nullopt;
    made.value = even(dice, 6, 18);
  }
  return made;
}

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

}  // namespace

double even(Dice& dice, double low, double high) {
  return low + (high - low) * static_cast<double>(dice() >> 11) * 0x1p-53;
}

double heavy(Dice& dice, double sigma) {
  std::student_t_distribution<double> draw(3);
  return sigma * std::clamp(draw(dice) / std::sqrt(3.0), -6.0, 6.0);
}

Building building_of(int number, std::uint64_t seed) {
  Building made;
  made.job = job_of(number, seed);
  if (number % 5 == 4) without_sensors(made.job);
  plan::Options options;
  options.samples = 0;
  made.plan = plan::make_plan(made.job, options);
  if (made.plan.circuits.empty()) throw std::runtime_error("a building without circuits");
  return made;
}

Planted plant(const Building& building, Dice& dice) {
  for (;;) {
    const auto cause = static_cast<Cause>(dice() % static_cast<std::uint64_t>(none_of_these));
    if (const auto made = try_plant(building, cause, dice)) return *made;
  }
}

std::optional<Planted> plant_beside(const Building& building, const Planted& first, Dice& dice) {
  for (int i = 0; i < 3000; ++i) {
    const auto cause = static_cast<Cause>(1 + dice() % (static_cast<std::uint64_t>(none_of_these) - 1));
    if (cause == first.cause || (needs_sensor(cause) && needs_sensor(first.cause)) ||
        (is_contactor(cause) && is_contactor(first.cause)))
      continue;
    const auto made = try_plant(building, cause, dice);
    if (made && made->circuit == first.circuit) return made;
  }
  return std::nullopt;
}

const Planted* Truth::of_circuit(Cause cause, int circuit) const {
  for (const Planted& one : planted_)
    if (one.cause == cause && one.circuit == circuit) return &one;
  return nullptr;
}
const Planted* Truth::of_group(Cause cause, int group) const {
  for (const Planted& one : planted_)
    if (one.cause == cause && one.group == group) return &one;
  return nullptr;
}
const Planted* Truth::of_run(Cause cause, int run) const {
  for (const Planted& one : planted_)
    if (one.cause == cause && one.run == run) return &one;
  return nullptr;
}

bool Truth::breaker(int circuit) const { return of_circuit(breaker_open, circuit) == nullptr; }

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

double Truth::live_frac(const power::CircuitCable& cable, std::size_t stretch, const Planted& dead) const {
  const power::Circuit& circuit = building_.plan.circuits[at(dead.circuit)];
  int above = static_cast<int>(stretch);
  while (above >= 0 && circuit.runs[at(cable.run_position[at(above)])] != dead.run)
    above = cable.stretches[at(above)].parent;
  if (above < 0) return 1;
  if (above != static_cast<int>(stretch)) return 0;
  const double start_m = way_to(circuit, cable, dead.run);
  return std::clamp((dead.value - start_m) / cable.stretches[stretch].length_m, 0.0, 1.0);
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
  air_c_.assign(building_.job.runs.size(), 20);
  for (std::size_t r = 0; r < runs; ++r) {
    const int job_run = scene.runs[r].job_run;
    if (job_run == -1) continue;
    run_c_[at(job_run)] = static_cast<double>(records.run_c[last * runs + r]);
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

void Truth::measure_circuits(Dice& dice) {
  for (std::size_t c = 0; c < building_.plan.circuits.size(); ++c)
    circuits_[static_cast<int>(c)] = circuit_of(static_cast<int>(c), dice);
}

/// Wiring, when there is any, and the cable that is alive, at what the pipes are.
Truth::Wired Truth::wired(int index, const physics::CableSheet& sheet, double factor) const {
  const power::Circuit& fed = building_.plan.circuits[at(index)];
  const auto laid = cable_of(building_, fed);
  const physics::CableModel model = physics::fit_cable(sheet).model;
  Wired made;
  const bool feeder =
      fed.wiring.one_way_m > 0 && fed.wiring.loop_ohm_per_m > 0 && !of_circuit(wrong_voltage, index);
  if (feeder)
    made.tree.push_back(
        {piping::none, fed.wiring.one_way_m, fed.wiring.loop_ohm_per_m, power::takes_nothing()});
  made.lead = made.tree.size();
  const Planted* dead = of_circuit(dead_length, index);
  std::vector<int> of_stretch(laid.stretches.size(), -1);
  for (std::size_t s = 0; s < laid.stretches.size(); ++s) {
    const auto& stretch = laid.stretches[s];
    const double at_c = pipe_c(fed.runs[at(laid.run_position[s])]);
    const double live = dead ? live_frac(laid, s, *dead) : 1;
    const double length_m = stretch.length_m * live * length_frac_;
    made.all_m += stretch.length_m * length_frac_;
    made.live_m += length_m;
    made.siemens += length_m / (model.core_ohm_m * std::exp(model.beta_per_k * (at_c - model.reference_c)));
    if (length_m <= 0) continue;
    const int parent = stretch.parent < 0 ? (feeder ? 0 : piping::none) : of_stretch[at(stretch.parent)];
    const double scale = factor * (1 - 0.5 * (1 - stretch.derating_frac));
    const auto law = power::model_law(model, at_c);
    of_stretch[s] = static_cast<int>(made.tree.size());
    if (laid.far_node[s] == fed.far_node && live >= 1) made.far = of_stretch[s];
    made.tree.push_back({parent, length_m, power::copper_resistance_at(sheet.bus_loop_ohm_per_m, at_c + 12),
                         [law, scale](double volts) {
                           const power::Output output = law(volts);
                           return power::Output{scale * output.w_per_m, scale * output.w_per_m_v};
                         }});
  }
  return made;
}

void Truth::energise(int index, const Wired& wired, Circuit& made) const {
  const int group = building_.plan.circuits[at(index)].group;
  const bool off = of_circuit(breaker_open, index) || of_group(contactor_stuck_off, group) ||
                   (of_group(sensor_unplugged, group) && duty_[at(group)] <= 0);
  if (off) return;
  const Planted* fed = of_circuit(wrong_voltage, index);
  made.feed_v = fed ? fed->value : panel_v_[at(group)];
  if (wired.tree.size() == wired.lead) return;  // nothing is alive
  const auto found = power::solve_ladder(wired.tree, made.feed_v);
  made.amps = found.total_a;
  if (wired.lead > 0) made.feed_v = found.stretches[0].far_v;
  if (wired.far >= 0) made.far_v = found.stretches[at(wired.far)].far_v;
}

Truth::Circuit Truth::circuit_of(int index, Dice& dice) const {
  Circuit made;
  const Planted* other = of_circuit(wrong_cable, index);
  made.cable = other ? other->sheet : building_.plan.circuits[at(index)].cable;
  const physics::CableSheet& sheet = building_.job.cables[at(made.cable)];
  const Planted* old = of_circuit(ageing_cable, index);
  const double aged = old ? old->value : 1;
  const Wired wires = wired(index, sheet, cable_factor_[at(made.cable)] * aged);
  energise(index, wires, made);
  const bool both = dice() % 3 != 0;  // bus wires of a broken cable
  made.farad = sheet.capacitance_f_per_m * (1 + heavy(dice, 0.04)) *
               (wires.live_m + (both ? 0 : 0.5) * (wires.all_m - wires.live_m));
  made.open_ohm = wires.siemens > 0 ? even(dice, 0.85, 1.3) / wires.siemens : 1e6;
  const bool damaged = of_circuit(dead_length, index) && dice() % 3 == 0;
  made.insulation_ohm = std::pow(
      10, damaged ? even(dice, 5, 8) : 11.3 - std::log10(std::max(1.0, wires.all_m)) + heavy(dice, 0.6));
  return made;
}

std::optional<double> Truth::reading_c(int group) const {
  if (of_group(sensor_unplugged, group)) return std::nullopt;
  return reading_c_.at(at(group));
}

double Truth::duty(int group) const {
  const double set_c = building_.job.groups[at(group)].maintain_c;
  if (of_group(contactor_stuck_on, group) || of_group(contactor_stuck_off, group))
    return reading_c_.at(at(group)) < set_c ? 1 : 0;
  return duty_.at(at(group));
}

bool Truth::contactor(int group, bool called) const {
  if (of_group(contactor_stuck_on, group)) return true;
  if (of_group(contactor_stuck_off, group)) return false;
  if (of_group(sensor_unplugged, group) && duty_.at(at(group)) <= 0) return false;
  return called;
}

std::optional<double> Truth::entered_c(int group) const {
  if (const Planted* wrong = of_group(wrong_ambient, group)) return wrong->value;
  return building_.job.groups[at(group)].entered_ambient_c;
}

Truth::Coat Truth::coat(int run) const {
  if (of_run(missing_insulation, run)) return Coat::missing;
  return of_run(wet_insulation, run) ? Coat::wet : Coat::sound;
}

double Truth::wetness(int run) const {
  const Planted* wet = of_run(wet_insulation, run);
  return wet ? wet->value : 1;
}

prove::SensorPosition Truth::sensor_position(int group) const {
  using enum prove::SensorPosition;
  if (of_group(sensor_beside_cable, group)) return beside_cable;
  if (of_group(sensor_upstream, group)) return untraced_pipe;
  return of_group(sensor_off_pipe, group) ? off_pipe : as_planned;
}

}  // namespace firstdraw::bench
