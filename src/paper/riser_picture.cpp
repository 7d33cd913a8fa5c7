#include "paper/riser_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ranges>
#include <set>

#include "paper/chart.hpp"
#include "paper/drawing_tree.hpp"
#include "paper/naming.hpp"

namespace firstdraw::paper {
namespace {

constexpr TextStyle run_style{riser_label_pt, 600, false, colours::text, Anchor::middle};
constexpr TextStyle size_style{riser_label_pt, 400, false, colours::text, Anchor::middle};
constexpr TextStyle flag_style{riser_label_pt, 600, false, colours::accent, Anchor::end};
constexpr TextStyle legend_style{riser_label_pt, 400};
constexpr double pad_above_lanes_mm = 10;
constexpr double shade_mm = 1.3;
constexpr double flag_mm = 6.5;  // circuit ids beside a power connection, one or two a line

const Pen untraced_pen{{0.45, 0.48, 0.50}, 0.35, {0.9, 0.9}};
const Pen thin_pen{colours::text, 0.22, {}};

bool inside(const Frame& window, Point point) {
  return point.x_mm >= window.left_mm && point.x_mm <= window.right_mm && point.y_mm >= window.top_mm &&
         point.y_mm <= window.bottom_mm;
}

struct Segment {
  Point from, to;
  bool upright() const { return std::abs(from.x_mm - to.x_mm) < 1e-9; }
  bool level() const { return std::abs(from.y_mm - to.y_mm) < 1e-9; }
  double length_mm() const { return std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm); }
};

bool touches(const Frame& window, const Segment& segment) {
  return std::max(segment.from.x_mm, segment.to.x_mm) >= window.left_mm &&
         std::min(segment.from.x_mm, segment.to.x_mm) <= window.right_mm &&
         std::max(segment.from.y_mm, segment.to.y_mm) >= window.top_mm &&
         std::min(segment.from.y_mm, segment.to.y_mm) <= window.bottom_mm;
}

// The part of an upright or level segment that lies in the window.
Segment clipped(const Frame& window, const Segment& segment) {
  const auto clamp = [&](Point point) {
    return Point{std::clamp(point.x_mm, window.left_mm, window.right_mm),
                 std::clamp(point.y_mm, window.top_mm, window.bottom_mm)};
  };
  return {clamp(segment.from), clamp(segment.to)};
}

auto segments_of(const DrawnRun& drawn) {
  return std::views::iota(std::size_t{1}, std::max<std::size_t>(drawn.line.size(), 1)) |
         std::views::transform(
             [&line = drawn.line](std::size_t each) { return Segment{line[each - 1], line[each]}; });
}

bool in(const Frame& window, const DrawnRun& drawn) {
  return std::ranges::any_of(segments_of(drawn), [&](const Segment& each) { return touches(window, each); });
}

// The longest level stretch of a run in the window; length 0 when there is none.
Segment longest_level(const Frame& window, const DrawnRun& drawn) {
  Segment longest;
  for (const Segment& segment : segments_of(drawn)) {
    if (!segment.level() || !touches(window, segment)) continue;
    if (const Segment part = clipped(window, segment); part.length_mm() > longest.length_mm()) longest = part;
  }
  return longest;
}

// One place for the whole run, whatever sheets it is cut into: near the downstream end, or half way up a
// riser.
Point sensor_place(const DrawnRun& drawn) {
  const Segment whole = longest_level({-1e9, -1e9, 1e9, 1e9}, drawn);
  if (whole.length_mm() >= 1)
    return {std::max(whole.from.x_mm, whole.to.x_mm - sensor_room_mm / 2), whole.from.y_mm};
  const Segment last{drawn.line[drawn.line.size() - 2], drawn.line.back()};
  return {last.from.x_mm, (last.from.y_mm + last.to.y_mm) / 2};
}

bool crosses(const Segment& upright, const Segment& other) {
  constexpr double clear_mm = 0.5;
  const auto [left, right] = std::minmax(other.from.x_mm, other.to.x_mm);
  const auto [high, low] = std::minmax(upright.from.y_mm, upright.to.y_mm);
  return other.level() && left + clear_mm < upright.from.x_mm && upright.from.x_mm < right - clear_mm &&
         high + clear_mm < other.from.y_mm && other.from.y_mm < low - clear_mm;
}

// Words on as few lines as fit.
std::vector<std::string> wrapped(Ink& ink, const std::string& text, const TextStyle& style, double width_mm) {
  std::vector<std::string> lines;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t stop = std::min(text.find_first_of(" \n", start), text.size());
    const std::string word = text.substr(start, stop - start);
    const std::string longer = lines.empty() ? word : lines.back() + " " + word;
    if (!lines.empty() && ink.label_width_mm(longer, style) <= width_mm)
      lines.back() = longer;
    else
      lines.push_back(word);
    start = stop + 1;
  }
  return lines;
}

