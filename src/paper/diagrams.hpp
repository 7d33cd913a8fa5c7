// Drawings of the installation sheets: wiring with generic terminal names, and where cable and sensor sit on
// the pipe.
#pragma once

#include <string>
#include <vector>

#include "paper/ink.hpp"

namespace firstdraw::paper {

struct Wiring {
  std::string panel, group;
  std::vector<std::string> circuits;
  std::string phase_names[2];  // "L1" and "L2", or "L" and "N"
  std::string breaker;         // "2-pole, trips at 30 mA"
  bool sensor = true;          // otherwise the controller runs on the entered ambient
  bool contactor = false;      // otherwise the controller's own contacts switch the one circuit
};
struct DrawingSize {
  double width_mm = 0, height_mm = 0;
};

inline constexpr DrawingSize wiring_size{176, 88};
void draw_wiring(Ink& ink, const Wiring& wiring);

struct SensorSection {
  double angle_rad = 0;  // of the sensor from the cable, around the pipe
  int passes = 1;
};
inline constexpr DrawingSize section_size{176, 66};
/// Across the pipe, and along it.
void draw_section(Ink& ink, const SensorSection& section);

}  // namespace firstdraw::paper
