#include "plan/circuit_parts.hpp"

#include "hold/hold.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;

power::CircuitPart part_of(const job::Job& job, const Plan& plan, double maintain_c, int run_index) {
  const job::Run& run = job.runs[at(run_index)];
  const RunPlan& planned = plan.runs[at(run_index)];
  const double heated_m = heated_length_m(run);
  const auto insulation = physics::find_insulation(run.insulation);
  power::StartPipe pipe;
  pipe.air_c = job::air_around(job, run).usual_c;
  pipe.passes = planned.passes;
  pipe.heat_j_per_m_k = run.length_m / heated_m *
                        hold::heat_capacity_j_per_m_k(run.pipe, planned.insulation,
                                                      insulation ? &*insulation : nullptr, maintain_c);
  if (maintain_c > pipe.air_c)
    pipe.loss_w_per_m_k = planned.loss_w_per_m * planned.loss_length_m / heated_m / (maintain_c - pipe.air_c);
  return {pipe, planned.cable_length_m};
}

}  // namespace

std::vector<power::CircuitPart> circuit_parts(const job::Job& job, const Plan& plan,
                                              const power::Circuit& circuit) {
  const double maintain_c = job.groups[at(circuit.group)].maintain_c;
  std::vector<power::CircuitPart> parts;
  for (const int run : circuit.runs) parts.push_back(part_of(job, plan, maintain_c, run));
  return parts;
}

}  // namespace firstdraw::plan
