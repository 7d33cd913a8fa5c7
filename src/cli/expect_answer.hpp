// The answer of `firstdraw expect` as text: what a clamp meter should show on a circuit.
#pragma once

#include <vector>

#include "cli/page.hpp"
#include "plan/expect.hpp"

namespace firstdraw::cli {

struct ExpectAnswer {
  plan::Expectation expectation;
  std::vector<power::ExpectedCurrent> table;  // empty when something was measured
};

/// In the job's units.
void add_answer(Page& page, const job::Job& job, const plan::Plan& plan, const ExpectAnswer& answer);

}  // namespace firstdraw::cli
