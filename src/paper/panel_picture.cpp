#include "paper/panel_picture.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "paper/fit_label.hpp"
#include "paper/install.hpp"
#include "power/panel_places.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr double head_mm = 8, row_mm = panel_row_mm, bus_mm = 9, place_mm = 6.5, rating_mm = 19.5,
                 line_mm = 9.8;

int row_of(int place) { return (place - 1) / 2; }
bool on_left(int place) { return place % 2 == 1; }

Pen thin() { return {colours::quiet, 0.15, {}}; }
TextStyle small_label(Anchor anchor) { return {6.5, 400, false, colours::text, anchor}; }
TextStyle strong_label() { return {7, 500, false, colours::text, Anchor::middle}; }
TextStyle caption(Anchor anchor) { return {6.5, 600, false, colours::accent, anchor}; }
TextStyle quiet(Anchor anchor) { return {6.5, 400, true, colours::quiet, anchor}; }

// One side of the panel. Columns count from the middle outwards, so that both sides are alike.
class Side {
 public:
  Side(bool left, double width_mm, int lines)
      : left_(left), inner_mm_(width_mm / 2 - bus_mm / 2), middle_mm_(width_mm / 2), lines_(lines) {}

  // From `from_mm` to `to_mm` outwards of the bus.
  Frame span(double from_mm, double to_mm, double top_mm, double bottom_mm) const {
    const double edge = bus_mm / 2;
    return left_ ? Frame{middle_mm_ - edge - to_mm, top_mm, middle_mm_ - edge - from_mm, bottom_mm}
                 : Frame{middle_mm_ + edge + from_mm, top_mm, middle_mm_ + edge + to_mm, bottom_mm};
  }
  Frame place(double top, double bottom) const { return span(0, place_mm, top, bottom); }
  Frame rating(double top, double bottom) const { return span(place_mm, place_mm + rating_mm, top, bottom); }
  Frame serves(double top, double bottom) const {
    return span(place_mm + rating_mm, inner_mm_ - lines_ * line_mm, top, bottom);
  }
  Frame load(int line, double top, double bottom) const {
    const int outwards = left_ ? line + 1 : lines_ - line;  // L1 first, as one reads
    const double begin = inner_mm_ - outwards * line_mm;
    return span(begin, begin + line_mm, top, bottom);
  }
  Frame whole(double top, double bottom) const { return span(0, inner_mm_, top, bottom); }

 private:
  bool left_;
  double inner_mm_, middle_mm_;
  int lines_;
};

void box(Ink& ink, const Frame& frame, const std::optional<Pen>& pen, std::optional<Colour> fill = {}) {
  ink.rectangle({frame.left_mm, frame.top_mm}, frame.width_mm(), frame.height_mm(), fill, pen);
}

void centred(Ink& ink, const Frame& frame, std::string_view text, const TextStyle& style) {
  const double y_mm = 0.5 * (frame.top_mm + frame.bottom_mm) + 0.14 * style.size_pt;
  fit_label(ink, {0.5 * (frame.left_mm + frame.right_mm), y_mm}, text, style, frame.width_mm() - 1);
}

class Drawer {
 public:
  Drawer(Ink& ink, const PanelFace& face, PanelRows rows, double width_mm)
      : ink_(ink), face_(face), rows_(rows), width_mm_(width_mm) {}

  void draw() {
    ink_.begin("panel", "Panel " + face_.panel);
    for (const bool left : {true, false}) head(Side(left, width_mm_, face_.lines));
    centred(ink_, {width_mm_ / 2 - bus_mm / 2, 0, width_mm_ / 2 + bus_mm / 2, head_mm}, "Line",
            caption(Anchor::middle));
    for (int place = 1 + 2 * rows_.first; place <= 2 * (rows_.first + rows_.count); ++place) position(place);
    for (const PanelEntry& each : face_.entries) entry(each);
    ink_.line({0, head_mm}, {width_mm_, head_mm}, {colours::accent, 0.35, {}});
    ink_.rectangle({0, head_mm}, width_mm_, rows_.count * row_mm, std::nullopt, Pen{colours::text, 0.4, {}});
    ink_.end();
  }

 private:
  double top_of(int row) const { return head_mm + (row - rows_.first) * row_mm; }
  bool shown(int place) const {
    return row_of(place) >= rows_.first && row_of(place) < rows_.first + rows_.count;
  }
  Side side_of(int place) const { return {on_left(place), width_mm_, face_.lines}; }

  void head(const Side& side) {
    centred(ink_, side.place(0, head_mm), "Pos.", caption(Anchor::middle));
    centred(ink_, side.rating(0, head_mm), "Breaker", caption(Anchor::middle));
    centred(ink_, side.serves(0, head_mm), "Circuit and what it serves", caption(Anchor::middle));
    for (int line = 0; line < face_.lines; ++line)
      centred(ink_, side.load(line, 0, head_mm), fmt::format("L{} VA", line + 1), caption(Anchor::middle));
  }

  void position(int place) {
    const double top = top_of(row_of(place)), bottom = top + row_mm;
    const Side side = side_of(place);
    box(ink_, side.whole(top, bottom), thin());
    centred(ink_, side.place(top, bottom), fmt::format("{}", place),
            {7.2, 600, false, colours::text, Anchor::middle});
    for (int line = 0; line < face_.lines; ++line) box(ink_, side.load(line, top, bottom), thin());
    if (on_left(place)) {
      const Frame middle{width_mm_ / 2 - bus_mm / 2, top, width_mm_ / 2 + bus_mm / 2, bottom};
      centred(ink_, middle, fmt::format("L{}", face_.line_of[at(place - 1)] + 1), caption(Anchor::middle));
    }
    if (used(place)) return;
    const bool known = face_.free_positions > 0;
    centred(ink_, side.serves(top, bottom),
            known && place <= face_.free_positions ? "free" : "not ours: not known", quiet(Anchor::middle));
  }

