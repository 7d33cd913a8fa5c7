// The circuits of a plan on the terminal: how they are divided, wired, fed and started, panel by panel.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cli/page.hpp"
#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {

struct CircuitsView {
  std::vector<std::string> sections;  // of circuit_sections(), in the order to show
  std::string circuit;                // only this one; empty: all
};

/// Names a user can give to --show, in the usual order.
const std::vector<std::string>& circuit_sections();
std::vector<std::string> usual_circuit_sections();

void add_circuits(Page& page, const job::Job& job, const plan::Plan& plan, const CircuitsView& view);

/// The parts of plan.json that speak of circuits.
nlohmann::json circuits_json(const job::Job& job, const plan::Plan& plan);

}  // namespace firstdraw::cli
