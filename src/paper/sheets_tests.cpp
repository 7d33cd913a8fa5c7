// Field-test sheets, one per circuit: blank, to fill in by hand, or with what was recorded.
#include <fmt/format.h>

#include <algorithm>

#include "paper/field_words.hpp"
#include "paper/install.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

constexpr double writing_row_mm = 5.1;  // a figure written by hand fits

/// What answers a test of this circuit; null: nothing yet.
const prove::Reading* answer(const Pack& pack, const power::Circuit& circuit, const rules::FieldTest& test,
                             std::string& grade) {
  if (!pack.field) return nullptr;
  for (const prove::Due& due : pack.field->due) {
    if (due.test != test.id || due.circuit != circuit.id || !due.reading) continue;
    if (due.grade) grade = grade_text(*due.grade);
    return &pack.field->readings.at(*due.reading);
  }
  return nullptr;
}

Row test_row(const Pack& pack, const power::Circuit& circuit, const rules::FieldTest& test) {
  std::string grade;
  const prove::Reading* reading = answer(pack, circuit, test, grade);
  if (!reading) return {Row::Kind::plain, {test.name, test.limit, "", "", ""}};
  const std::string when = moment_text(reading->at);
  return {Row::Kind::plain,
          {test.name, test.limit, value_text(pack.show, *reading), grade,
           reading->who.empty() ? when : when + ", " + reading->who}};
}

Table stages(const Pack& pack, const power::Circuit& circuit) {
  Table table;
  table.columns = {{"Test", ""},
                   {"Limit", ""},
                   {"Reading", "", Anchor::start, 18},
                   {"Pass", "", Anchor::start, 8},
                   {"Date, name", "", Anchor::start, 20}};
  table.size_pt = 6.8;
  table.least_row_mm = writing_row_mm;
  table.pad_y_mm = 0.35;
  std::string stage;
  for (const rules::FieldTest& test : rules::field_tests(pack.job.requirements.rules)) {
    if (test.stage != stage) table.rows.push_back({Row::Kind::group, {stage = test.stage}});
    table.rows.push_back(test_row(pack, circuit, test));
  }
  return table;
}

bool belongs_to(const Pack& pack, const prove::Reading& reading, const power::Circuit& circuit) {
  if (!reading.circuit.empty()) return reading.circuit == circuit.id;
  if (!reading.group.empty()) return reading.group == pack.job.groups[piping::at(circuit.group)].id;
  return std::ranges::any_of(circuit.runs,
                             [&](int run) { return pack.job.runs[piping::at(run)].id == reading.run; });
}

std::string under(const Pack& pack, const prove::Reading& reading) {
  std::string text;
  const auto add = [&text](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
  if (!reading.run.empty()) add("run " + reading.run);
  if (reading.cable_c) add("cable or pipe " + pack.show.with_unit(*reading.cable_c, Kind::temperature));
  if (reading.volts) add(fmt::format("{:.0f} V", *reading.volts));
  if (reading.test_voltage_v) add(fmt::format("{:.0f} V dc", *reading.test_voltage_v));
  if (reading.minutes) add(fmt::format("after {:.3g} min", *reading.minutes));
  return text;
}

/// Every reading of the circuit with its verdict.
void measured(Book& book, const Pack& pack, const power::Circuit& circuit) {
  if (!pack.field) return;
  Table table;
  table.size_pt = 6.8;
  table.pad_y_mm = 0.35;
  table.columns = {{"Measured", ""}, {"Value", ""}, {"Under", ""}, {"", ""}, {"Verdict", ""}, {"Record", ""}};
  for (const prove::Verdict& verdict : pack.field->verdicts) {
    const prove::Reading& reading = pack.field->readings.at(verdict.reading);
    if (!belongs_to(pack, reading, circuit)) continue;
    std::string words = verdict.said;
    if (!verdict.suspect.empty()) words += " " + verdict.suspect + " " + verdict.to_do;
    table.rows.push_back(
        {Row::Kind::plain,
         {what_text(reading.what), value_text(pack.show, reading), under(pack, reading),
          grade_text(verdict.grade), words, fmt::format("{}", pack.field->record_of.at(verdict.reading))}});
  }
  if (table.rows.empty()) return;
  heading(book, "Measured on this circuit", 24);
  flow(book, table);
}

// How each test is done: once for all circuits.
Table methods(const Pack& pack) {
  Table table;
  table.columns = {{"Test", ""}, {"How", ""}, {"Limit", ""}, {"Source", ""}};
  std::string stage;
  for (const rules::FieldTest& test : rules::field_tests(pack.job.requirements.rules)) {
    if (test.stage != stage) table.rows.push_back({Row::Kind::group, {stage = test.stage}});
    table.rows.push_back({Row::Kind::plain, {test.name, test.how, test.limit, citation_text(test.citation)}});
  }
  return table;
}

void test_sheet(Book& book, const Pack& pack, const power::Circuit& circuit) {
  sheet(book, "Field tests: circuit " + circuit.id,
        fmt::format("Group {} · panel {} · fed at {} · {} · {} · breaker {:.0f} A",
                    group_name(pack.job, circuit.group), panel_name(pack.job, circuit.panel),
                    node_name(pack.plan, circuit.feed_node), cable_name(pack.job, circuit.cable),
                    pack.show.with_unit(circuit.cable_length_m, Kind::length), circuit.breaker_a));
  writing_boxes(book,
                {"Reel or batch", "Length fitted", "Test voltage, dc", "Installed by",
                 "Insulation tester: serial, calibrated until", "Clamp meter: serial, calibrated until",
                 "Thermometer: serial, calibrated until", "Air: temperature, humidity"},
                4, 7.2);
  flow(book, stages(pack, circuit));
  flow(book, expected_currents(pack, circuit, true));
  paragraph(book, expected_currents_note(pack, circuit), small_style);
  measured(book, pack, circuit);
  writing_boxes(book, {"Tested by: name, date", "Signature", "Witnessed by: name, date", "Signature"}, 4, 9);
}

}  // namespace

void field_test_sheets(Book& book, const Pack& pack) {
  part(book, "Field-test sheets");
  paragraph(
      book,
      pack.field && !pack.field->readings.empty()
          ? "What was recorded stands on the sheets; what is blank is still to be done and written in with "
            "ink. The limits are the least: the cable maker's instructions may ask for more."
          : "Fill in one sheet per circuit, at the time of the test and with ink. A failed test stays on "
            "the sheet; the repeat is written beside it. The limits are the least: the cable maker's "
            "instructions may ask for more.");
  caution(book, "Before any insulation test",
          "Circuit locked out and proved dead; controllers and sensors disconnected; nobody in reach of the "
          "cable. Discharge the cable after each test.");
  flow(book, methods(pack));
  for (const power::Circuit& circuit : pack.plan.circuits) test_sheet(book, pack, circuit);
}

}  // namespace firstdraw::paper
