// Loss curves of the pipe sections of a job, each computed once however many runs, classes and options share
// it.
#pragma once

#include <map>
#include <string>
#include <tuple>

#include "hold/hold.hpp"
#include "job/job.hpp"
#include "physics/insulation.hpp"
#include "physics/pipe_loss.hpp"

namespace firstdraw::plan {

class Sections {
 public:
  /// Loss of the run's pipe in insulation of this size, in still air.
  const hold::LossCurve& loss(const job::Run& run, const physics::InsulationSize& size);
  /// The run's insulation; null for a name that is none (bare pipe).
  const physics::Insulation* insulation(const job::Run& run);

 private:
  using Key = std::tuple<double, double, double, double, double, physics::Orientation, double, std::string>;
  std::map<Key, hold::LossCurve> curves_;
  std::map<std::string, std::optional<physics::Insulation>> insulations_;
};

/// The run's pipe wrapped; bare when the run has no insulation.
physics::PipeSection section_of(const job::Run& run, const physics::Insulation* insulation,
                                const physics::InsulationSize& size);

/// Still air at usual temperature. A riser counts as a vertical pipe of the default height: a taller one
/// loses a little less, so this is on the safe side.
physics::Surroundings surroundings_of(const job::Run& run, double air_c);

}  // namespace firstdraw::plan