bool starts_flat(const Pen& pen) { return pen.dash_mm.empty(); }

void sensor_mark(Ink& ink, Point at) {
  ink.circle(at, 1.7, colours::white, Pen{colours::text, 0.3, {}});
  ink.label({at.x_mm, at.y_mm + 0.85}, "S", {riser_label_pt, 600, false, colours::text, Anchor::middle});
}

}  // namespace

RiserPicture::RiserPicture(const job::Job& job, const plan::Plan& plan, const RiserDrawing& drawing)
    : job_(job), plan_(plan), drawing_(drawing) {
  const auto append = [](std::string& text, const std::string& more) {
    text += text.empty() ? more : " " + more;
  };
  for (const job::ControlGroup& group : job.groups)
    for (std::size_t run = 0; run < job.runs.size(); ++run)
      if (job.runs[run].id == group.sensor_run && !group.sensor_run.empty())
        append(sensors_[static_cast<int>(run)], group.id);
  for (const power::Circuit& circuit : plan.circuits)
    if (circuit.feed_node != piping::none) append(feeds_[circuit.feed_node], circuit.id);
  for (const DrawnRun& drawn : drawing.runs)
    if (std::abs(drawn.line.back().y_mm - drawn.line[drawn.line.size() - 2].y_mm) < 1e-9)
      reached_level_.insert(plan.network.to_node[static_cast<std::size_t>(drawn.run)]);
  for (const DrawnRun& drawn : drawing.runs)
    if (drawn.line[1].y_mm < drawn.line[0].y_mm - 1e-9)
      reached_level_.erase(plan.network.from_node[static_cast<std::size_t>(drawn.run)]);
}

RiserPicture::RiserPicture(const job::Job& job, const plan::Plan& plan, const RiserDrawing& drawing,
                           RunShades shades)
    : job_(job), plan_(plan), drawing_(drawing), shades_(std::move(shades)) {}

bool RiserPicture::shaded(int run) const {
  return shades_ && std::isfinite(shades_->values[static_cast<std::size_t>(run)]);
}

Pen RiserPicture::pen_of(int run) const {
  if (shaded(run))
    return {heat_colour(shades_->values[static_cast<std::size_t>(run)] / shades_->highest), shade_mm, {}};
  if (shades_) return untraced_pen;
  const int circuit = plan_.runs[static_cast<std::size_t>(run)].circuit;
  return circuit == piping::none ? untraced_pen : circuit_pen(circuit);
}

bool RiserPicture::run_in(const Frame& window, int run) const {
  const auto drawn = std::ranges::find(drawing_.runs, run, &DrawnRun::run);
  return drawn != drawing_.runs.end() && in(window, *drawn);
}

// Pale shades need an edge to be seen on white; round ends close the corners.
void RiserPicture::lines_of(Ink& ink, const std::vector<RunLine>& lines) const {
  const auto shade = [&](const RunLine& line, const Pen& pen) {
    ink.line(line.from, line.to, pen);
    for (const Point end : {line.from, line.to}) ink.circle(end, pen.width_mm / 2, pen.colour, std::nullopt);
  };
  for (const RunLine& line : lines)
    if (shaded(line.run)) shade(line, {colours::quiet, shade_mm + 0.3, {}});
  for (const RunLine& line : lines) {
    if (shaded(line.run))
      shade(line, pen_of(line.run));
    else
      ink.line(line.from, line.to, pen_of(line.run));
  }
}

