// Heating cable with what connects and fixes it.
#include <fmt/format.h>

#include <cmath>
#include <map>
#include <numbers>

#include "plan/materials_bill.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;
using units::Kind;

// Common practice, no source: stated beside every quantity they enter.
constexpr double band_spacing_m = 0.3, band_overlap_m = 0.05, fixing_roll_m = 33, foil_roll_m = 50;

bool is_plastic(const physics::Pipe& pipe) { return pipe.conductivity_w_per_m_k < 1; }

/// Cable of one circuit that lies in its power connection and end seals.
double tails_m(const job::Job& job, const power::Circuit& circuit) {
  if (circuit.runs.empty()) return 0;
  const auto allowance = piping::cable_allowance(job.runs[at(circuit.runs.front())].pipe.outer_diameter_m);
  return allowance.per_end_m * (1 + static_cast<double>(circuit.end_nodes.size()));
}

}  // namespace

void add_cable(const job::Job& job, const Plan& plan, Bill& bill) {
  std::vector<double> cable_m(job.cables.size(), 0);
  std::string basis;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    if (!is_heated(plan.runs[i])) continue;
    cable_m[at(plan.runs[i].cable)] += plan.runs[i].cable_length_m;
    if (basis.empty()) basis = piping::cable_allowance(job.runs[i].pipe.outer_diameter_m).basis;
  }
  for (const auto& circuit : plan.circuits)
    if (circuit.cable != piping::none) cable_m[at(circuit.cable)] += tails_m(job, circuit);
  for (std::size_t c = 0; c < job.cables.size(); ++c)
    bill.length("Heating cable", job.cables[c].name, job.cables[c].id, cable_m[c],
                "pipe length times passes, with allowances: " + basis,
                job.cables[c].price_per_m * cable_m[c]);
}

void add_connections(const job::Job& job, const Plan& plan, Bill& bill) {
  struct Kits {
    int feeds = 0, tees = 0, ends = 0;
  };
  std::map<int, Kits> by_cable;
  for (const auto& circuit : plan.circuits) {
    Kits& kits = by_cable[circuit.cable];
    kits.feeds += 1;
    kits.tees += static_cast<int>(circuit.tee_nodes.size());
    kits.ends += static_cast<int>(circuit.end_nodes.size());
  }
  for (const auto& [cable, kits] : by_cable) {
    const std::string detail =
        "for " + (cable == piping::none ? std::string("cable") : job.cables[at(cable)].id);
    bill.count("Connections", "Power connection kit", detail, kits.feeds, "one for each circuit");
    bill.count("Connections", "Tee kit", detail, kits.tees,
               "one where a circuit branches, two where four meet");
    bill.count("Connections", "End seal kit", detail, kits.ends,
               "one at each end of a circuit, away from its feed");
  }
}

void add_tape(const job::Job& job, const Plan& plan, Bill& bill) {
  double fixing_m = 0, foil_m = 0;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    if (!is_heated(plan.runs[i])) continue;
    const job::Run& run = job.runs[i];
    const double band_m = 2 * std::numbers::pi * run.pipe.outer_diameter_m + band_overlap_m;
    fixing_m += std::ceil(run.length_m / band_spacing_m) * band_m;
    if (is_plastic(run.pipe)) foil_m += plan.runs[i].cable_length_m;
  }
  bill.count("Fixing", "Glass-fibre fixing tape",
             fmt::format("roll of {}", units::show(fixing_roll_m, Kind::length, job.units)),
             fixing_m / fixing_roll_m,
             fmt::format("two turns every {} along the traced pipe (common practice, no source)",
                         units::show(band_spacing_m, Kind::length, job.units)),
             "rolls");
  bill.count(
      "Fixing", "Aluminium tape over cable on plastic pipe",
      fmt::format("roll of {}", units::show(foil_roll_m, Kind::length, job.units)), foil_m / foil_roll_m,
      "along the whole cable on plastic pipe, as the cable maker asks (common practice, no source)", "rolls");
}

}  // namespace firstdraw::plan
