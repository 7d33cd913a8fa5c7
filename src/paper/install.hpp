// What the installation sheets, the field-test sheets, the labels and the loose drawings share.
#pragma once

#include <vector>

#include "paper/diagrams.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {

Wiring wiring_of(const job::Job& job, const plan::Plan& plan, int group);
SensorSection section_of(const job::Job& job, const plan::Plan& plan, int group);
const job::Panel* panel_of(const Pack& pack, int panel);  // null when there is none

std::string breaker_text(const power::Circuit& circuit);     // "15 A, 2 poles"
std::string positions_text(const power::Circuit& circuit);   // "positions 1, 3 (L1-L2)"
std::string phase_name(const job::Panel* panel, int which);  // of the two wires to the cable: "L1", "N"
std::vector<const power::Circuit*> circuits_of(const plan::Plan& plan, int group);
/// As planned; for a plan that says nothing of it: a contactor for more than one circuit.
power::Switching switching_of(const plan::Plan& plan, int group);

void circuit_sheet(Book& book, const Pack& pack, const power::Circuit& circuit);

/// Every wire of a group: from, to, conductor, circuit, what to mind.
Table control_wiring(const Pack& pack, int group);

/// What a clamp meter should show, settled, by pipe temperature and voltage at the power connection, each
/// with its band. With `writing` also boxes for the reading.
Table expected_currents(const Pack& pack, const power::Circuit& circuit, bool writing);
/// What the table counts, and where it does not hold: one or two sentences.
std::string expected_currents_note(const Pack& pack, const power::Circuit& circuit);

}  // namespace firstdraw::paper
