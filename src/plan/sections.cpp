#include "plan/sections.hpp"

namespace firstdraw::plan {

physics::PipeSection section_of(const job::Run& run, const physics::Insulation* insulation,
                                const physics::InsulationSize& size) {
  if (insulation == nullptr || !(size.outer_diameter_m > size.bore_m)) return physics::bare(run.pipe);
  return physics::insulated(run.pipe, *insulation, size);
}

physics::Surroundings surroundings_of(const job::Run& run, double air_c) {
  physics::Surroundings around;
  around.air_c = air_c;
  around.emissivity = run.emissivity;
  around.orientation = run.orientation;
  return around;
}

const physics::Insulation* Sections::insulation(const job::Run& run) {
  const auto [entry, is_new] = insulations_.try_emplace(run.insulation);
  if (is_new) {
    if (auto found = physics::find_insulation(run.insulation)) entry->second = std::move(*found);
  }
  return entry->second ? &*entry->second : nullptr;
}

const hold::LossCurve& Sections::loss(const job::Run& run, const physics::InsulationSize& size) {
  const physics::Pipe& pipe = run.pipe;
  const Key key{pipe.outer_diameter_m, pipe.wall_m,           pipe.conductivity_w_per_m_k,
                size.bore_m,           size.outer_diameter_m, run.orientation,
                run.emissivity,        run.insulation};
  const auto found = curves_.find(key);
  if (found != curves_.end()) return found->second;
  constexpr double usual_air_c = 20;
  const hold::LossCurve curve(section_of(run, insulation(run), size), surroundings_of(run, usual_air_c));
  return curves_.emplace(key, curve).first->second;
}

}  // namespace firstdraw::plan
