// Which tests of which stage are due, and which reading answers each.
#include <algorithm>
#include <array>

#include "prove/bench.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

/// Stages as data/rules_field_tests.csv writes them.
constexpr std::array<std::pair<std::string_view, Stage>, 6> stage_texts{
    {{"on receipt", Stage::on_receipt},
     {"after fixing, before insulation", Stage::fixed},
     {"after insulation", Stage::insulated},
     {"before energising", Stage::before_energising},
     {"energised", Stage::energised},
     {"periodic", Stage::periodic}}};

/// Readings that answer a test: one of each list. No list: the test is only looked at.
using Answers = std::vector<std::vector<What>>;

Answers answers_of(std::string_view test) {
  using enum What;
  if (test.ends_with("insulation-resistance")) return {{insulation_resistance}};
  if (test == "receipt-continuity" || test == "fixed-continuity") return {{continuity, loop_resistance}};
  if (test == "fixed-length") return {{capacitance, loop_resistance}};
  if (test.starts_with("ready-supply-wiring")) return {{supply_insulation}};
  if (test == "ready-earth") return {{earth_resistance}};
  if (test == "ready-sensor") return {{sensor_resistance}};
  if (test == "ready-voltage") return {{supply_voltage}};
  if (test == "energised-ground-fault") return {{trip_button, trip_current}};
  if (test == "energised-rcd-time") return {{trip_time}};
  if (test == "energised-leakage") return {{leakage_current}};
  if (test == "energised-current") return {{current}};
  if (test == "energised-warm-up") return {{pipe_temperature}};
  if (test == "periodic-circuit")
    return {{insulation_resistance},
            {continuity, loop_resistance, current},
            {supply_voltage},
            {trip_button, trip_current}};
  return {};
}

/// The one stage at which a kind of reading is asked for; none when there are several.
std::optional<Stage> usual_stage(What what) {
  using enum What;
  switch (what) {
    case capacitance:
      return Stage::fixed;
    case supply_insulation:
    case earth_resistance:
    case sensor_resistance:
      return Stage::before_energising;
    case trip_time:
    case leakage_current:
      return Stage::energised;
    default:
      return std::nullopt;
  }
}

class Finder {
 public:
  Finder(const Bench& bench, std::span<const Verdict> verdicts) : bench_(bench), verdicts_(verdicts) {}

  void answer(Due& due, const power::Circuit& circuit) const {
    for (const auto& kinds : answers_of(due.test)) {
      const auto found = latest(kinds, due.stage, circuit);
      if (!found) {
        due.reading.reset();
        due.grade.reset();
        return;
      }
      const Grade grade = verdicts_[*found].grade;
      if (!due.reading || later(*found, *due.reading)) due.reading = found;
      due.grade = due.grade ? std::max(*due.grade, grade) : grade;
    }
  }

 private:
  bool belongs(const Reading& reading, const power::Circuit& circuit) const {
    const std::string_view place = help_of(reading.what).place;
    if (place == "circuit") return reading.circuit == circuit.id;
    if (place == "group") return reading.group == bench_.job().groups[at(circuit.group)].id;
    const int run = bench_.run_index(reading.run);
    return place == "run" && run != piping::none &&
           std::ranges::find(circuit.runs, run) != circuit.runs.end();
  }
  /// By time as written, then by order.
  bool later(std::size_t a, std::size_t b) const {
    const std::string &at_a = bench_.readings()[a].at, &at_b = bench_.readings()[b].at;
    return at_a.empty() || at_b.empty() || at_a == at_b ? a > b : at_a > at_b;
  }
  std::optional<std::size_t> latest(const std::vector<What>& kinds, Stage stage,
                                    const power::Circuit& circuit) const {
    std::optional<std::size_t> found;
    for (std::size_t each = 0; each < bench_.readings().size(); ++each) {
      const Reading& reading = bench_.readings()[each];
      if (std::ranges::find(kinds, reading.what) == kinds.end() || !belongs(reading, circuit)) continue;
      if ((reading.stage ? reading.stage : usual_stage(reading.what)) != stage) continue;
      if (!found || later(each, *found)) found = each;
    }
    return found;
  }

  const Bench& bench_;
  std::span<const Verdict> verdicts_;
};

/// The 250 V and the 600 V class of supply wiring exclude each other; without a sensor there is none to test.
bool applies_to(const Bench& bench, std::string_view test, const power::Circuit& circuit) {
  const bool low = bench.panel_of(circuit).voltage_v <= 250;
  if (test == "ready-supply-wiring-250") return low;
  if (test == "ready-supply-wiring-600") return !low;
  const job::ControlGroup& group = bench.job().groups[at(circuit.group)];
  if (test == "ready-sensor" || test == "fixed-sensor") return !group.sensor_run.empty();
  return true;
}

}  // namespace

std::vector<Due> due_tests(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings,
                           std::span<const Verdict> verdicts) {
  const Bench bench(job, plan, readings);
  const Finder finder(bench, verdicts);
  std::vector<Due> all;
  for (const auto& [text, stage] : stage_texts) {
    for (const power::Circuit& circuit : plan.circuits) {
      for (const rules::FieldTest& test : rules::field_tests(job.requirements.rules)) {
        if (test.stage != text || !applies_to(bench, test.id, circuit)) continue;
        Due due{stage, test.id, test.name, circuit.id, {}, {}, answers_of(test.id).empty()};
        finder.answer(due, circuit);
        all.push_back(std::move(due));
      }
    }
  }
  return all;
}

std::vector<Reading> sheet_rows(const job::Job& job, const plan::Plan& plan) {
  std::vector<Reading> rows;
  const Bench bench(job, plan, {});
  for (const Due& due : due_tests(job, plan, {}, {})) {
    const power::Circuit& circuit = *bench.circuit(due.circuit);
    for (const auto& kinds : answers_of(due.test)) {
      Reading row;
      row.what = kinds.front();
      row.stage = due.stage;
      const std::string_view place = help_of(row.what).place;
      if (place == "circuit") row.circuit = circuit.id;
      if (place == "group") row.group = job.groups[at(circuit.group)].id;
      if (place == "run") row.run = job.runs[at(circuit.runs.back())].id;
      row.note = due.name;
      if (std::ranges::find(rows, row) == rows.end()) rows.push_back(std::move(row));
    }
  }
  return rows;
}

}  // namespace firstdraw::prove