/// Beside the run's id: its figure, or its size and its circuit.
std::string RiserPicture::beside(int run) const {
  if (shades_)
    return shaded(run) ? count(shades_->values[static_cast<std::size_t>(run)], 1) + " " + shades_->unit : "–";
  const std::string& size = job_.runs[static_cast<std::size_t>(run)].pipe.size;
  const int circuit = plan_.runs[static_cast<std::size_t>(run)].circuit;
  return circuit == piping::none ? size : size + " · " + plan_.circuits[static_cast<std::size_t>(circuit)].id;
}

std::vector<int> RiserPicture::circuits_in(const Frame& window) const {
  std::set<int> found;
  for (const DrawnRun& drawn : drawing_.runs) {
    const int circuit = plan_.runs[static_cast<std::size_t>(drawn.run)].circuit;
    if (circuit == piping::none) continue;
    if (in(window, drawn)) found.insert(circuit);
  }
  return {found.begin(), found.end()};
}

// What is long enough is labelled on both sides of a cut anyway.
std::vector<std::pair<double, double>> RiserPicture::spoilt_spans_mm(const Frame& window) const {
  constexpr double long_mm = 34, near_mm = 2.5;
  std::vector<std::pair<double, double>> spans;
  for (const DrawnRun& drawn : drawing_.runs)
    for (const Segment& segment : segments_of(drawn)) {
      if (!touches(window, segment)) continue;
      const auto [left, right] = std::minmax(segment.from.x_mm, segment.to.x_mm);
      if (segment.length_mm() < long_mm || segment.upright())
        spans.emplace_back(left - near_mm, right + near_mm);
    }
  for (const DrawnOutlet& outlet : drawing_.outlets)
    if (inside(window, outlet.at)) spans.emplace_back(outlet.at.x_mm - near_mm, outlet.at.x_mm + near_mm);
  return spans;
}

std::pair<double, double> RiserPicture::extent_mm(double top_mm, double bottom_mm) const {
  const Frame band{-1e9, top_mm, 1e9, bottom_mm};
  double left_mm = 1e9, right_mm = -1e9;
  for (const DrawnRun& drawn : drawing_.runs)
    for (const Segment& segment : segments_of(drawn)) {
      if (!touches(band, segment)) continue;
      left_mm = std::min({left_mm, segment.from.x_mm, segment.to.x_mm});
      right_mm = std::max({right_mm, segment.from.x_mm, segment.to.x_mm});
    }
  return {left_mm, right_mm};
}

void RiserPicture::bands(Ink& ink, const Frame& window) const {
  bool shaded = false;
  for (const DrawnLevel& level : drawing_.levels) {
    const double top = std::max(level.top_mm, window.top_mm),
                 bottom = std::min(level.bottom_mm, window.bottom_mm);
    shaded = !shaded;
    if (top >= bottom) continue;
    ink.rectangle({window.left_mm, top}, window.width_mm(), bottom - top,
                  shaded ? std::optional(colours::zebra) : std::optional(colours::white), std::nullopt);
    if (level.bottom_mm <= window.bottom_mm + 1e-6)
      ink.line({window.left_mm, bottom}, {window.right_mm, bottom}, {colours::rule, 0.2, {}});
  }
}

void RiserPicture::draw_level_names(Ink& ink, const Frame& window, double right_mm, double width_mm) const {
  const TextStyle name{7.2, 600, false, colours::accent, Anchor::end};
  for (const DrawnLevel& level : drawing_.levels) {
    const double top = std::max(level.top_mm, window.top_mm),
                 bottom = std::min(level.bottom_mm, window.bottom_mm);
    double y_mm = top + 4;
    for (const std::string& line : wrapped(ink, level.name, name, width_mm)) {
      if (y_mm > bottom) break;
      ink.label({right_mm, y_mm}, fitted(ink, line, name, width_mm), name);
      y_mm += 3.1;
    }
  }
}

// Uprights are drawn last, with a gap in what they cross, so that a crossing does not read as a joint.
void RiserPicture::run_lines(Ink& ink, const Frame& window) const {
  std::vector<RunLine> uprights, others;
  const double gap_mm = shades_ ? 1.8 : 1;
  for (const DrawnRun& drawn : drawing_.runs)
    for (const Segment& segment : segments_of(drawn))
      if (touches(window, segment))
        (segment.upright() ? uprights : others).push_back({segment.from, segment.to, drawn.run});
  lines_of(ink, others);
  for (const RunLine& upright : uprights)
    for (const RunLine& other : others)
      if (crosses({upright.from, upright.to}, {other.from, other.to})) {
        const Point at{upright.from.x_mm, other.from.y_mm};
        ink.line({at.x_mm - gap_mm, at.y_mm}, {at.x_mm + gap_mm, at.y_mm},
                 {colours::white, 1.2 * gap_mm, {}});
      }
  lines_of(ink, uprights);
}

