#include "prove/hypotheses.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace firstdraw::prove {
namespace {

using piping::at;
using enum Cause;
using Level = Fault::Level;

// Shares of the jobs that are looked at because something seems wrong: our choice, no source.
constexpr std::array help{
    CauseHelp{nothing, "nothing", "All is as planned", 0.10},
    CauseHelp{dead_length, "dead-length", "Part of the cable is dead", 0.13},
    CauseHelp{wrong_voltage, "wrong-voltage", "The cable gets another voltage", 0.06},
    CauseHelp{wrong_cable, "wrong-cable", "Another cable is fitted", 0.05},
    CauseHelp{wet_insulation, "wet-insulation", "Insulation is wet", 0.08},
    CauseHelp{missing_insulation, "missing-insulation", "Insulation is missing", 0.08},
    CauseHelp{sensor_beside_cable, "sensor-beside-cable", "The sensor lies beside the cable", 0.06},
    CauseHelp{sensor_upstream, "sensor-upstream", "The sensor is on the pipe above the cable", 0.04},
    CauseHelp{sensor_unplugged, "sensor-unplugged", "The controller has no sensor", 0.05},
    CauseHelp{sensor_off_pipe, "sensor-off-pipe", "The sensor has come off the pipe", 0.06},
    CauseHelp{wrong_ambient, "wrong-ambient", "Another air temperature was entered", 0.05},
    CauseHelp{wrong_cable_entered, "wrong-cable-entered", "The controller was told another cable", 0.02},
    CauseHelp{contactor_stuck_on, "contactor-stuck-on", "The contactor stays closed", 0.05},
    CauseHelp{contactor_stuck_off, "contactor-stuck-off", "The contactor stays open", 0.05},
    CauseHelp{breaker_open, "breaker-open", "The breaker is open", 0.07},
    CauseHelp{ageing_cable, "ageing-cable", "The cable has aged", 0.05},
    CauseHelp{colder_air, "colder-air", "The air is colder than assumed", 0.05},
    CauseHelp{none_of_these, "none-of-these", "Something this list does not hold", 0},
};

// How unknowns are spread before anything is read; our choice, no source.
constexpr double class_share = 0.6, class_spread_frac = 0.03;       // of wrong voltages: another class
constexpr double low_voltage_frac = 0.3, high_voltage_frac = 0.93;  // the others: a bad joint, a long feeder
constexpr double wet_least = 1.5, wet_most = 8;       // factor on conductivity, by its logarithm
constexpr double aged_least = 0.3, aged_most = 0.92;  // share of the sheet's output
constexpr double colder_least_k = 4, colder_most_k = 22;
constexpr double entered_off_k = 25;

/// Voltages of the trade (common practice, no source).
std::vector<double> classes(const Scope& scope, double planned_v) {
  const std::vector<double> all = scope.job.requirements.rules == rules::RuleSet::us
                                      ? std::vector<double>{120, 208, 240, 277}
                                      : std::vector<double>{230, 400};
  std::vector<double> other;
  for (const double volts : all)
    if (std::abs(volts - planned_v) > 0.1 * planned_v) other.push_back(volts);
  return other;
}

class Maker {
 public:
  explicit Maker(const Scope& scope) : scope_(scope) {}

  std::vector<Candidate> places(Cause cause) {
    made_.clear();
    switch (cause) {
      case nothing:
        add(cause, Level::none, -1, 1, "");
        break;
      case dead_length:
      case wet_insulation:
      case missing_insulation:
        add_runs(cause);
        break;
      case breaker_open:
        add_circuits(cause, 1);
        break;
      case wrong_voltage:
      case ageing_cable:
        add_circuits(cause, 0.5);
        add_groups(cause, 0.5);
        break;
      case wrong_cable:
        add_sheets();
        break;
      case colder_air:
        add_spaces();
        break;
      case none_of_these:
        break;
      default:
        add_groups(cause, 1);
    }
    double sum = 0;
    for (const Candidate& one : made_) sum += one.weight;
    for (Candidate& one : made_) one.weight /= sum;
    return std::move(made_);
  }

 private:
  void add(Cause cause, Level level, int place, double weight, std::string id, int sheet = -1) {
    if (weight > 0) made_.push_back({{level, cause, place, 0, sheet}, weight, std::move(id)});
  }

  const std::string& circuit_id(const ScopeCircuit& circuit) const {
    return scope_.plan.circuits[at(circuit.plan_circuit)].id;
  }
  const std::string& group_id(const ScopeGroup& group) const {
    return scope_.job.groups[at(group.job_group)].id;
  }

  /// By length. Of circuits that only a sensor drew in, the sensor's run.
  void add_runs(Cause cause) {
    for (std::size_t r = 0; r < scope_.runs.size(); ++r) {
      const ScopeRun& run = scope_.runs[r];
      const bool counts = scope_.circuits[at(run.circuit)].named ||
                          scope_.groups[at(run.group)].sensor == static_cast<int>(r);
      const double metres = cause == dead_length ? run.cable_length_m : run.pipe_length_m;
      if (counts) add(cause, Level::run, static_cast<int>(r), metres, scope_.job.runs[at(run.job_run)].id);
    }
  }

  void add_circuits(Cause cause, double weight) {
    for (std::size_t c = 0; c < scope_.circuits.size(); ++c)
      add(cause, Level::circuit, static_cast<int>(c), weight, circuit_id(scope_.circuits[c]));
  }

