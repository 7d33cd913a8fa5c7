#include "paper/one_line.hpp"

#include <algorithm>

#include "paper/fit_label.hpp"

namespace firstdraw::paper {
namespace {

// Where things stand across the sheet, mm from its left edge.
constexpr double bus_x = 5, breaker_x = 9, breaker_text_x = 17, ring_x = 60, frame_right_x = 66;
constexpr double contact_x = 71, wires_x = 81, box_x = 142, node_x = 137, heater_x = 166, seal_x = 184;
constexpr double cable_text_x = 188, controller_right_x = 122, sensor_x = 134, contactor_text_x = 188;
constexpr double supply_mm = 27, continued_mm = 7, row_mm = 11.4, controller_mm = 10.5, tail_mm = 5;

Pen wire() { return {colours::text, 0.3, {}}; }
Pen control() { return {colours::text, 0.25, {1.0, 0.7}}; }
TextStyle plain() { return {6.8, 400}; }
TextStyle strong() { return {7.6, 600}; }
TextStyle warning() { return {6.8, 600, false, colours::warning}; }

double height_of(const OneLineRow& row) { return row.circuit < 0 ? controller_mm : row_mm; }

void wire_to(Ink& ink, double from_x, double to_x, double y) { ink.line({from_x, y}, {to_x, y}, wire()); }

class Drawer {
 public:
  Drawer(Ink& ink, const OneLinePanel& panel, const OneLineSheet& sheet, double width_mm)
      : ink_(ink), panel_(panel), sheet_(sheet), width_mm_(width_mm) {}

  void draw() {
    ink_.begin("one-line", "One-line diagram of panel " + panel_.panel);
    const double top = sheet_.first ? supply_mm : continued_mm;
    const double end = frame(top);
    sheet_.first ? supply() : continued();
    bus(top, end);
    control_lines(top);
    double y = top;
    for (const OneLineRow& row : sheet_.rows) {
      row.circuit < 0 ? controller(y, group_of(row)) : circuit(y, row);
      y += height_of(row);
    }
    ink_.end();
  }

 private:
  const OneLineGroup& group_of(const OneLineRow& row) const { return panel_.groups[piping::at(row.group)]; }

  double frame(double top) {
    double end = top;
    for (const OneLineRow& row : sheet_.rows) end += height_of(row);
    const double begin = sheet_.first ? 9.0 : 1.0;
    ink_.rectangle({0, begin}, frame_right_x, end - begin + 1, std::nullopt,
                   Pen{colours::quiet, 0.2, {2, 1}});
    fit_label(ink_, {9, begin + 4}, "Panel " + panel_.id, strong(), frame_right_x - 11);
    return end;
  }

  void supply() {
    ink_.line({bus_x, 0.5}, {bus_x, 15}, wire());
    const Point arrow[] = {{bus_x, 3.5}, {bus_x - 1, 1}, {bus_x + 1, 1}};
    ink_.area(arrow, colours::text, std::nullopt);
    fit_label(ink_, {9, 5.5}, panel_.source, plain(), width_mm_ - 10);
    breaker_symbol(ink_, {bus_x, 15}, Run::down, panel_.symbols);
    fit_label(ink_, {10, 19}, panel_.main, plain(), frame_right_x - 12);
    double y = 12.5;
    for (const std::string& fact : panel_.facts) {
      fit_label(ink_, {contact_x, y}, fact, plain(), width_mm_ - contact_x - 1);
      y += 3.9;
    }
  }

  void continued() {
    fit_label(ink_, {contact_x, 4.5}, "The bus continues from the sheet before.", plain(),
              width_mm_ - contact_x - 1);
  }

  void bus(double top, double end) {
    const double from = sheet_.first ? 15 + switch_gap_mm : 1.0;
    ink_.line({bus_x, from}, {bus_x, top}, wire());
    ink_.line({bus_x, top - 3}, {bus_x, sheet_.last ? end - 2 : end + 1}, {colours::text, 0.9, {}});
    if (!sheet_.last)
      ink_.label({9, end + 4}, "the bus continues on the next sheet", {6.5, 400, true, colours::quiet});
  }

