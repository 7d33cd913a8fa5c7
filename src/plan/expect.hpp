// What a clamp meter should show on a circuit of a plan. docs/circuits.md, docs/circuits-start.md.
//
// An expectation is no proof of safety: the electrician's tests, local codes, the authority having
// jurisdiction and the cable maker's instructions decide.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "power/expect.hpp"

namespace firstdraw::plan {

/// How far off a meter and a contact thermometer are taken to be (common practice, no source).
inline constexpr power::SiteTolerance usual_site_tolerance{0.01, 2};

/// What is known on site; where nothing is, the group's maintain temperature, and at the power connection the
/// panel's nominal voltage less what the plan loses in the wiring.
struct SiteReading {
  std::optional<double> pipe_c;   // with `minutes`: at switching on
  std::optional<double> volts;    // at the power connection
  std::optional<double> minutes;  // since switching on; none: settled
};

struct Expectation {
  int circuit = piping::none;  // index into plan.circuits
  std::optional<double> minutes;
  power::ExpectedCurrent now;
  std::string why_none;  // why there is no current; empty when there is one
  // Sentences in the job's units; `reasons` say what the band counts.
  std::vector<std::string> reasons, assumed, warnings;
};

/// `circuit`: index into plan.circuits. With minutes: times the course of the cold-start model, fitted to the
/// data sheet, over what that model draws on a pipe kept at `pipe_c`; left settled, with a warning, when the
/// sheet has no start currents to fit.
Expectation expect_current(const job::Job& job, const Plan& plan, int circuit, const SiteReading& reading);

/// Settled currents at the coldest start, halfway and the maintain temperature, each at the panel's low,
/// nominal and high voltage less what the plan loses in the wiring; voltages change fastest.
std::vector<power::ExpectedCurrent> expected_table(const job::Job& job, const Plan& plan, int circuit);

struct CurrentConditions {
  std::span<const double> pipe_c, volts;  // at the power connection
};
/// The same for pipe temperatures and voltages of one's own choice.
std::vector<power::ExpectedCurrent> expected_currents(const job::Job& job, const Plan& plan, int circuit,
                                                      const CurrentConditions& under);

}  // namespace firstdraw::plan
