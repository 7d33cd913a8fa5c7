// What the installation sheets, the field-test sheets and the loose drawings share.
#pragma once

#include <vector>

#include "paper/diagrams.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {

Wiring wiring_of(const job::Job& job, const plan::Plan& plan, int group);
const job::Panel* panel_of(const Pack& pack, int panel);  // null when there is none
void circuit_sheet(Book& book, const Pack& pack, const power::Circuit& circuit);
SensorSection section_of(const job::Job& job, const plan::Plan& plan, int group);
/// Current of each circuit at switching on, after 300 s, and at some pipe temperatures, from the cable's data
/// sheet.
Table expected_currents(const Pack& pack, const std::vector<const power::Circuit*>& circuits);

/// The same for one circuit in a sentence.
std::string expected_currents_text(const Pack& pack, const power::Circuit& circuit);

}  // namespace firstdraw::paper
