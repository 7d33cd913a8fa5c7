#include "paper/currents.hpp"

#include <algorithm>
#include <cmath>

#include "units/quantity.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;

// Round numbers strictly between the ends, none so near an end that two rows say the same.
std::vector<double> between(double low, double high, double step) {
  std::vector<double> numbers;
  for (double number = std::ceil(low / step) * step; number < high; number += step)
    if (number - low >= 0.6 * step && high - number >= 0.6 * step) numbers.push_back(number);
  return numbers;
}

}  // namespace

std::vector<double> grid_pipes_c(double start_c, double maintain_c, units::System system) {
  if (!(start_c < maintain_c)) return {start_c};
  const std::string unit(units::display_unit(units::Kind::temperature, system));
  const auto shown = [&](double temp_c) { return units::from_si(temp_c, unit, units::Kind::temperature); };
  std::vector<double> inner;
  for (const double step : {5.0, 10.0, 20.0, 50.0}) {
    inner = between(shown(start_c), shown(maintain_c), step);
    if (inner.size() + 2 <= most_rows) break;
  }
  std::vector<double> pipes_c{start_c};
  for (const double number : inner)
    pipes_c.push_back(units::to_si(number, unit, units::Kind::temperature).value());
  pipes_c.push_back(maintain_c);
  return pipes_c;
}

std::vector<CurrentGrid> current_grids(const job::Job& job, const plan::Plan& plan) {
  std::vector<CurrentGrid> grids(plan.circuits.size());
  for (std::size_t each = 0; each < grids.size(); ++each) {
    const power::Circuit& circuit = plan.circuits[each];
    if (circuit.cable < 0 || circuit.panel < 0 || circuit.group < 0 || circuit.runs.empty()) continue;
    const job::Panel& panel = job.panels[at(circuit.panel)];
    CurrentGrid& grid = grids[each];
    grid.pipes_c =
        grid_pipes_c(job.requirements.start_c, job.groups[at(circuit.group)].maintain_c, job.units);
    for (const double frac : {panel.low_frac, 1.0, panel.high_frac})
      if (const double volts = std::round(frac * panel.voltage_v);
          grid.volts.empty() || volts > grid.volts.back())
        grid.volts.push_back(volts);
    grid.values = plan::expected_currents(job, plan, static_cast<int>(each), {grid.pipes_c, grid.volts});
  }
  return grids;
}

}  // namespace firstdraw::paper
