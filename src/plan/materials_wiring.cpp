// Circuits of a panel are drawn together as the job says, those of nearest length in one raceway, which is as
// long as the longest of them and is counted once, and so is its earth conductor.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "plan/materials_bill.hpp"
#include "rules/conductor_tables.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;

// Common practice, no source: stated beside every quantity they enter.
constexpr double wire_waste_frac = 0.10, conduit_waste_frac = 0.05;
constexpr int wires = 2;

using Together = std::vector<const power::Circuit*>;

std::vector<Together> raceways(const job::Job& job, const Plan& plan, int panel) {
  Together all;
  for (const auto& circuit : plan.circuits)
    if (circuit.panel == panel && !circuit.wiring.conductor.empty()) all.push_back(&circuit);
  std::ranges::sort(all, {}, [](const power::Circuit* one) {
    return std::tuple(-one->wiring.one_way_m, std::string_view(one->id));
  });
  std::vector<Together> groups;
  const auto most = static_cast<std::size_t>(std::max(1, job.wiring.circuits_together));
  for (const power::Circuit* circuit : all) {
    if (groups.empty() || groups.back().size() >= most) groups.emplace_back();
    groups.back().push_back(circuit);
  }
  return groups;
}

/// Place of a size in the table; sizes rise.
std::size_t rank(rules::RuleSet set, const std::string& size) {
  const auto sizes = rules::conductor_sizes(set);
  return static_cast<std::size_t>(std::ranges::find(sizes, size, &rules::ConductorSize::size) -
                                  sizes.begin());
}

struct Wiring {
  std::map<std::string, double> wire_m, earth_m;
  std::map<std::tuple<std::string, int, std::string>, double> conduit_m;  // kind, metric size, trade size
};

/// One earth for a raceway; without one each circuit is a cable with its own.
void add_raceway(const job::Job& job, const Together& together, Wiring& wiring) {
  const rules::RuleSet set = job.requirements.rules;
  const power::BranchWiring* widest = &together.front()->wiring;
  std::string earth = widest->earth;
  for (const power::Circuit* circuit : together) {
    const power::BranchWiring& one = circuit->wiring;
    wiring.wire_m[one.conductor] += wires * one.one_way_m;
    if (one.conduit.empty()) wiring.earth_m[one.earth] += one.one_way_m;
    if (rank(set, one.earth) > rank(set, earth)) earth = one.earth;
    if (!one.conduit.empty() &&
        (widest->conduit.empty() || std::stoi(one.conduit_metric) > std::stoi(widest->conduit_metric)))
      widest = &one;
  }
  if (widest->conduit.empty()) return;
  const double longest_m = together.front()->wiring.one_way_m;
  wiring.earth_m[earth] += longest_m;
  wiring.conduit_m[{widest->conduit_kind, std::stoi(widest->conduit_metric), widest->conduit}] += longest_m;
}

void add_supplies(const job::Job& job, const Plan& plan, Bill& bill) {
  const std::string basis = "from the source to the panel, and 10 % waste (common practice, no source)";
  for (const auto& load : plan.panels) {
    const job::Panel& panel = job.panels[at(load.panel)];
    if (load.supply.conductor.empty() || !panel.supply_size.empty()) continue;
    const int lines = panel.line_to_line ? std::max(2, panel.phases) : panel.phases + 1;
    const double length_m = panel.supply_length_m * (1 + wire_waste_frac);
    bill.length("Electrical", "Copper conductor, supply of " + panel.id,
                load.supply.conductor + " " + job.wiring.insulation, lines * length_m,
                fmt::format("{} conductors {}", lines, basis));
    bill.length("Electrical", "Copper earth conductor, supply of " + panel.id,
                load.supply.earth + " " + job.wiring.insulation, length_m, basis);
  }
}

std::string shared_note(const job::Job& job) {
  if (job.wiring.circuits_together <= 1) return "";
  return fmt::format(", {} circuits to a raceway", job.wiring.circuits_together);
}

}  // namespace

void add_wiring(const job::Job& job, const Plan& plan, Bill& bill) {
  Wiring wiring;
  for (std::size_t p = 0; p < job.panels.size(); ++p)
    for (const Together& together : raceways(job, plan, static_cast<int>(p)))
      add_raceway(job, together, wiring);
  const std::string made = fmt::format(" {}, {}", job.wiring.insulation, job.wiring.make);
  const std::string waste = "; 10 % waste (common practice, no source)";
  for (const auto& [size, length_m] : wiring.wire_m)
    bill.length("Electrical", "Copper conductor", size + made, length_m * (1 + wire_waste_frac),
                "two for each circuit, panel to power connection" + waste);
  for (const auto& [size, length_m] : wiring.earth_m)
    bill.length("Electrical", "Copper earth conductor", size + made, length_m * (1 + wire_waste_frac),
                "one for each raceway or cable" + shared_note(job) + waste);
  for (const auto& [kind, length_m] : wiring.conduit_m)
    bill.length("Electrical", "Conduit", fmt::format("{} {}", std::get<0>(kind), std::get<2>(kind)),
                length_m * (1 + conduit_waste_frac),
                "as long as the longest circuit in it" + shared_note(job) +
                    "; 5 % waste (common practice, no source); fittings by the route");
  add_supplies(job, plan, bill);
}

}  // namespace firstdraw::plan
