#include "paper/label.hpp"

#include <fmt/format.h>

#include <sstream>

#include "paper/install.hpp"

namespace firstdraw::paper {
namespace {

constexpr Colour safety_yellow{1.0, 0.83, 0.0};
constexpr Colour black{0, 0, 0};
constexpr double text_left_mm = 24, edge_mm = 1.2, band_mm = 8.2;

const job::Run* run_at(const Pack& pack, const power::Circuit& circuit, int node) {
  for (const int index : circuit.runs) {
    const std::size_t run = piping::at(index);
    if (pack.plan.network.from_node[run] == node || pack.plan.network.to_node[run] == node)
      return &pack.job.runs[run];
  }
  return nullptr;
}

std::string place_of(const Pack& pack, const power::Circuit& circuit, int node) {
  std::string place = "at " + node_name(pack.plan, node);
  const job::Run* run = run_at(pack, circuit, node);
  if (!run) return place;
  return place + " · " + level_name(pack.job, run->level) + " · " + space_name(pack.job, run->space);
}

std::string panel_id(const Pack& pack, const power::Circuit& circuit) {
  const job::Panel* panel = panel_of(pack, circuit.panel);
  return panel ? panel->id : "–";
}

std::vector<std::string> details_of(const Pack& pack, const power::Circuit& circuit) {
  const job::Panel* panel = panel_of(pack, circuit.panel);
  std::string feed = fmt::format("Panel {} · breaker {}", panel_id(pack, circuit), breaker_text(circuit));
  if (panel) feed += fmt::format(" · {:.0f} V", panel->voltage_v);
  return {feed, fmt::format("{} · {} · fed at {}", cable_name(pack.job, circuit.cable),
                            pack.show.with_unit(circuit.cable_length_m, Kind::length),
                            node_name(pack.plan, circuit.feed_node))};
}

std::string under_insulation(const Pack& pack, const power::Circuit& circuit, const std::string& also) {
  return fmt::format("under insulation. {}Lock out at {} and prove dead before opening.", also,
                     panel_id(pack, circuit));
}

std::vector<std::string> wrapped(Ink& ink, const std::string& text, const TextStyle& style, double width_mm,
                                 std::size_t most_lines) {
  std::vector<std::string> lines;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const std::string longer = lines.empty() ? word : lines.back() + " " + word;
    const bool fits = !lines.empty() && ink.label_width_mm(longer, style) <= width_mm;
    if (fits || lines.size() == most_lines)
      lines.back() = longer;
    else
      lines.push_back(word);
  }
  for (std::string& line : lines) line = fitted(ink, line, style, width_mm);
  return lines;
}

void cutting_lines(Ink& ink, Point at) {
  ink.rectangle(at, label_size.width_mm, label_size.height_mm, std::nullopt,
                Pen{colours::quiet, 0.12, {1, 1}});
}

// Black on yellow; in black and white print still black on light. The frame and the sign carry it too.
void caution_band(Ink& ink, Point at, const std::string& text) {
  const double left = at.x_mm + text_left_mm, width = label_size.width_mm - text_left_mm - edge_mm;
  const double top = at.y_mm + label_size.height_mm - band_mm - edge_mm;
  ink.rectangle({left, top}, width, band_mm, safety_yellow, Pen{black, 0.3, {}});
  const Point sign[] = {{left + 3.9, top + 1.4}, {left + 6.9, top + 6.6}, {left + 0.9, top + 6.6}};
  ink.area(sign, std::nullopt, Pen{black, 0.4, {}});
  ink.label({left + 3.9, top + 6}, "!", {9, 600, false, black, Anchor::middle});
  const double text_mm = left + 8.4, room = width - 9.2;
  ink.label({text_mm, top + 2.7}, "ELECTRIC HEATING CABLE", {6.8, 600, false, black});
  const TextStyle style{6, 500, false, black};
  double baseline = top + 5.2;
  for (const std::string& line : wrapped(ink, text, style, room, 2)) {
    ink.label({text_mm, baseline}, line, style);
    baseline += 2.3;
  }
}

void code(Ink& ink, Point at, const std::string& text) {
  if (const auto symbol = QrSymbol::of(text)) {
    const double outer = qr_outer_mm(*symbol), margin = (text_left_mm - outer) / 2;
    return draw_qr(ink, {at.x_mm + margin, at.y_mm + (label_size.height_mm - outer) / 2}, *symbol);
  }
  const TextStyle style{6, 400, true, colours::quiet};
  double baseline = at.y_mm + 8;
  for (const std::string& line :
       wrapped(ink, "no code: project number and circuit are too long for one", style, text_left_mm - 4, 6)) {
    ink.label({at.x_mm + 2, baseline}, line, style);
    baseline += 2.5;
  }
}

}  // namespace

std::vector<Label> circuit_labels(const Pack& pack, const power::Circuit& circuit) {
  const std::string code = circuit_code(pack.job.site, circuit.id);
  const std::vector<std::string> details = details_of(pack, circuit);
  const auto label = [&](const std::string& what, const std::string& where, const std::string& caution) {
    return Label{circuit.id, what, where, details, caution, code};
  };
  std::vector<Label> labels;
  labels.push_back(label("Panel door", positions_text(circuit),
                         "on pipes. Tripped by ground fault: find the cause before switching on again."));
  labels.push_back(label("Power connection", place_of(pack, circuit, circuit.feed_node),
                         under_insulation(pack, circuit, "")));
  for (const int node : circuit.tee_nodes)
    labels.push_back(label("Tee", place_of(pack, circuit, node),
                           under_insulation(pack, circuit, "Do not cut or drill. ")));
  for (const int node : circuit.end_nodes)
    labels.push_back(label("End seal", place_of(pack, circuit, node),
                           under_insulation(pack, circuit, "Do not cut or drill. ")));
  return labels;
}

void draw_label(Ink& ink, Point at, const Label& label) {
  cutting_lines(ink, at);
  code(ink, at, label.code);
  const double left = at.x_mm + text_left_mm, right = at.x_mm + label_size.width_mm - edge_mm;
  const TextStyle what{8.5, 600, false, black, Anchor::end};
  const TextStyle id{15, 600, false, black};
  ink.label({right, at.y_mm + 5.4}, label.what, what);
  const double id_mm = right - left - ink.label_width_mm(label.what, what) - 3;
  ink.label({left, at.y_mm + 5.8}, fitted(ink, label.circuit, id, id_mm), id);
  double baseline = at.y_mm + 9;
  const auto line = [&](const std::string& text, const TextStyle& style) {
    ink.label({left, baseline}, fitted(ink, text, style, right - left), style);
    baseline += 2.8;
  };
  line(label.where, {7, 600, false, black});
  for (const std::string& each : label.details) line(each, {6.5, 400, false, black});
  caution_band(ink, at, label.caution_text);
}

}  // namespace firstdraw::paper
