// Blank field-test sheets, one per circuit, to fill in by hand.
#include <fmt/format.h>

#include "paper/install.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

constexpr double writing_row_mm = 5.1;  // a figure written by hand fits

Table stages(const Pack& pack) {
  Table table;
  table.columns = {{"Test", ""},
                   {"Limit", ""},
                   {"Reading", "", Anchor::start, 18},
                   {"Pass", "", Anchor::start, 6},
                   {"Date, initials", "", Anchor::start, 20}};
  table.size_pt = 6.8;
  table.least_row_mm = writing_row_mm;
  table.pad_y_mm = 0.35;
  std::string stage;
  for (const rules::FieldTest& test : rules::field_tests(pack.job.requirements.rules)) {
    if (test.stage != stage) table.rows.push_back({Row::Kind::group, {stage = test.stage}});
    table.rows.push_back({Row::Kind::plain, {test.name, test.limit, "", "", ""}});
  }
  return table;
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
  flow(book, stages(pack));
  flow(book, expected_currents(pack, circuit, true));
  paragraph(book, expected_currents_note(pack, circuit), small_style);
  writing_boxes(book, {"Tested by: name, date", "Signature", "Witnessed by: name, date", "Signature"}, 4, 9);
}

}  // namespace

void field_test_sheets(Book& book, const Pack& pack) {
  part(book, "Field-test sheets");
  paragraph(book,
            "Fill in one sheet per circuit, at the time of the test and with ink. A failed test stays on the "
            "sheet; the repeat is written beside it. The limits are the least: the cable maker's "
            "instructions may ask for more.");
  caution(book, "Before any insulation test",
          "Circuit locked out and proved dead; controllers and sensors disconnected; nobody in reach of the "
          "cable. Discharge the cable after each test.");
  flow(book, methods(pack));
  for (const power::Circuit& circuit : pack.plan.circuits) test_sheet(book, pack, circuit);
}

}  // namespace firstdraw::paper
