// What a run class may be heated with, and what each option gives, loses and costs: the physics and prices
// behind design.hpp.
#pragma once

#include <memory>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "plan/design.hpp"
#include "plan/run_classes.hpp"
#include "plan/sections.hpp"
#include "power/known.hpp"

namespace firstdraw::plan {

/// The gap between pipe and shell counts as no resistance, which puts a loss up to 20 % too high: safe for
/// strength. For how hot a pipe gets, losses are taken at this share. docs/physics.md, section 1.
inline constexpr double least_loss_frac = 1 / 1.2;

/// The job with what is computed once for all its classes.
struct Workshop {
  const job::Job& job;
  std::vector<physics::HeatingCable> cables;  // like job.cables
  std::vector<double> cable_price_per_m;      // like job.cables; what to reckon with when a sheet gives none
  // Share of a power connection per metre of cable: its cost over the longest circuit. [panel][cable]
  std::vector<std::vector<double>> connection_per_m;
  Sections sections{};
  std::shared_ptr<power::Known> known;  // of these cables

  explicit Workshop(const job::Job& described,
                    std::shared_ptr<power::Known> known_before = std::make_shared<power::Known>());
};

/// Every cable, number of passes and thickness that the user left open for this class, at least one.
/// `sensor_run` is the index of the run of this class that carries its group's sensor, or none.
GroupProblem::Class heating_options(Workshop& shop, const RunClass& run_class, int sensor_run);

/// Thicknesses for a class that is not heated, as options without cable.
GroupProblem::Class insulation_options(Workshop& shop, const RunClass& run_class);

/// Size and section of insulation around this run with cable of this section, `passes` times.
physics::InsulationSize size_for(Workshop& shop, const job::Run& run, physics::CableSection cable, int passes,
                                 double thickness_m);

/// What a yearly payment of 1 over the job's life is worth today.
double present_value_factor(const job::Economics& economics);
/// Over the life, discounted: of one watt held for the job's hours at maintain.
double cost_per_held_w(const job::Economics& economics);
/// Cable output on this pipe against a metal one: 1 on metal, from the wall-angle model on plastic.
double derating_frac(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c,
                     const physics::HeatingCable& cable, double voltage_v);

}  // namespace firstdraw::plan