void RiserPicture::run_label(Ink& ink, const Frame& window, const DrawnRun& drawn) const {
  const job::Run& run = job_.runs[static_cast<std::size_t>(drawn.run)];
  Segment part = longest_level(window, drawn);
  if (sensors_.contains(drawn.run) && part.length_mm() > sensor_room_mm &&
      std::abs(sensor_place(drawn).x_mm - part.to.x_mm) < sensor_room_mm)
    part.to.x_mm -= sensor_room_mm;
  const double room = part.length_mm() - 1;
  const double clear_mm = shades_ ? 0.5 : 0;  // of the broader line
  const Point middle{(part.from.x_mm + part.to.x_mm) / 2, part.from.y_mm};
  if (ink.label_width_mm(run.id, run_style) > std::max(room, 0.0)) {
    if (room > 5)
      ink.label({middle.x_mm, middle.y_mm - 0.9 - clear_mm}, fitted(ink, run.id, run_style, room), run_style);
    return;
  }
  ink.label({middle.x_mm, middle.y_mm - 0.9 - clear_mm}, run.id, run_style);
  const std::string both = beside(drawn.run);
  if (ink.label_width_mm(both, size_style) <= room) {
    ink.label({middle.x_mm, middle.y_mm + 2.9 + clear_mm}, both, size_style);
    return;
  }
  const std::size_t part_at = std::min(both.find(" · "), both.size());
  ink.label({middle.x_mm, middle.y_mm + 2.9 + clear_mm},
            fitted(ink, both.substr(0, part_at), size_style, room), size_style);
  if (part_at == both.size()) return;
  const std::string circuit_id = both.substr(part_at + std::string_view(" · ").size());
  ink.label({middle.x_mm, middle.y_mm + 5.4 + clear_mm}, fitted(ink, circuit_id, size_style, room),
            size_style);
}

// Only risers pass the upper part of a band: their labels stand there, right of the line.
void RiserPicture::riser_label(Ink& ink, const Frame& window, const DrawnRun& drawn) const {
  const Segment last{drawn.line[drawn.line.size() - 2], drawn.line.back()};
  const double low = std::max(last.from.y_mm, last.to.y_mm), high = std::min(last.from.y_mm, last.to.y_mm);
  for (auto level = drawing_.levels.rbegin(); level != drawing_.levels.rend(); ++level) {
    const double top = level->top_mm;
    if (top < high || top + pad_above_lanes_mm > low + 1 || !inside(window, {last.to.x_mm, top + 1}))
      continue;
    if (top + pad_above_lanes_mm > window.bottom_mm) continue;
    const job::Run& run = job_.runs[static_cast<std::size_t>(drawn.run)];
    TextStyle id = run_style, size = size_style;
    id.anchor = size.anchor = Anchor::start;
    const double x = last.to.x_mm + 1.1, room = std::min(17.0, window.right_mm - x);
    ink.label({x, top + 2.9}, fitted(ink, run.id, id, room), id);
    ink.label({x, top + 5.5}, fitted(ink, beside(drawn.run), size, room), size);
    return;
  }
}

void RiserPicture::sensor(Ink& ink, const Frame& window, const DrawnRun& drawn) const {
  if (!sensors_.contains(drawn.run)) return;
  const Point at = sensor_place(drawn);
  if (!inside(window, at)) return;
  sensor_mark(ink, at);
}

