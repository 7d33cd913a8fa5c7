#include "plan/materials.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <tuple>

#include "plan/decide.hpp"
#include "rules/rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::plan {
namespace {

using units::Kind;

constexpr double unknown_price = std::numeric_limits<double>::quiet_NaN();
// Common practice, no source: stated beside every quantity they enter.
constexpr double band_spacing_m = 0.3, band_overlap_m = 0.05, fixing_roll_m = 33, foil_roll_m = 50;
constexpr double cutting_waste_frac = 0.05;

using piping::at;

bool is_heated(const RunPlan& run) { return run.cable != piping::none; }

bool is_plastic(const physics::Pipe& pipe) { return pipe.conductivity_w_per_m_k < 1; }

/// Collects lines; lengths are turned into the job's unit and rounded up.
class Bill {
 public:
  explicit Bill(const job::Job& job) : job_(job) {}

  void length(const char* section, std::string item, std::string detail, double length_m, std::string basis,
              double price = unknown_price) {
    const std::string unit(units::display_unit(Kind::length, job_.units));
    const double quantity = round_up(units::from_si(length_m, unit, Kind::length));
    add({section, std::move(item), std::move(detail), unit, quantity, price, std::move(basis)});
  }
  void count(const char* section, std::string item, std::string detail, double pieces, std::string basis,
             const char* unit = "pcs") {
    add({section, std::move(item), std::move(detail), unit, round_up(pieces), unknown_price,
         std::move(basis)});
  }
  std::vector<MaterialLine> take() { return std::move(lines_); }

 private:
  /// Whole units; what floating point left above a whole number is not a unit.
  static double round_up(double quantity) { return std::ceil(quantity - 1e-9); }
  void add(MaterialLine line) {
    if (line.quantity > 0) lines_.push_back(std::move(line));
  }

  const job::Job& job_;
  std::vector<MaterialLine> lines_;
};

/// Cable of one circuit that lies in its power connection and end seals.
double tails_m(const job::Job& job, const power::Circuit& circuit) {
  if (circuit.runs.empty()) return 0;
  const auto allowance = piping::cable_allowance(job.runs[at(circuit.runs.front())].pipe.outer_diameter_m);
  return allowance.per_end_m * (1 + static_cast<double>(circuit.end_nodes.size()));
}

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

void add_control(const job::Job& job, const Plan& plan, Bill& bill) {
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    const job::ControlGroup& group = job.groups[g];
    int circuits = 0, poles = 0;
    double largest_a = 0;
    for (const auto& circuit : plan.circuits) {
      if (circuit.group != static_cast<int>(g)) continue;
      circuits += 1;
      poles += circuit.poles;
      largest_a = std::max(largest_a, circuit.breaker_a);
    }
    if (circuits == 0) continue;
    const bool sensor = group.kind == job::ControlKind::pipe_sensor;
    bill.count("Control", sensor ? "Temperature controller" : "Duty controller with entered ambient",
               "group " + group.id, 1, "one for each control group");
    if (sensor)
      bill.count("Control", "Pipe temperature sensor with lead", "group " + group.id, 1,
                 "one for each control group");
    if (circuits > 1)
      bill.count(
          "Control", "Contactor, heating duty (AC-1)",
          fmt::format("group {}, {} poles of {:.0f} A or more", group.id, poles, largest_a), 1,
          "the controller switches one contactor for all circuits of its group (common practice, no source)");
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

std::string size_text(const job::Job& job, const physics::InsulationSize& size) {
  return fmt::format("{}, {} thick (bore {}, outside {})", size.made_for,
                     units::show(size.nominal_thickness_m, Kind::size, job.units),
                     units::show(size.bore_m, Kind::size, job.units),
                     units::show(size.outer_diameter_m, Kind::size, job.units));
}

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
  const rules::LabelSpacing rule = rules::label_spacing(job.requirements.rules);
  double labels = 0, tags = 0;
  for (std::size_t i = 0; i < job.runs.size(); ++i)
    if (is_heated(plan.runs[i])) labels += std::max(1.0, std::ceil(job.runs[i].length_m / rule.spacing_m));
  for (const auto& circuit : plan.circuits)
    tags += 1 + static_cast<double>(circuit.tee_nodes.size() + circuit.end_nodes.size());
  bill.count("Labels", "Caution label, electric heating cable under insulation", "on the insulation", labels,
             fmt::format("one every {}, at least one on each run: {}",
                         units::show(rule.spacing_m, Kind::length, job.units), rule.citation.text()));
  bill.count("Labels", "Circuit tag", "at power connections, tees and ends", tags,
             "one at each connection and end (common practice, no source)");
}

void add_electrical(const job::Job& job, const Plan& plan, Bill& bill) {
  std::map<std::tuple<double, int, bool>, int> breakers;
  std::map<std::string, double> phase_m, earth_m;
  for (const auto& circuit : plan.circuits) {
    breakers[{circuit.breaker_a, circuit.poles, circuit.ground_fault}] += 1;
    if (circuit.panel == piping::none) continue;
    const double feeder_m = job.panels[at(circuit.panel)].feeder_length_m;
    phase_m[circuit.wiring.conductor] += 2 * feeder_m;
    earth_m[circuit.wiring.earth] += feeder_m;
  }
  for (const auto& [kind, number] : breakers)
    bill.count("Electrical",
               std::get<2>(kind) ? "Breaker with ground-fault protection of equipment" : "Breaker",
               fmt::format("{:.0f} A, {} pole{}", std::get<0>(kind), std::get<1>(kind),
                           std::get<1>(kind) > 1 ? "s" : ""),
               number, "one for each circuit");
  const std::string basis = "usual length from the panel to the first connection, for each circuit";
  for (const auto& [size, length_m] : phase_m)
    bill.length("Electrical", "Copper conductor", size, length_m, "two conductors, " + basis);
  for (const auto& [size, length_m] : earth_m)
    bill.length("Electrical", "Copper earth conductor", size, length_m, basis);
}

}  // namespace

std::vector<MaterialLine> bill_of_materials(const job::Job& job, const Plan& plan) {
  Bill bill(job);
  add_cable(job, plan, bill);
  add_connections(job, plan, bill);
  add_control(job, plan, bill);
  add_tape(job, plan, bill);
  add_insulation(job, plan, bill);
  add_labels(job, plan, bill);
  add_electrical(job, plan, bill);
  return bill.take();
}

}  // namespace firstdraw::plan