  // From each controller down to the last contact of its group on this sheet.
  void control_lines(double top) {
    double y = top, from = 0;
    for (std::size_t each = 0; each < sheet_.rows.size(); ++each) {
      const OneLineRow& row = sheet_.rows[each];
      if (row.circuit < 0) from = y + 8;
      const bool ends = each + 1 == sheet_.rows.size() || sheet_.rows[each + 1].circuit < 0;
      if (ends && row.circuit >= 0 && !group_of(row).controller.empty()) {
        const double x = contact_x + switch_gap_mm / 2;
        ink_.line({x, from}, {x, y + row_mm / 2}, control());
      }
      y += height_of(row);
    }
  }

  void controller(double y, const OneLineGroup& group) {
    const double middle = y + 5;
    ink_.rectangle({contact_x - 2, y + 2}, controller_right_x - contact_x + 2, 6, colours::zebra,
                   Pen{colours::text, 0.3, {}});
    fit_label(ink_, {contact_x, middle + 1}, group.controller, strong(), controller_right_x - contact_x - 1);
    fit_label(ink_, {contactor_text_x, middle + 1}, group.contactor, plain(), width_mm_ - contactor_text_x);
    if (!group.has_sensor) {
      fit_label(ink_, {controller_right_x + 2, middle + 1}, group.sensor, plain(),
                contactor_text_x - controller_right_x - 4);
      return;
    }
    ink_.line({controller_right_x, middle}, {sensor_x - 1.7, middle}, control());
    sensor_symbol(ink_, {sensor_x, middle});
    fit_label(ink_, {sensor_x + 3, middle + 1}, group.sensor, plain(), contactor_text_x - sensor_x - 5);
  }

  void circuit(double top, const OneLineRow& row) {
    const OneLineGroup& group = group_of(row);
    const OneLineCircuit& circuit = group.circuits[piping::at(row.circuit)];
    const double y = top + row_mm / 2;
    ink_.begin("one-line-" + circuit.id, "Circuit " + circuit.id);
    protection(y, circuit);
    const bool switched = !group.controller.empty();
    wire_to(ink_, ring_x, switched ? contact_x : wires_x, y);
    if (switched) contact_symbol(ink_, {contact_x, y}, panel_.symbols);
    wiring(y, circuit, switched ? contact_x + switch_gap_mm : wires_x);
    cable(y, circuit);
    ink_.end();
  }

  void protection(double y, const OneLineCircuit& circuit) {
    ink_.circle({bus_x, y}, 0.7, colours::text, std::nullopt);
    wire_to(ink_, bus_x, breaker_x, y);
    breaker_symbol(ink_, {breaker_x, y}, Run::across, panel_.symbols);
    wire_to(ink_, breaker_x + switch_gap_mm, ring_x, y);
    const double id_mm = std::min(16.0, ink_.label_width_mm(circuit.id, strong()));
    fit_label(ink_, {breaker_text_x, y - 1.1}, circuit.id, strong(), id_mm + 0.1);
    const double room_mm = ring_x - 3 - breaker_text_x;
    fit_label(ink_, {breaker_text_x + id_mm + 2, y - 1.1}, circuit.breaker, plain(), room_mm - id_mm - 2);
    fit_label(ink_, {breaker_text_x, y + 3.4}, circuit.places, plain(), room_mm);
    if (circuit.trip.empty()) {
      fit_label(ink_, {frame_right_x + 1.5, y + 4.6}, "NO ground-fault protection", warning(), 40);
      return;
    }
    ground_fault_symbol(ink_, {ring_x, y});
    fit_label(ink_, {ring_x, y + 4.3}, circuit.trip, {6.5, 400, false, colours::text, Anchor::middle}, 11);
  }

