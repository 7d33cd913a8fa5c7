#include "plan/coupled.hpp"

#include <algorithm>
#include <cmath>

#include "plan/run_classes.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;

// What is left after the last round, as a share of the panel's voltage. A round moves the voltages by some
// hundredths of what the round before did: warmer pipe draws less.
constexpr double aim_frac = 1e-9, settled_frac = 1e-6;
constexpr int most_rounds = 30;

class Coupling {
 public:
  Coupling(const job::Job& job, const piping::Network& network, const hold::Building& building,
           std::span<const power::Circuit> circuits, const hold::Conditions& conditions, power::Known& known,
           std::mutex& turn)
      : job_(job),
        network_(network),
        circuits_(circuits),
        conditions_(conditions),
        known_(known),
        turn_(turn) {
    std::vector<int> held_of_run(job.runs.size(), piping::none);
    for (std::size_t i = 0; i < building.runs.size(); ++i)
      held_of_run[at(building.runs[i].job_run)] = static_cast<int>(i);
    for (const power::Circuit& circuit : circuits) {
      Members& members = members_.emplace_back();
      for (const int run : circuit.runs) {
        const int held = held_of_run[at(run)];
        members.held.push_back(held);
        members.length_m.push_back(piping::cable_length_m(job.runs[at(run)], building.runs[at(held)].passes));
        members.output_frac.push_back(building.runs[at(held)].derating_frac * conditions.cable_output_frac);
      }
    }
  }

  /// Runs without a circuit get the group's voltage.
  void release(hold::Building& building) const {
    std::vector<bool> fed(building.runs.size(), false);
    for (const Members& members : members_)
      for (const int held : members.held) fed[at(held)] = true;
    for (std::size_t i = 0; i < fed.size(); ++i)
      if (!fed[i]) building.runs[i].voltage_frac = 1;
  }

  std::vector<power::CircuitVoltage> voltages(const hold::State& state) const {
    std::vector<power::CircuitVoltage> found;
    for (std::size_t c = 0; c < circuits_.size(); ++c) {
      const Members& members = members_[c];
      std::vector<double> water_c;
      for (const int held : members.held) water_c.push_back(state.runs[at(held)].water_c);
      const double panel_v = job_.panels[at(circuits_[c].panel)].voltage_v * conditions_.voltage_frac;
      const std::lock_guard mine(turn_);
      found.push_back(
          known_.voltage(network_, circuits_[c], members.length_m, water_c, members.output_frac, panel_v));
    }
    return found;
  }

  /// Gives the runs what the circuits leave them; returns by how much that moved any voltage, as a share.
  double apply(std::span<const power::CircuitVoltage> voltages, hold::Building& building) const {
    double moved = 0;
    for (std::size_t c = 0; c < circuits_.size(); ++c)
      for (std::size_t i = 0; i < members_[c].held.size(); ++i) {
        double& frac = building.runs[at(members_[c].held[i])].voltage_frac;
        moved = std::max(moved, std::abs(voltages[c].voltage_frac[i] - frac));
        frac = voltages[c].voltage_frac[i];
      }
    return moved;
  }

 private:
  struct Members {
    std::vector<int> held;
    std::vector<double> length_m, output_frac;
  };

  const job::Job& job_;
  const piping::Network& network_;
  std::span<const power::Circuit> circuits_;
  hold::Conditions conditions_;
  power::Known& known_;
  std::mutex& turn_;
  std::vector<Members> members_;
};

}  // namespace

Coupled solve_coupled(const job::Job& job, const piping::Network& network, hold::Building building,
                      std::span<const power::Circuit> circuits, hold::Mode mode,
                      const hold::Conditions& conditions, power::Known& known, std::mutex& turn) {
  const Coupling coupling(job, network, building, circuits, conditions, known, turn);
  coupling.release(building);
  Coupled coupled;
  coupled.state = hold::solve(building, mode, conditions);
  double moved = settled_frac;
  for (int round = 0; round < most_rounds && moved > aim_frac; ++round) {
    coupled.circuits = coupling.voltages(coupled.state);
    moved = coupling.apply(coupled.circuits, building);
    coupled.state = hold::solve(building, mode, conditions);
  }
  coupled.settled = moved <= settled_frac;
  for (const hold::HeldRun& run : building.runs) coupled.voltage_frac.push_back(run.voltage_frac);
  return coupled;
}

}  // namespace firstdraw::plan