  /// Where the cause can be and do anything.
  bool fits(Cause cause, const ScopeGroup& group) const {
    switch (cause) {
      case sensor_beside_cable:
        return !group.open_loop && group.beside_k - group.offset_k > 0.3;
      case sensor_upstream:
        return !group.open_loop && group.upstream_run != -1;
      case sensor_unplugged:
      case sensor_off_pipe:
        return !group.open_loop;
      case wrong_ambient:
        return group.open_loop && group.entered_c;
      default:
        return true;
    }
  }

  void add_groups(Cause cause, double weight) {
    for (std::size_t g = 0; g < scope_.groups.size(); ++g) {
      const ScopeGroup& group = scope_.groups[g];
      if (cause == wrong_cable_entered)
        add_told(static_cast<int>(g));
      else if (fits(cause, group))
        add(cause, Level::group, static_cast<int>(g), weight, group_id(group));
    }
  }

  void add_told(int index) {
    const ScopeGroup& group = scope_.groups[at(index)];
    if (!group.open_loop || !group.entered_c || group.circuits.empty()) return;
    const int own = scope_.circuits[at(group.circuits.front())].cable;
    for (int sheet = 0; sheet < static_cast<int>(scope_.cables.size()); ++sheet)
      if (sheet != own) add(wrong_cable_entered, Level::group, index, 1, group_id(group), sheet);
  }

  void add_sheets() {
    const int sheets = static_cast<int>(scope_.cables.size());
    for (std::size_t c = 0; c < scope_.circuits.size(); ++c)
      for (int sheet = 0; sheet < sheets; ++sheet)
        if (sheet != scope_.circuits[c].cable)
          add(wrong_cable, Level::circuit, static_cast<int>(c), 0.5, circuit_id(scope_.circuits[c]), sheet);
    for (std::size_t g = 0; g < scope_.groups.size(); ++g)
      for (int sheet = 0; sheet < sheets; ++sheet)
        if (!scope_.groups[g].circuits.empty() &&
            sheet != scope_.circuits[at(scope_.groups[g].circuits.front())].cable)
          add(wrong_cable, Level::group, static_cast<int>(g), 0.5, group_id(scope_.groups[g]), sheet);
  }

  void add_spaces() {
    for (std::size_t s = 0; s < scope_.spaces.size(); ++s)
      add(colder_air, Level::space, static_cast<int>(s), 1,
          scope_.job.spaces[at(scope_.spaces[s].job_space)].id);
    if (made_.empty()) add_groups(colder_air, 1);
  }

  const Scope& scope_;
  std::vector<Candidate> made_;
};

double voltage_value(const Scope& scope, const Candidate& place, double share) {
  const auto& circuits = scope.circuits;
  const double planned_v = place.fault.level == Level::circuit
                               ? circuits[at(place.fault.place)].panel_v
                               : circuits[at(scope.groups[at(place.fault.place)].circuits.front())].panel_v;
  const std::vector<double> other = classes(scope, planned_v);
  if (share >= class_share || other.empty()) {
    const double rest = other.empty() ? share : (share - class_share) / (1 - class_share);
    return planned_v * (low_voltage_frac + (high_voltage_frac - low_voltage_frac) * rest);
  }
  const double slot = share / class_share * static_cast<double>(other.size());
  const auto which = std::min(static_cast<std::size_t>(slot), other.size() - 1);
  return other[which] * (1 + class_spread_frac * (2 * (slot - static_cast<double>(which)) - 1));
}

}  // namespace

std::span<const CauseHelp> cause_help() { return help; }

std::string_view id_of(Cause cause) { return std::ranges::find(help, cause, &CauseHelp::cause)->id; }

double Hypothesis::value(const Scope& scope, const Candidate& place, double share) const {
  switch (cause) {
    case dead_length: {
      const ScopeRun& run = scope.runs[at(place.fault.place)];
      const ScopeCircuit& circuit = scope.circuits[at(run.circuit)];
      return circuit.start_m[at(run.stretch)] + share * circuit.stretches[at(run.stretch)].length_m;
    }
    case wrong_voltage:
      return voltage_value(scope, place, share);
    case wet_insulation:
      return wet_least * std::pow(wet_most / wet_least, share);
    case wrong_ambient:
      return scope.groups[at(place.fault.place)].entered_c.value_or(20) + entered_off_k * (2 * share - 1);
    case ageing_cable:
      return aged_least + (aged_most - aged_least) * share;
    case colder_air:
      return colder_least_k + (colder_most_k - colder_least_k) * share;
    default:
      return 0;
  }
}

std::vector<Hypothesis> hypotheses(const Scope& scope, double none_prior) {
  constexpr std::array valued{dead_length,   wrong_voltage, wet_insulation,
                              wrong_ambient, ageing_cable,  colder_air};
  Maker maker(scope);
  std::vector<Hypothesis> made;
  double sum = 0;
  for (const CauseHelp& cause : help) {
    if (cause.cause == none_of_these) continue;
    Hypothesis one{cause.cause, cause.prior, maker.places(cause.cause),
                   std::ranges::find(valued, cause.cause) != valued.end()};
    if (one.places.empty()) continue;
    sum += one.prior;
    made.push_back(std::move(one));
  }
  for (Hypothesis& one : made) one.prior *= (1 - none_prior) / sum;
  return made;
}

}  // namespace firstdraw::prove
