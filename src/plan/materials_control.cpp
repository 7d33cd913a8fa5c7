// Controllers, contactors, breakers.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "plan/materials_bill.hpp"
#include "rules/override.hpp"

namespace firstdraw::plan {

void add_control(const job::Job& job, const Plan& plan, Bill& bill) {
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    const job::ControlGroup& group = job.groups[g];
    const auto belongs = [&](const auto& thing) { return thing.group == static_cast<int>(g); };
    if (std::ranges::none_of(plan.circuits, belongs)) continue;
    const bool sensor = group.kind == job::ControlKind::pipe_sensor;
    bill.count("Control", sensor ? "Temperature controller" : "Duty controller with entered ambient",
               "group " + group.id, 1, "one for each control group");
    if (sensor)
      bill.count("Control", "Pipe temperature sensor with lead", "group " + group.id, 1,
                 "one for each control group");
    const auto switching = std::ranges::find_if(plan.switching, belongs);
    if (switching != plan.switching.end() && switching->contactor)
      bill.count("Control", "Contactor, heating duty (AC-1)",
                 fmt::format("group {}, {} poles of {:.0f} A or more", group.id, switching->poles,
                             std::ceil(switching->pole_a)),
                 1, "a pole for each of the group's breakers' (common practice, no source)");
  }
}

void add_breakers(const Plan& plan, const job::Job& job, Bill& bill) {
  std::map<std::tuple<double, int, bool>, int> breakers;
  for (const auto& circuit : plan.circuits)
    breakers[{circuit.breaker_a, circuit.poles, circuit.ground_fault}] += 1;
  for (const auto& [kind, number] : breakers)
    bill.count("Electrical",
               std::get<2>(kind) ? "Breaker with ground-fault protection of equipment" : "Breaker",
               fmt::format("{:.0f} A, {} pole{}", std::get<0>(kind), std::get<1>(kind),
                           std::get<1>(kind) > 1 ? "s" : ""),
               number, "one for each circuit");
  const auto& rule = rules::circuit_rule(job.requirements.rules, "disconnecting-means");
  bill.count("Electrical", "Lock for a breaker, open position", "stays on the breaker",
             static_cast<double>(plan.circuits.size()),
             "the breaker is the disconnecting means and locks open: " + rule.citation.text());
}

}  // namespace firstdraw::plan
