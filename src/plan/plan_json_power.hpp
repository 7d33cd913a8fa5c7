// Circuits, panels, switching, division and load calculation of a plan as JSON.
#pragma once

#include <nlohmann/json.hpp>

#include "plan/plan.hpp"

namespace firstdraw::plan {

nlohmann::json circuit_json(const job::Job& job, const Plan& plan, const power::Circuit& circuit);
nlohmann::json panel_json(const job::Job& job, const Plan& plan, const power::PanelLoad& panel);
nlohmann::json switching_json(const job::Job& job, const Plan& plan, const power::Switching& switching);
nlohmann::json division_json(const power::Division& division);
nlohmann::json load_json(const LoadLine& line);
nlohmann::json citation_json(const rules::Citation& citation);

}  // namespace firstdraw::plan