  bool used(int place) const {
    return std::ranges::any_of(face_.entries, [&](const PanelEntry& each) {
      return std::ranges::find(each.places, place) != each.places.end();
    });
  }

  void entry(const PanelEntry& entry) {
    const auto [low, high] = std::ranges::minmax(entry.places);
    const int first = std::max(row_of(low), rows_.first);
    const int last = std::min(row_of(high), rows_.first + rows_.count - 1);
    if (first > last) return;
    const Side side = side_of(low);
    const double top = top_of(first), bottom = top_of(last) + row_mm;
    const Pen bold{colours::text, 0.4, {}};
    ink_.begin("panel-" + entry.id, "Circuit " + entry.id);
    box(ink_, side.serves(top, bottom), bold, colours::zebra);
    box(ink_, side.rating(top, bottom), bold, colours::zebra);
    rating(side.rating(top, bottom), entry);
    name(side.serves(top, bottom), entry);
    for (const int place : entry.places)
      if (shown(place)) load(place, entry);
    ink_.end();
  }

  void rating(const Frame& frame, const PanelEntry& entry) {
    const double middle = 0.5 * (frame.top_mm + frame.bottom_mm);
    const bool tall = frame.height_mm() > 1.5 * row_mm;
    centred(ink_, tall ? Frame{frame.left_mm, frame.top_mm, frame.right_mm, middle} : frame,
            tall ? entry.rating : entry.rating + " · " + entry.trip, strong_label());
    if (tall)
      centred(ink_, {frame.left_mm, middle, frame.right_mm, frame.bottom_mm}, entry.trip,
              small_label(Anchor::middle));
  }

  // A tall box has the id above what it serves, a low one beside it.
  void name(const Frame& frame, const PanelEntry& entry) {
    const TextStyle id{7.6, 600, false, colours::text, Anchor::start};
    const double left = frame.left_mm + 1, room = frame.width_mm() - 2.4;
    if (frame.height_mm() > 1.5 * row_mm) {
      fit_label(ink_, {left, frame.top_mm + 4.3}, entry.id, id, room);
      fit_label(ink_, {left, frame.top_mm + 8.6}, entry.serves, small_label(Anchor::start), room);
      return;
    }
    const double id_mm = std::min(0.6 * room, ink_.label_width_mm(entry.id, id));
    const double y_mm = frame.top_mm + 3.9;
    fit_label(ink_, {left, y_mm}, entry.id, id, id_mm + 0.1);
    fit_label(ink_, {left + id_mm + 1.5, y_mm}, entry.serves, small_label(Anchor::start), room - id_mm - 1.5);
  }

  void load(int place, const PanelEntry& entry) {
    const double top = top_of(row_of(place));
    const Frame frame = side_of(place).load(face_.line_of[at(place - 1)], top, top + row_mm);
    fit_label(ink_, {frame.right_mm - 1, top + 3.9}, count(entry.pole_va), small_label(Anchor::end),
              frame.width_mm() - 1.5);
  }

  Ink& ink_;
  const PanelFace& face_;
  PanelRows rows_;
  double width_mm_ = 0;
};

std::string serves_text(const job::Job& job, const plan::Plan& plan, const power::Circuit& circuit) {
  return fmt::format("{}, at {}", circuit.group < 0 ? "no group" : job.groups[at(circuit.group)].id,
                     node_name(plan, circuit.feed_node));
}

std::string rating_text(const power::Circuit& circuit) {
  return circuit.poles > 1 ? breaker_text(circuit) : count(circuit.breaker_a) + " A";
}

std::string trip_text(const power::Circuit& circuit) {
  return circuit.ground_fault ? count(circuit.ground_fault_trip_a * 1000) + " mA" : "NO GFP";
}

void enter(const job::Job& job, const plan::Plan& plan, const power::Circuit& circuit, PanelFace& face) {
  if (circuit.places.empty()) return face.unplaced.push_back(circuit.id);
  const double poles = static_cast<double>(circuit.places.size());
  const double pole_va = circuit.settled_a * job.panels[at(circuit.panel)].voltage_v / poles;
  face.entries.push_back({circuit.id, serves_text(job, plan, circuit), rating_text(circuit),
                          trip_text(circuit), circuit.places, pole_va});
  face.positions = std::max(face.positions, std::ranges::max(circuit.places));
}

}  // namespace

PanelFace panel_face(const job::Job& job, const plan::Plan& plan, const power::PanelLoad& load) {
  const job::Panel& panel = job.panels[at(load.panel)];
  PanelFace face;
  face.panel = panel_name(job, load.panel);
  face.free_positions = panel.free_poles;
  face.positions = std::max(panel.free_poles, 2);
  for (const int each : load.circuits) enter(job, plan, plan.circuits[at(each)], face);
  face.positions += face.positions % 2;
  for (int place = 1; place <= face.positions; ++place) {
    face.line_of.push_back(power::phase_of_place(panel, place));
    face.lines = std::max(face.lines, face.line_of.back() + 1);
  }
  for (const PanelEntry& entry : face.entries)
    for (const int place : entry.places) face.line_va.at(at(face.line_of[at(place - 1)])) += entry.pole_va;
  return face;
}

int panel_rows(const PanelFace& face) { return face.positions / 2; }

double panel_face_height_mm(int rows) { return head_mm + rows * row_mm; }

void draw_panel_face(Ink& ink, const PanelFace& face, PanelRows rows, double width_mm) {
  Drawer(ink, face, rows, width_mm).draw();
}

}  // namespace firstdraw::paper
