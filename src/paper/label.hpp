// Labels of one circuit: panel door, power connection, every tee, every end seal.
#pragma once

#include <string>
#include <vector>

#include "paper/diagrams.hpp"
#include "paper/qr.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {

struct Label {
  std::string circuit;               // large
  std::string what;                  // "End seal"
  std::string where;                 // "at M3 · Ground floor · ceiling void"
  std::vector<std::string> details;  // where it is fed from, what it is
  std::string caution_text;
  std::string code;  // what its QR code says
};

/// The door's first, then connection, tees and ends in the order of the circuit.
std::vector<Label> circuit_labels(const Pack& pack, const power::Circuit& circuit);

inline constexpr DrawingSize label_size{88, 25};
/// With the dashes to cut along; top left corner at `at`. A code that does not fit a symbol is said in words.
void draw_label(Ink& ink, Point at, const Label& label);

}  // namespace firstdraw::paper
