#include "cli/expect_answer.hpp"

#include <fmt/format.h>

#include <cmath>

namespace firstdraw::cli {
namespace {

using piping::at;
using units::Kind;

std::string amperes(double current_a) { return fmt::format("{:.2f} A", current_a); }

std::string when(const plan::Expectation& expectation) {
  return expectation.minutes ? fmt::format("{:g} min after switching on", *expectation.minutes) : "settled";
}

std::string drawn(const plan::Expectation& expectation) {
  const power::ExpectedCurrent& now = expectation.now;
  if (!now.covered) return "no figure: " + expectation.why_none;
  return fmt::format("{}, within {} to {}", amperes(now.current_a), amperes(now.least_a),
                     amperes(now.most_a));
}

/// A figure of a table, or a dash where the data sheet gives none.
std::string figure(double value) { return std::isnan(value) ? "–" : fmt::format("{:.2f}", value); }

std::vector<std::pair<std::string, std::string>> facts_of(const job::Job& job, const plan::Plan& plan,
                                                          const plan::Expectation& expectation) {
  const power::Circuit& circuit = plan.circuits[at(expectation.circuit)];
  const power::ExpectedCurrent& now = expectation.now;
  const physics::CableSheet& sheet = job.cables[at(circuit.cable)];
  const auto show = [&job](double value, Kind kind) { return units::show(value, kind, job.units); };
  return {
      {"Circuit", fmt::format("{}, from {}, controlled by {}", circuit.id, job.panels[at(circuit.panel)].id,
                              job.groups[at(circuit.group)].id)},
      {"Cable",
       fmt::format("{} ({}), {} on {} {}", sheet.id, sheet.name, show(circuit.cable_length_m, Kind::length),
                   circuit.runs.size(), circuit.runs.size() == 1 ? "run" : "runs")},
      {"At", fmt::format("pipe {}, {:.4g} V, {}", show(now.pipe_c, Kind::temperature), now.volts,
                         when(expectation))},
      {"Draws", drawn(expectation)},
      {"Power", now.covered ? show(now.power_w, Kind::power) : "no figure"},
  };
}

TextTable table_of(const job::Job& job, const std::vector<power::ExpectedCurrent>& rows) {
  TextTable table({{"Pipe", ""},
                   {"Voltage", "V", Column::Kind::number},
                   {"Draws", "A", Column::Kind::number},
                   {"Least", "A", Column::Kind::number},
                   {"Most", "A", Column::Kind::number}});
  for (const power::ExpectedCurrent& row : rows) {
    table.add_row({{units::show(row.pipe_c, Kind::temperature, job.units)},
                   {fmt::format("{:.4g}", row.volts)},
                   {figure(row.current_a)},
                   {figure(row.least_a)},
                   {figure(row.most_a)}});
  }
  return table;
}

}  // namespace

void add_answer(Page& page, const job::Job& job, const plan::Plan& plan, const ExpectAnswer& answer) {
  page.facts(facts_of(job, plan, answer.expectation));
  if (!answer.expectation.reasons.empty()) page.heading("Why");
  for (const std::string& reason : answer.expectation.reasons) page.paragraph(reason, "- ");
  page.heading("Assumed");
  for (const std::string& sentence : answer.expectation.assumed) page.paragraph(sentence, "- ");
  if (!answer.table.empty()) {
    page.heading("Settled, at other readings");
    page.table(table_of(job, answer.table));
  }
  if (!answer.expectation.warnings.empty()) page.blank();
  for (const std::string& warning : answer.expectation.warnings)
    page.paragraph(warning, "Look out: ", Style::red);
  page.caution(
      "a current in its band is no proof of safety: the electrician's tests, the local electrical code and "
      "the cable maker's instructions decide; a licensed electrician measures at live parts.");
}

}  // namespace firstdraw::cli
