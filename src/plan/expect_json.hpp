// The answer to what a clamp meter should show, as JSON: schemas/expect.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>

#include "plan/expect.hpp"

namespace firstdraw::plan {

/// `table`: settled currents at other readings; may be empty. SI; null for what the data sheet does not give.
nlohmann::json to_json(const job::Job& job, const Plan& plan, const Expectation& expectation,
                       std::span<const power::ExpectedCurrent> table);

}  // namespace firstdraw::plan
