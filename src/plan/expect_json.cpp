#include "plan/expect_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace firstdraw::plan {
namespace {

using nlohmann::json;
using piping::at;

json number(double value) { return std::isnan(value) ? json() : json(value); }

json to_json(const power::ExpectedCurrent& expected) {
  return {{"pipe_c", expected.pipe_c},
          {"voltage_v", expected.volts},
          {"current_a", number(expected.current_a)},
          {"least_a", number(expected.least_a)},
          {"most_a", number(expected.most_a)},
          {"power_w", number(expected.power_w)},
          {"far_end_v", number(expected.far_v)},
          {"usable", expected.usable}};
}

json circuit_json(const job::Job& job, const power::Circuit& circuit) {
  return {{"id", circuit.id},
          {"panel", job.panels[at(circuit.panel)].id},
          {"group", job.groups[at(circuit.group)].id},
          {"cable", job.cables[at(circuit.cable)].id},
          {"cable_length_m", circuit.cable_length_m}};
}

}  // namespace

json to_json(const job::Job& job, const Plan& plan, const Expectation& expectation,
             std::span<const power::ExpectedCurrent> table) {
  json answer = to_json(expectation.now);
  answer["circuit"] = circuit_json(job, plan.circuits[at(expectation.circuit)]);
  answer["minutes"] = expectation.minutes ? json(*expectation.minutes) : json();
  answer["voltage_allowed"] = expectation.now.covered;
  answer["why"] = expectation.now.covered ? json() : json(expectation.why_none);
  answer["reasons"] = expectation.reasons;
  answer["assumed"] = expectation.assumed;
  answer["warnings"] = expectation.warnings;
  answer["table"] = json::array();
  for (const power::ExpectedCurrent& row : table) answer["table"].push_back(to_json(row));
  return answer;
}

}  // namespace firstdraw::plan
