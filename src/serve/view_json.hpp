// Everything the drawing shows, as schema View of openapi.json.
#pragma once

#include <map>
#include <string>

#include "serve/jobs.hpp"
#include "serve/json_text.hpp"

namespace firstdraw::serve {

/// State of the tests on record, by circuit: "none", "some", "all", "doubt", "fail".
using TestStates = std::map<std::string, std::string>;

/// Without took_ms, which is of a question and not of the job.
JsonText view_json(const Looked& looked, const TestStates& tests);
/// Schema CircuitView.
JsonText circuit_json(const job::Job& job, const plan::Plan& plan, const power::Circuit& circuit,
                      const TestStates& tests);
std::string_view name_of(units::System units);

}  // namespace firstdraw::serve