void RiserPicture::nodes(Ink& ink, const Frame& window) const {
  const auto& network = plan_.network;
  std::set<int> ends;
  for (const power::Circuit& circuit : plan_.circuits)
    ends.insert(circuit.end_nodes.begin(), circuit.end_nodes.end());
  for (int node = 0; node < std::ssize(drawing_.nodes); ++node) {
    const Point at = drawing_.nodes[static_cast<std::size_t>(node)];
    if (!inside(window, at)) continue;
    if (node == network.supply_node) {
      ink.rectangle({at.x_mm - 5, at.y_mm - 2.5}, 5, 5, colours::white, Pen{colours::text, 0.35, {}});
      ink.label({at.x_mm - 2.5, at.y_mm + 0.9}, "HW",
                {riser_label_pt - 0.3, 600, false, colours::text, Anchor::middle});
      continue;
    }
    if (node == network.mixing_valve_node) {
      const Point valve[] = {{at.x_mm - 1.8, at.y_mm - 1.2},
                             {at.x_mm + 1.8, at.y_mm + 1.2},
                             {at.x_mm + 1.8, at.y_mm - 1.2},
                             {at.x_mm - 1.8, at.y_mm + 1.2}};
      ink.area(valve, colours::white, thin_pen);
      continue;
    }
    if (ends.contains(node))
      ink.rectangle({at.x_mm - 0.75, at.y_mm - 0.75}, 1.5, 1.5, colours::white, Pen{colours::text, 0.25, {}});
    else if (network.downstream_of(node).size() > 1)
      ink.circle(at, 0.6, colours::text, std::nullopt);
  }
}

void RiserPicture::power_connections(Ink& ink, const Frame& window) const {
  for (const auto& [node, circuits] : feeds_) {
    const Point at = drawing_.nodes[static_cast<std::size_t>(node)];
    if (!inside(window, at)) continue;
    const double side = reached_level_.contains(node) ? 1 : -1;  // away from the run that leads there
    const Point tip{at.x_mm + side * 1.6, at.y_mm - 4.4};
    TextStyle style = flag_style;
    style.anchor = side > 0 ? Anchor::start : Anchor::end;
    ink.line(at, tip, thin_pen);
    const Point flag[] = {tip, {tip.x_mm - 1.7, tip.y_mm - 2.2}, {tip.x_mm + 1.7, tip.y_mm - 2.2}};
    ink.area(flag, colours::accent, std::nullopt);
    double y_mm = tip.y_mm - 0.2;
    for (const std::string& line : wrapped(ink, circuits, style, flag_mm)) {
      ink.label({tip.x_mm + side * 2.2, y_mm}, fitted(ink, line, style, flag_mm), style);
      y_mm -= 2.6;
    }
  }
}

void RiserPicture::outlets(Ink& ink, const Frame& window) const {
  for (const DrawnOutlet& drawn : drawing_.outlets) {
    if (!inside(window, drawn.at)) continue;
    const job::Outlet& outlet = job_.outlets[static_cast<std::size_t>(drawn.outlet)];
    const Point point = drawn.at;
    ink.begin("outlet-" + outlet.id, outlet.id + ": " + outlet_name(outlet));
    const Point drop[] = {
        {point.x_mm - 0.9, point.y_mm}, {point.x_mm + 0.9, point.y_mm}, {point.x_mm, point.y_mm + 1.6}};
    ink.area(drop, colours::white, thin_pen);
    ink.end();
  }
}

void RiserPicture::draw(Ink& ink, const Frame& window) const {
  bands(ink, window);
  run_lines(ink, window);
  outlets(ink, window);
  nodes(ink, window);
  for (const DrawnRun& drawn : drawing_.runs) {
    if (!in(window, drawn)) continue;
    const job::Run& run = job_.runs[static_cast<std::size_t>(drawn.run)];
    ink.begin("run-" + run.id, run_name(run));
    run_label(ink, window, drawn);
    const bool rises = std::abs(drawn.line.back().x_mm - drawn.line[drawn.line.size() - 2].x_mm) < 1e-9;
    if (rises) riser_label(ink, window, drawn);
    sensor(ink, window, drawn);
    ink.end();
  }
  power_connections(ink, window);
}

void RiserPicture::draw_lines(Ink& ink, double scale) const {
  for (const DrawnLevel& level : drawing_.levels)
    ink.line({0, level.bottom_mm}, {drawing_.width_mm, level.bottom_mm}, {colours::rule, 0.15 / scale, {}});
  for (const DrawnRun& drawn : drawing_.runs) {
    Pen pen = pen_of(drawn.run);
    if (shaded(drawn.run)) {
      ink.line(drawn.line, {colours::quiet, 1.1 / scale, {}});
      pen.width_mm = 0.85 / scale;
    } else {
      pen.width_mm = (starts_flat(pen) ? 0.3 : 0.25) / scale;
    }
    for (double& dash : pen.dash_mm) dash *= 0.5 / scale;
    ink.line(drawn.line, pen);
  }
}

