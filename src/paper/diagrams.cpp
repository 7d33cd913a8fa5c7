#include "paper/diagrams.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace firstdraw::paper {
namespace {

constexpr TextStyle plain{7, 400};
constexpr TextStyle strong{7.5, 600, false, colours::accent};
constexpr TextStyle terminal_style{6.5, 600, false, colours::text, Anchor::middle};
const Pen box_pen{colours::text, 0.3, {}};
const Pen wire{colours::text, 0.3, {}};
const Pen earth_wire{{0.0, 0.45, 0.30}, 0.4, {2, 0.6}};
const Pen signal_wire{{0.0, 0.37, 0.60}, 0.25, {0.9, 0.6}};

TextStyle anchored(TextStyle style, Anchor anchor) {
  style.anchor = anchor;
  return style;
}

std::vector<Point> arc(Point centre, double radius_mm, double from_rad, double to_rad) {
  constexpr int steps = 48;
  std::vector<Point> points;
  for (int step = 0; step <= steps; ++step) {
    const double angle = from_rad + (to_rad - from_rad) * step / steps;
    points.push_back({centre.x_mm + radius_mm * std::cos(angle), centre.y_mm + radius_mm * std::sin(angle)});
  }
  return points;
}

// A terminal: box with its name, 9 x 4 mm, left middle at `at`.
void terminal(Ink& ink, Point at, const std::string& name) {
  ink.rectangle({at.x_mm, at.y_mm - 2}, 9, 4, colours::white, box_pen);
  ink.label({at.x_mm + 4.5, at.y_mm + 0.9}, name, terminal_style);
}

struct Terminals {
  double x_mm = 0, y_mm = 0;
  std::string title;
  std::vector<std::string> names;
};

void terminals(Ink& ink, const Terminals& block) {
  ink.label({block.x_mm + 4.5, block.y_mm - 2.9}, block.title, anchored(strong, Anchor::middle));
  for (std::size_t each = 0; each < block.names.size(); ++each)
    terminal(ink, {block.x_mm, block.y_mm + 5 * static_cast<double>(each)}, block.names[each]);
}

void wires(Ink& ink, double from_mm, double to_mm, double y_mm, int count, bool last_is_earth,
           const Pen& pen) {
  for (int each = 0; each < count; ++each)
    ink.line({from_mm, y_mm + 5 * each}, {to_mm, y_mm + 5 * each},
             last_is_earth && each == count - 1 ? earth_wire : pen);
}

void panel(Ink& ink, const Wiring& wiring, bool contactor) {
  const double y = 30;
  ink.rectangle({0, 12}, 38, 34, std::nullopt, box_pen);
  ink.label({0, 10}, fitted(ink, "Panel " + wiring.panel, strong, 33), strong);
  ink.rectangle({6, y - 5}, 26, 17, std::nullopt, Pen{colours::text, 0.25, {1.2, 0.8}});
  const TextStyle centred = anchored(plain, Anchor::middle);
  ink.label({19, y - 1.2}, contactor ? "control circuit" : "circuit breaker", centred);
  ink.label({19, y + 3}, "with ground-fault", centred);
  ink.label({19, y + 7.2}, contactor ? "protection" : fitted(ink, wiring.breaker, plain, 25), centred);
  if (!contactor) return;
  ink.rectangle({30, 15}, 6, 6, colours::white, Pen{colours::text, 0.25, {1.2, 0.8}});
  ink.label({28.5, 19}, "circuit breakers", anchored(plain, Anchor::end));
}

void controller(Ink& ink, const Wiring& wiring) {
  ink.rectangle({64, 12}, 50, 66, std::nullopt, Pen{colours::text, 0.45, {}});
  ink.label({89, 10}, fitted(ink, "Controller, group " + wiring.group, strong, 56),
            anchored(strong, Anchor::middle));
  terminals(ink, {66, 30, "LINE", {wiring.phase_names[0], wiring.phase_names[1], "PE"}});
  terminals(ink, {66, 52, "ALARM", {"COM", "NO"}});
  terminals(ink, {66, 68, "BMS", {"A / B"}});
  terminals(ink, {103, 30, "LOAD", {wiring.phase_names[0] + "′", wiring.phase_names[1] + "′", "PE"}});
  terminals(ink, {103, 56, "SENSOR", {"S1", "S2", "SH"}});
}

void supply_and_signals(Ink& ink, const Wiring& wiring) {
  wires(ink, 32, 66, 30, 3, true, wire);
  wires(ink, 44, 66, 52, 2, false, signal_wire);
  ink.label({43, 52.9}, "to alarm", anchored(plain, Anchor::end));
  ink.label({43, 57.9}, "input, dry", anchored(plain, Anchor::end));
  ink.line({44, 68}, {66, 68}, signal_wire);
  ink.label({43, 68.9}, "to building", anchored(plain, Anchor::end));
  ink.label({43, 72.4}, "management", anchored(plain, Anchor::end));
  if (!wiring.sensor) {
    ink.label({115, 62}, "no sensor: the controller runs on the", plain);
    ink.label({115, 65.5}, "entered ambient; no alarm, no cut-out", plain);
    return;
  }
  wires(ink, 112, 140, 56, 2, false, signal_wire);
  ink.line({112, 66}, {137, 66}, signal_wire);  // the shield ends before the sensor
  ink.rectangle({140, 54}, 7, 14, colours::white, box_pen);
  ink.label({149, 58.5}, "pipe sensor, shielded", plain);
  ink.label({149, 62}, "pair; shield cut back", plain);
  ink.label({149, 65.5}, "here, earthed at SH", plain);
}

// Connection box, heating cable, end seal; wires arrive at x = from_mm.
void heating_circuit(Ink& ink, const Wiring& wiring, double from_mm, double y_mm) {
  wires(ink, from_mm, 150, y_mm, 3, true, wire);
  ink.rectangle({146, y_mm - 4}, 9, 18, colours::white, box_pen);
  for (int each = 0; each < 2; ++each)
    ink.line({155, y_mm + 5 * each}, {170, y_mm + 5 * each}, {colours::text, 0.55, {}});
  ink.line({155, y_mm + 10}, {170, y_mm + 10}, earth_wire);
  ink.rectangle({170, y_mm - 2.5}, 3, 14, std::optional(colours::band), box_pen);
  ink.label({145.5, y_mm - 5.6}, "power connection", plain);
  ink.label({176, y_mm + 17.2}, "end seal: bus wires", anchored(plain, Anchor::end));
  ink.label({176, y_mm + 20.7}, "apart, never joined", anchored(plain, Anchor::end));
  const std::string ids =
      wiring.circuits.empty()
          ? ""
          : wiring.circuits.front() +
                (wiring.circuits.size() > 1 ? fmt::format(" … {}", wiring.circuits.back()) : "");
  ink.label({145, y_mm + 20}, fitted(ink, ids, strong, 30), anchored(strong, Anchor::end));
}

void contactor(Ink& ink, const Wiring& wiring) {
  wires(ink, 112, 122, 30, 2, false, wire);
  ink.rectangle({122, 25}, 13, 20, colours::white, box_pen);
  ink.label({128.5, 31}, "A1", terminal_style);
  ink.label({128.5, 36}, "A2", terminal_style);
  ink.label({128.5, 42}, "coil", anchored(plain, Anchor::middle));
  ink.line({128.5, 25}, {128.5, 6}, {colours::quiet, 0.2, {0.8, 0.8}});
  ink.rectangle({122, 1}, 13, 6, colours::white, box_pen);
  ink.label({128.5, 5}, "contactor", anchored(plain, Anchor::middle));
  const Point feed[] = {{33, 15}, {33, 4}, {122, 4}};
  ink.line(feed, {colours::text, 0.7, {}});
  ink.label({42, 3},
            fmt::format("circuits: {}, each on its own breaker ({}), {}, {}, PE", wiring.circuits.size(),
                        fitted(ink, wiring.breaker, plain, 40), wiring.phase_names[0], wiring.phase_names[1]),
            plain);
  const Point load[] = {{135, 4}, {141, 4}, {141, 35}, {146, 35}};
  ink.line(load, {colours::text, 0.7, {}});
}

void section_across(Ink& ink, const SensorSection& section) {
  const Point centre{30, 32};
  const double pipe_mm = 12, down = std::numbers::pi / 2;
  ink.circle(centre, 27, std::optional(colours::zebra), Pen{colours::text, 0.45, {}});
  ink.circle({centre.x_mm, centre.y_mm + 1.2}, 16, colours::white, Pen{colours::quiet, 0.2, {0.8, 0.6}});
  ink.circle(centre, pipe_mm, Colour{0.80, 0.82, 0.84}, box_pen);
  ink.circle(centre, pipe_mm - 1.6, colours::white, box_pen);
  ink.label({centre.x_mm, centre.y_mm + 0.9}, "water", anchored(plain, Anchor::middle));
  for (int pass = 0; pass < section.passes; ++pass) {
    const double angle = down + (pass - 0.5 * (section.passes - 1)) * 0.75;
    const Point at{centre.x_mm + (pipe_mm + 1.5) * std::cos(angle),
                   centre.y_mm + (pipe_mm + 1.5) * std::sin(angle)};
    ink.rectangle({at.x_mm - 3.2, at.y_mm - 1.2}, 6.4, 2.4, Colour{0.25, 0.27, 0.30}, std::nullopt);
    ink.line(arc(centre, pipe_mm + 3.1, angle - 0.55, angle + 0.55), {colours::quiet, 0.55, {}});
  }
  const double sensor = down - section.angle_rad;
  const Point bulb{centre.x_mm + (pipe_mm + 1.3) * std::cos(sensor),
                   centre.y_mm + (pipe_mm + 1.3) * std::sin(sensor)};
  ink.circle(bulb, 1.3, colours::white, Pen{colours::text, 0.4, {}});
  ink.line(arc(centre, pipe_mm + 2.9, sensor - 0.4, sensor + 0.4), {colours::quiet, 0.55, {}});
}

void leader(Ink& ink, Point from, Point to, const std::string& text) {
  ink.line(from, to, {colours::quiet, 0.15, {}});
  ink.circle(from, 0.4, colours::quiet, std::nullopt);
  ink.label({to.x_mm + 1, to.y_mm + 0.9}, text, plain);
}

void section_labels(Ink& ink, const SensorSection& section) {
  const double degrees = section.angle_rad * 180 / std::numbers::pi;
  const Point centre{30, 32};
  const double sensor = std::numbers::pi / 2 - section.angle_rad;
  const Point bulb{centre.x_mm + 13.3 * std::cos(sensor), centre.y_mm + 13.3 * std::sin(sensor)};
  leader(ink, bulb, {62, 8}, fmt::format("sensor, {:.0f}° from the cable", degrees));
  leader(ink, {42, 14}, {62, 15}, "insulation over cable and sensor");
  leader(ink, {41.4, 32}, {62, 28}, "pipe wall");
  leader(ink, {44.5, 36}, {62, 36}, "bore that clears the cable");
  leader(ink, {37, 45.5}, {62, 44}, "aluminium tape over its length");
  leader(ink, {32, 45.4}, {62, 51}, "heating cable, flat on the pipe");
  leader(ink, {47, 53}, {62, 58}, "jacket with caution labels");
}

// The pipe from the side: cable below, sensor above, both under tape and insulation.
void section_along(Ink& ink) {
  const double left = 112, right = 176, top = 24, bottom = 40;
  ink.rectangle({left, top - 9}, right - left, bottom - top + 18, std::optional(colours::zebra),
                Pen{colours::text, 0.4, {}});
  ink.rectangle({left - 2, top}, right - left + 4, bottom - top, colours::white, box_pen);
  ink.rectangle({left - 2, bottom}, right - left + 4, 2, Colour{0.25, 0.27, 0.30}, std::nullopt);
  for (double x = left + 6; x < right - 4; x += 14)
    ink.rectangle({x, bottom - 1}, 3, 4, std::optional(colours::band), Pen{colours::quiet, 0.2, {}});
  ink.rectangle({134, top - 2.6}, 14, 2.6, colours::white, Pen{colours::text, 0.4, {}});
  ink.rectangle({131.5, top - 3.2}, 19, 3.2, std::nullopt, Pen{colours::quiet, 0.4, {1, 0.6}});
  const Point lead[] = {{148, top - 1.3}, {166, top - 1.3}, {166, top - 15}};
  ink.line(lead, signal_wire);
  ink.label({164.5, top - 12}, "sensor lead out through a seal", anchored(plain, Anchor::end));
  ink.label({141, top + 3.8}, "sensor under tape, lengthwise", anchored(plain, Anchor::middle));
  ink.label({144, bottom - 3}, "cable below, fixed every 0.3 m (1 ft)", anchored(plain, Anchor::middle));
  ink.label({144, bottom + 14}, "along the pipe", anchored(strong, Anchor::middle));
  ink.label({30, 64.5}, "across the pipe", anchored(strong, Anchor::middle));
}

}  // namespace

void draw_wiring(Ink& ink, const Wiring& wiring) {
  ink.begin("wiring", "Wiring of group " + wiring.group);
  panel(ink, wiring, wiring.contactor);
  controller(ink, wiring);
  supply_and_signals(ink, wiring);
  if (wiring.contactor) contactor(ink, wiring);
  heating_circuit(ink, wiring, wiring.contactor ? 141 : 112, 30);
  ink.label({0, 85},
            "Terminal names are generic: the controller maker's instructions rule. Mains and signal wires in "
            "separate conduits, "
            "entering from below or from the side.",
            plain);
  ink.end();
}

void draw_section(Ink& ink, const SensorSection& section) {
  ink.begin("section", "Cable and sensor on the pipe");
  section_across(ink, section);
  section_labels(ink, section);
  section_along(ink);
  ink.end();
}

}  // namespace firstdraw::paper
