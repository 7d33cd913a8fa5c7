#include "paper/one_line_symbols.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <string_view>

#include "paper/fit_label.hpp"

namespace firstdraw::paper {
namespace {

Pen symbol_pen() { return {colours::text, 0.35, {}}; }

// Along the line and beside it, whichever way the line runs: left of it is up, or to the right when it goes
// down.
struct Frame2 {
  Point origin;
  Run run{};
  Point at(double along_mm, double beside_mm) const {
    return run == Run::across ? Point{origin.x_mm + along_mm, origin.y_mm - beside_mm}
                              : Point{origin.x_mm + beside_mm, origin.y_mm + along_mm};
  }
};

void cross(Ink& ink, Point at, double half_mm) {
  ink.line({at.x_mm - half_mm, at.y_mm - half_mm}, {at.x_mm + half_mm, at.y_mm + half_mm}, symbol_pen());
  ink.line({at.x_mm - half_mm, at.y_mm + half_mm}, {at.x_mm + half_mm, at.y_mm - half_mm}, symbol_pen());
}

void arched_breaker(Ink& ink, const Frame2& frame) {
  constexpr int steps = 24;
  constexpr double open_mm = 0.5, rise_mm = 2.0, lift_mm = 0.5;
  std::array<Point, steps + 1> arc;
  for (int step = 0; step <= steps; ++step) {
    const double angle = std::numbers::pi * step / steps;
    arc.at(static_cast<std::size_t>(step)) =
        frame.at(switch_gap_mm / 2 * (1 - std::cos(angle)), lift_mm + rise_mm * std::sin(angle));
  }
  ink.line(arc, symbol_pen());
  ink.circle(frame.at(open_mm, 0), open_mm, colours::white, symbol_pen());
  ink.circle(frame.at(switch_gap_mm - open_mm, 0), open_mm, colours::white, symbol_pen());
}

void blade(Ink& ink, const Frame2& frame) {
  ink.line(frame.at(switch_gap_mm, 0), frame.at(0.6, 2.2), symbol_pen());
}

}  // namespace

void breaker_symbol(Ink& ink, Point at, Run run, SymbolSet set) {
  const Frame2 frame{at, run};
  if (set == SymbolSet::us) return arched_breaker(ink, frame);
  blade(ink, frame);
  cross(ink, frame.at(0, 0), 0.8);
}

void contact_symbol(Ink& ink, Point at, SymbolSet set) {
  const Frame2 frame{at, Run::across};
  if (set == SymbolSet::intl) {
    constexpr int steps = 12;
    constexpr double radius_mm = 0.8;
    std::array<Point, steps + 1> half;
    for (int step = 0; step <= steps; ++step) {
      const double angle = std::numbers::pi * step / steps;
      half.at(static_cast<std::size_t>(step)) =
          frame.at(radius_mm * (std::cos(angle) - 1), radius_mm * std::sin(angle));
    }
    blade(ink, frame);
    return ink.line(half, symbol_pen());
  }
  constexpr double plate_mm = 1.7, apart_mm = 0.8;
  for (const double along_mm : {switch_gap_mm / 2 - apart_mm, switch_gap_mm / 2 + apart_mm})
    ink.line(frame.at(along_mm, -plate_mm), frame.at(along_mm, plate_mm), symbol_pen());
  ink.line(frame.at(0, 0), frame.at(switch_gap_mm / 2 - apart_mm, 0), symbol_pen());
  ink.line(frame.at(switch_gap_mm / 2 + apart_mm, 0), frame.at(switch_gap_mm, 0), symbol_pen());
}

void ground_fault_symbol(Ink& ink, Point centre) {
  constexpr int steps = 32;
  std::array<Point, steps> ring;
  for (int step = 0; step < steps; ++step) {
    const double angle = 2 * std::numbers::pi * step / steps;
    ring.at(static_cast<std::size_t>(step)) = {centre.x_mm + 0.8 * std::cos(angle),
                                               centre.y_mm + 1.7 * std::sin(angle)};
  }
  ink.area(ring, std::nullopt, symbol_pen());
}

void heating_symbol(Ink& ink, Point left) {
  constexpr int cells = 4;
  constexpr double half_mm = 1.4;
  ink.rectangle({left.x_mm, left.y_mm - half_mm}, heating_mm, 2 * half_mm, colours::white, symbol_pen());
  for (int cell = 1; cell < cells; ++cell) {
    const double x_mm = left.x_mm + heating_mm * cell / cells;
    ink.line({x_mm, left.y_mm - half_mm}, {x_mm, left.y_mm + half_mm}, symbol_pen());
  }
}

void earth_symbol(Ink& ink, Point top) {
  constexpr double stem_mm = 1.2, step_mm = 0.65;
  ink.line(top, {top.x_mm, top.y_mm + stem_mm}, symbol_pen());
  double y_mm = top.y_mm + stem_mm;
  for (const double half_mm : {1.5, 0.95, 0.4}) {
    ink.line({top.x_mm - half_mm, y_mm}, {top.x_mm + half_mm, y_mm}, symbol_pen());
    y_mm += step_mm;
  }
}

void end_seal_symbol(Ink& ink, Point at) {
  ink.rectangle({at.x_mm, at.y_mm - 1.4}, 1, 2.8, colours::text, std::nullopt);
}

void connection_symbol(Ink& ink, Point centre) {
  ink.rectangle({centre.x_mm - 1.7, centre.y_mm - 1.7}, 3.4, 3.4, colours::white, symbol_pen());
  ink.circle(centre, 0.5, colours::text, std::nullopt);
}

void sensor_symbol(Ink& ink, Point centre) {
  ink.circle(centre, 1.7, colours::white, symbol_pen());
  ink.label({centre.x_mm, centre.y_mm + 0.8}, "T", {6.5, 600, false, colours::text, Anchor::middle});
}

double one_line_legend(Ink& ink, Point at, double width_mm, SymbolSet set) {
  constexpr std::array<std::string_view, 8> words{"circuit breaker",
                                                  "measures current to earth, trips",
                                                  "contactor or controller contact",
                                                  "power connection",
                                                  "heating cable",
                                                  "end seals",
                                                  "earth: conductor and braid",
                                                  "sensor; dashed: control"};
  constexpr int columns = 4;
  constexpr double line_mm = 5.2, symbol_room_mm = 15.5;
  const double column_mm = width_mm / columns;
  for (std::size_t each = 0; each < words.size(); ++each) {
    const std::size_t row = each / columns, column = each % columns;
    const Point corner{at.x_mm + static_cast<double>(column) * column_mm,
                       at.y_mm + 3 + line_mm * static_cast<double>(row)};
    const Point middle{corner.x_mm + 10, corner.y_mm};
    if (each == 0) breaker_symbol(ink, {corner.x_mm + 7, corner.y_mm}, Run::across, set);
    if (each == 1) ground_fault_symbol(ink, middle);
    if (each == 2) contact_symbol(ink, {corner.x_mm + 7, corner.y_mm}, set);
    if (each == 3) connection_symbol(ink, middle);
    if (each == 4) heating_symbol(ink, {corner.x_mm + 1, corner.y_mm});
    if (each == 5) end_seal_symbol(ink, middle);
    if (each == 6) earth_symbol(ink, {middle.x_mm, middle.y_mm - 1.2});
    if (each == 7) sensor_symbol(ink, middle);
    fit_label(ink, {corner.x_mm + symbol_room_mm, corner.y_mm + 0.9}, words.at(each),
              {6.5, 400, false, colours::quiet}, column_mm - symbol_room_mm - 1);
  }
  return 3 + 2 * line_mm;
}

}  // namespace firstdraw::paper