double RiserPicture::draw_shade_legend(Ink& ink, Point at, double width_mm) const {
  const double scale_mm = std::min(90.0, width_mm * 0.6);
  constexpr double first_number_mm = 1;  // half of the "0" under the scale's end
  draw_heat_scale(ink, {at.x_mm + first_number_mm, at.y_mm, at.x_mm + scale_mm, at.y_mm + 9}, shades_->what,
                  {0, shades_->highest, shades_->step});
  const double x = at.x_mm + scale_mm + 8;
  ink.line({x, at.y_mm + 5}, {x + 8, at.y_mm + 5}, untraced_pen);
  ink.label({x + 9.5, at.y_mm + 5.9}, "not simulated", legend_style);
  return 10;
}

double RiserPicture::draw_legend(Ink& ink, const Frame& window, Point at, double width_mm) const {
  if (shades_) return draw_shade_legend(ink, at, width_mm);
  constexpr double row_mm = 4.2;
  double x = at.x_mm, y = at.y_mm + 3;
  const auto item = [&](const std::string& text, double symbol_mm, auto symbol) {
    const std::string shown = fitted(ink, text, legend_style, width_mm - symbol_mm - 2);
    const double wide = symbol_mm + 1.2 + ink.label_width_mm(shown, legend_style);
    if (x + wide > at.x_mm + width_mm) {
      x = at.x_mm;
      y += row_mm;
    }
    symbol(Point{x, y - 0.9});
    ink.label({x + symbol_mm + 1.2, y}, shown, legend_style);
    x += wide + 4.5;
  };
  item("power connection, with its circuits", 3.4, [&](Point p) {
    const Point flag[] = {{p.x_mm + 1.7, p.y_mm + 1.2}, {p.x_mm, p.y_mm - 1}, {p.x_mm + 3.4, p.y_mm - 1}};
    ink.area(flag, colours::accent, std::nullopt);
  });
  item("end of a circuit", 1.6, [&](Point p) {
    ink.rectangle({p.x_mm, p.y_mm - 0.75}, 1.5, 1.5, colours::white, Pen{colours::text, 0.25, {}});
  });
  item("pipe tee", 1.4,
       [&](Point p) { ink.circle({p.x_mm + 0.6, p.y_mm}, 0.6, colours::text, std::nullopt); });
  item("outlets", 1.8, [&](Point p) {
    const Point drop[] = {{p.x_mm, p.y_mm - 0.8}, {p.x_mm + 1.8, p.y_mm - 0.8}, {p.x_mm + 0.9, p.y_mm + 0.8}};
    ink.area(drop, colours::white, thin_pen);
  });
  item("HW: water heater", 0, [](Point) {});
  if (plan_.network.mixing_valve_node != piping::none)
    item("mixing valve", 3.6, [&](Point p) {
      const Point valve[] = {
          {p.x_mm, p.y_mm - 1}, {p.x_mm + 3.6, p.y_mm + 1}, {p.x_mm + 3.6, p.y_mm - 1}, {p.x_mm, p.y_mm + 1}};
      ink.area(valve, colours::white, thin_pen);
    });
  item("not traced", 8, [&](Point p) { ink.line(p, {p.x_mm + 8, p.y_mm}, untraced_pen); });
  for (const auto& [run, groups] : sensors_)
    if (run_in(window, run))
      item(fmt::format("sensor of {} on run {}", groups, job_.runs[static_cast<std::size_t>(run)].id), 3.4,
           [&](Point p) { sensor_mark(ink, {p.x_mm + 1.7, p.y_mm}); });
  for (int circuit : circuits_in(window))
    item(plan_.circuits[static_cast<std::size_t>(circuit)].id, 8,
         [&](Point p) { ink.line(p, {p.x_mm + 8, p.y_mm}, circuit_pen(circuit)); });
  return y + 1.5 - at.y_mm;
}

}  // namespace firstdraw::paper
