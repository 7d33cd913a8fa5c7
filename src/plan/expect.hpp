// What a clamp meter should show on a circuit of a plan. docs/circuits.md, docs/circuits-start.md.
//
// An expectation is no proof of safety: the electrician's tests, local codes, the authority having
// jurisdiction and the cable maker's instructions decide.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "power/expect.hpp"

namespace firstdraw::plan {

/// How far off a meter and a contact thermometer are taken to be (common practice, no source).
inline constexpr power::SiteTolerance usual_site_tolerance{0.01, 2};

/// What is known on site; the group's maintain temperature and the panel's nominal voltage where nothing is.
struct SiteReading {
  std::optional<double> pipe_c;   // with `minutes`: at switching on
  std::optional<double> volts;    // at the power connection
  std::optional<double> minutes;  // since switching on; none: settled
};

struct Expectation {
  int circuit = piping::none;  // index into plan.circuits
  std::optional<double> minutes;
  power::ExpectedCurrent now;
  bool voltage_allowed = true;
  // Sentences in the job's units; `reasons` say what the band counts, and stand for now.reasons.
  std::vector<std::string> reasons, assumed, warnings;
};

/// `circuit`: index into plan.circuits. With minutes: times the course of the cold-start model, fitted to the
/// data sheet, over what that model draws on a pipe kept at `pipe_c`; left settled, with a warning, when the
/// sheet has no start currents to fit.
Expectation expect_current(const job::Job& job, const Plan& plan, int circuit, const SiteReading& reading);

/// Settled currents at the coldest start, halfway and the maintain temperature, each at the panel's low,
/// nominal and high voltage; voltages change fastest.
std::vector<power::ExpectedCurrent> expected_table(const job::Job& job, const Plan& plan, int circuit);

}  // namespace firstdraw::plan
