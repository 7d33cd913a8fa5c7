// A building in which something is really wrong, lived through in time: water moves, people draw, controllers
// switch. Nothing of the diagnosis is used here. What differs on purpose from what it assumes: the network in
// time instead of a steady state; a conductivity that rises steeper with temperature; a bias of fittings that
// the plan does not know; cable by its fitted core instead of the data sheet's table; tolerances evenly
// spread or with heavy tails instead of normal.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "draw/simulate.hpp"
#include "forecast/scene.hpp"
#include "physics/heating_cable.hpp"
#include "planted.hpp"
#include "power/ladder.hpp"

namespace firstdraw::bench {

/// What is really there at the moment of the visit. The first of `planted` is what the visit is about.
class Truth {
 public:
  Truth(const Building& building, std::vector<Planted> planted, std::uint64_t seed);

  double pipe_c(int run) const { return run_c_.at(static_cast<std::size_t>(run)); }
  double surface_c(int run) const { return surface_c_.at(static_cast<std::size_t>(run)); }
  double air_c(int run) const { return air_c_.at(static_cast<std::size_t>(run)); }
  double amps(int circuit) const { return circuits_.at(circuit).amps; }
  double feed_v(int circuit) const { return circuits_.at(circuit).feed_v; }
  double far_v(int circuit) const { return circuits_.at(circuit).far_v; }
  double farad(int circuit) const { return circuits_.at(circuit).farad; }
  double open_ohm(int circuit) const { return circuits_.at(circuit).open_ohm; }
  double insulation_ohm(int circuit) const { return circuits_.at(circuit).insulation_ohm; }
  int cable(int circuit) const { return circuits_.at(circuit).cable; }
  bool breaker(int circuit) const;
  std::optional<double> reading_c(int group) const;  // none: no sensor is connected
  double duty(int group) const;                      // as the controller shows it
  bool contactor(int group, bool called) const;
  std::optional<double> entered_c(int group) const;
  enum class Coat { sound, wet, missing };
  Coat coat(int run) const;
  double wetness(int run) const;  // factor on conductivity; 1: dry
  prove::SensorPosition sensor_position(int group) const;
  const Planted& planted() const { return planted_.front(); }

 private:
  struct Circuit {
    int cable = -1;
    double amps = 0, feed_v = 0, far_v = 0, farad = 0, open_ohm = 0, insulation_ohm = 0;
  };
  void live(const draw::Scene& scene, std::uint64_t seed);
  void measure_circuits(Dice& dice);
  Circuit circuit_of(int index, Dice& dice) const;
  struct Wired {
    std::vector<power::LadderStretch> tree;
    std::size_t lead = 0;  // stretches before the cable's
    int far = -1;          // the stretch whose end is the far end; none: it is dead
    double live_m = 0, all_m = 0, siemens = 0;
  };
  forecast::Variation luck_of(Dice& dice);
  void kill(draw::SceneRun& run, const Planted& dead) const;
  void spoil(draw::SceneRun& run) const;
  Wired wired(int index, const physics::CableSheet& sheet, double factor) const;
  void energise(int index, const Wired& wired, Circuit& made) const;
  double live_frac(const power::CircuitCable& cable, std::size_t stretch, const Planted& dead) const;
  void warm_jackets(const draw::Scene& scene, Dice& dice);
  void tell_cable(draw::SceneGroup& group, const Planted& told) const;
  const Planted* of_circuit(prove::Cause cause, int circuit) const;
  const Planted* of_group(prove::Cause cause, int group) const;
  const Planted* of_run(prove::Cause cause, int run) const;

  const Building& building_;
  std::vector<Planted> planted_;
  std::vector<double> run_c_, air_c_, surface_c_, reading_c_, duty_, panel_v_;
  std::vector<double> live_c_;        // like run_c_, where the cable is alive
  std::vector<double> cable_factor_;  // like job.cables
  double length_frac_ = 1;
  std::map<int, Circuit> circuits_;
};

}  // namespace firstdraw::bench
