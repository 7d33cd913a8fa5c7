// What a clamp meter should show on every circuit, computed once for all sheets.
#pragma once

#include <vector>

#include "plan/expect.hpp"

namespace firstdraw::paper {

struct CurrentGrid {
  std::vector<double> pipes_c, volts;          // rising; volts at the power connection, whole
  std::vector<power::ExpectedCurrent> values;  // for every pipe temperature every voltage
  const power::ExpectedCurrent& at(std::size_t pipe, std::size_t volt) const {
    return values.at(pipe * volts.size() + volt);
  }
};

/// From the coldest start to maintain, both included, between them round numbers of the unit shown: at most
/// `most_rows`, in equal steps of 5, 10, 20 or 50.
std::vector<double> grid_pipes_c(double start_c, double maintain_c, units::System system);
inline constexpr std::size_t most_rows = 6;

/// Like plan.circuits; empty for a circuit without cable, panel or group. Voltages: the panel's lowest,
/// nominal and highest.
std::vector<CurrentGrid> current_grids(const job::Job& job, const plan::Plan& plan);

}  // namespace firstdraw::paper