  void wiring(double y, const OneLineCircuit& circuit, double from_x) {
    wire_to(ink_, from_x, box_x, y);
    const double room_mm = node_x - wires_x - 1;
    fit_label(ink_, {wires_x, y - 1.1}, circuit.wires, circuit.wires_fail ? warning() : plain(), room_mm);
    fit_label(ink_, {wires_x, y + 3.4}, circuit.way, plain(), room_mm);
  }

  void cable(double y, const OneLineCircuit& circuit) {
    const Pen thick{colours::text, 0.6, {}};
    ink_.line({box_x, y}, {heater_x, y}, thick);
    ink_.line({heater_x + heating_mm, y}, {seal_x, y}, thick);
    connection_symbol(ink_, {box_x, y});
    earth_symbol(ink_, {box_x, y + 1.7});
    fit_label(ink_, {node_x, y - 2.4}, circuit.node, plain(), heater_x - node_x - 1);
    heating_symbol(ink_, {heater_x, y});
    end_seal_symbol(ink_, {seal_x, y});
    fit_label(ink_, {cable_text_x, y - 1.1}, circuit.cable, plain(), width_mm_ - cable_text_x);
    fit_label(ink_, {cable_text_x, y + 3.4}, circuit.length, plain(), width_mm_ - cable_text_x);
  }

  Ink& ink_;
  const OneLinePanel& panel_;
  const OneLineSheet& sheet_;
  double width_mm_ = 0;
};

std::vector<OneLineSheet> filled_sheets(const OneLinePanel& panel, double height_mm) {
  std::vector<OneLineSheet> sheets{{{}, true, false}};
  double used_mm = supply_mm + tail_mm;
  for (int group = 0; group < std::ssize(panel.groups); ++group) {
    const OneLineGroup& each = panel.groups[piping::at(group)];
    const double head_mm = each.controller.empty() ? 0 : controller_mm;
    bool open = false;  // its controller stands on this sheet
    for (int circuit = 0; circuit < std::ssize(each.circuits); ++circuit) {
      const double needed_mm = row_mm + (open ? 0 : head_mm);
      if (height_mm > 0 && used_mm + needed_mm > height_mm && !sheets.back().rows.empty()) {
        sheets.emplace_back();
        used_mm = continued_mm + tail_mm;
        open = false;
      }
      if (!open && head_mm > 0) sheets.back().rows.push_back({group, -1});
      sheets.back().rows.push_back({group, circuit});
      used_mm += row_mm + (open ? 0 : head_mm);
      open = true;
    }
  }
  sheets.back().last = true;
  return sheets;
}

}  // namespace

std::vector<OneLineSheet> one_line_sheets(const OneLinePanel& panel, double height_mm) {
  constexpr double step_mm = 3;
  std::vector<OneLineSheet> sheets = filled_sheets(panel, height_mm);
  const std::size_t fewest = sheets.size();
  if (fewest == 1) return sheets;
  // Lower sheets as long as they stay as few and the last is the lowest: it is not left with a row or two.
  for (double lower_mm = height_mm - step_mm; lower_mm > supply_mm + controller_mm + row_mm + tail_mm;
       lower_mm -= step_mm) {
    std::vector<OneLineSheet> even = filled_sheets(panel, lower_mm);
    if (even.size() > fewest || one_line_height_mm(even.back()) > one_line_height_mm(even.front())) break;
    sheets = std::move(even);
  }
  return sheets;
}

double one_line_height_mm(const OneLineSheet& sheet) {
  double height_mm = (sheet.first ? supply_mm : continued_mm) + tail_mm;
  for (const OneLineRow& row : sheet.rows) height_mm += height_of(row);
  return height_mm;
}

void draw_one_line(Ink& ink, const OneLinePanel& panel, const OneLineSheet& sheet, double width_mm) {
  Drawer(ink, panel, sheet, width_mm).draw();
}

}  // namespace firstdraw::paper
