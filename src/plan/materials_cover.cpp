// Insulation, and the labels on it.
#include <fmt/format.h>

#include <map>
#include <tuple>

#include "plan/materials_bill.hpp"
#include "rules/panel_rules.hpp"

namespace firstdraw::plan {
namespace {

using units::Kind;

constexpr double cutting_waste_frac = 0.05;  // common practice, no source: stated beside the quantity

std::string size_text(const job::Job& job, const physics::InsulationSize& size) {
  return fmt::format("{}, {} thick (bore {}, outside {})", size.made_for,
                     units::show(size.nominal_thickness_m, Kind::size, job.units),
                     units::show(size.bore_m, Kind::size, job.units),
                     units::show(size.outer_diameter_m, Kind::size, job.units));
}

}  // namespace

void add_insulation(const job::Job& job, const Plan& plan, Bill& bill) {
  struct Total {
    double length_m = 0, valves = 0;
    std::string detail;
  };
  std::map<std::tuple<std::string, double, double>, Total> totals;
  std::map<std::string, std::string> names;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    const physics::InsulationSize& size = plan.runs[i].insulation;
    if (!(size.nominal_thickness_m > 0)) continue;
    if (names.try_emplace(job.runs[i].insulation).second)
      if (const auto found = physics::find_insulation(job.runs[i].insulation))
        names[job.runs[i].insulation] = found->name;
    Total& total = totals[{job.runs[i].insulation, size.bore_m, size.nominal_thickness_m}];
    total.length_m += job.runs[i].length_m;
    total.valves += job.runs[i].valves;
    if (total.detail.empty()) total.detail = size_text(job, size);
  }
  for (const auto& [key, total] : totals) {
    const std::string& name = names[std::get<0>(key)];
    bill.length(
        "Insulation", name, total.detail, total.length_m * (1 + cutting_waste_frac),
        "pipe length and 5 % cutting waste (common practice, no source); the bore clears pipe and cable");
    bill.count("Insulation", name + ", valve cover", total.detail, total.valves,
               "one for each valve of the survey");
  }
}

void add_labels(const job::Job& job, const Plan& plan, Bill& bill) {
  const auto overrides = job::overrides_of(job);
  const rules::RuleSet set = job.requirements.rules;
  const rules::Labels rule = rules::labels_along(set, 1, overrides);
  auto labels = static_cast<double>(plan.circuits.size());
  double tags = 0;
  for (std::size_t i = 0; i < job.runs.size(); ++i)
    if (is_heated(plan.runs[i]))
      labels += rules::labels_along(set, job.runs[i].length_m, overrides).count - 1;
  for (const auto& circuit : plan.circuits)
    tags += 1 + static_cast<double>(circuit.tee_nodes.size() + circuit.end_nodes.size());
  bill.count("Labels", "Caution label, electric heating cable under insulation", "on the insulation", labels,
             fmt::format("at each power connection, then one every {}, at least one on each run: {}",
                         units::show(rule.spacing_m, units::Kind::length, job.units),
                         rule.reasons.front().citation.text()));
  bill.count("Labels", "Circuit tag", "at power connections, tees and ends", tags,
             "one at each connection and end (common practice, no source)");
}

}  // namespace firstdraw::plan
