#include "building.hpp"

#include <filesystem>
#include <stdexcept>

#include "generate_job.hpp"
#include "job/folder.hpp"
#include "places.hpp"
#include "plan/decide.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;

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

}  // namespace

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

power::CircuitCable cable_of(const Building& building, const power::Circuit& circuit) {
  std::vector<double> length_m;
  for (const int run : circuit.runs) length_m.push_back(building.plan.runs[at(run)].cable_length_m);
  return power::circuit_cable(building.plan.network, circuit.runs, length_m, circuit.feed_node);
}

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

}  // namespace firstdraw::bench
