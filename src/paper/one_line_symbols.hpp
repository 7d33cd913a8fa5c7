// Symbols of single-line diagrams, lying on a line that the caller draws up to them: as in IEEE 315 for the
// rules of the US, as in IEC 60617 elsewhere (both from memory). The legend beside the drawing says what each
// means.
#pragma once

#include "paper/ink.hpp"

namespace firstdraw::paper {

enum class SymbolSet { us, intl };

/// Length of the gap that a breaker or a contact bridges.
inline constexpr double switch_gap_mm = 6;

enum class Run { across, down };
/// Bridges the gap that begins at `at`.
void breaker_symbol(Ink& ink, Point at, Run run, SymbolSet set);
void contact_symbol(Ink& ink, Point at, SymbolSet set);
/// A ring around the line: what measures the current to earth.
void ground_fault_symbol(Ink& ink, Point centre);
inline constexpr double heating_mm = 13;
void heating_symbol(Ink& ink, Point left);
/// Hangs from `top`.
void earth_symbol(Ink& ink, Point top);
/// The end of the cable, closed.
void end_seal_symbol(Ink& ink, Point at);
void connection_symbol(Ink& ink, Point centre);
void sensor_symbol(Ink& ink, Point centre);

/// All of them with their words, in one or two lines; returns the height.
double one_line_legend(Ink& ink, Point at, double width_mm, SymbolSet set);

}  // namespace firstdraw::paper
