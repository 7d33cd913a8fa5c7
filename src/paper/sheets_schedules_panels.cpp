// Panel schedules: the panel's face, then what its lines carry.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <numeric>

#include "paper/install.hpp"
#include "paper/panel_picture.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr double totals_and_notes_mm = 45;  // kept together

std::string supply_text(const Pack& pack, const job::Panel& panel, const power::PanelSupply& supply) {
  if (panel.supply_length_m <= 0) return "length not given: not sized here";
  if (supply.conductor.empty()) return "no conductor will do: see Findings";
  return fmt::format("{}, earth {}, {}; drop {}, {} with the worst circuit", unbroken(supply.conductor),
                     unbroken(supply.earth), pack.show.with_unit(panel.supply_length_m, Kind::length),
                     percent(supply.drop_frac, 1), percent(supply.total_drop_frac, 1));
}

std::string main_text(const job::Panel& panel, const power::PanelLoad& load) {
  const std::string given = panel.main_a > 0 ? fmt::format("{:.0f} A", panel.main_a) : "not given";
  const bool small = panel.main_a > 0 && panel.main_a < load.least_main_a;
  return fmt::format("{}, {} A asked for{}", given, count(load.least_main_a, 1), small ? " ! too small" : "");
}

std::string poles_text(const job::Panel& panel, const power::PanelLoad& load) {
  const std::string given = panel.free_poles > 0 ? fmt::format("{}", panel.free_poles) : "not given";
  const bool few = panel.free_poles > 0 && panel.free_poles < load.poles;
  return fmt::format("{}, {} needed{}", given, load.poles, few ? " ! too few" : "");
}

void panel_facts(Book& book, const Pack& pack, const power::PanelLoad& load) {
  const job::Panel& panel = pack.job.panels[at(load.panel)];
  facts(book, {{"Location", panel.location},
               {"Across the cable",
                fmt::format("{:.0f} V, {:.0f} Hz, {}, {}", panel.voltage_v, panel.frequency_hz,
                            panel.line_to_line ? "line to line" : "line to neutral",
                            panel.phases == 1 ? "single phase" : fmt::format("{} phases", panel.phases))},
               {"Conductors to it", supply_text(pack, panel, load.supply)},
               {"Main", main_text(panel, load)},
               {"Free poles", poles_text(panel, load)},
               {"Load at maintain", fmt::format("{:.2f} kW", load.working_w / 1000)},
               {"Load after a cold start", fmt::format("{:.2f} kW at 300 s", load.settled_w / 1000)},
               {"Ground fault",
                panel.ground_fault ? "breakers protect equipment" : "! breakers do not: see Findings"}});
}

void face(Book& book, const PanelFace& drawn) {
  const Frame& frame = book.frame();
  for (int first = 0; first < panel_rows(drawn);) {
    const int most = static_cast<int>((book.room_mm() - panel_face_height_mm(0) - 2) / panel_row_mm);
    const int rows = std::min(panel_rows(drawn) - first, most);
    if (rows < std::min(6, panel_rows(drawn) - first)) {
      book.need(book.room_mm() + 1);
      continue;
    }
    book.push({frame.left_mm, book.y_mm()}, 1);
    draw_panel_face(book, drawn, {first, rows}, frame.width_mm());
    book.pop();
    book.skip(panel_face_height_mm(rows) + 2);
    first += rows;
  }
}

std::string imbalance_text(const std::vector<double>& phase_a) {
  const double mean =
      std::accumulate(phase_a.begin(), phase_a.end(), 0.0) / static_cast<double>(phase_a.size());
  return mean > 0 ? percent(std::ranges::max(phase_a) / mean - 1) : "–";
}

Table line_totals(const PanelFace& drawn, const job::Panel& panel, const power::PanelLoad& load) {
  Table table;
  table.columns = {{"Line", ""},
                   {"Connected, 300 s after a cold start", "VA", Anchor::end},
                   {"Current of the line", "A", Anchor::end},
                   {"Other loads", "A", Anchor::end},
                   {"Heating as continuous load, with others", "A", Anchor::end}};
  // The factor is the one that least_main_a was made with, overrides included.
  const double factor = load.settled_a > 0 ? (load.least_main_a - panel.other_a) / load.settled_a : 0;
  for (std::size_t line = 0; line < load.phase_a.size(); ++line)
    table.rows.push_back({Row::Kind::plain,
                          {fmt::format("L{}", line + 1), line < 3 ? count(drawn.line_va.at(line)) : "",
                           count(load.phase_a[line], 1), count(panel.other_a, 1),
                           count(factor * load.phase_a[line] + panel.other_a, 1)}});
  const double total_va = drawn.line_va[0] + drawn.line_va[1] + drawn.line_va[2];
  table.rows.push_back({Row::Kind::total,
                        {"Panel, fullest line", count(total_va), count(load.settled_a, 1),
                         count(panel.other_a, 1), count(load.least_main_a, 1)}});
  return table;
}

void notes(Book& book, const Pack& pack, const PanelFace& drawn, const power::PanelLoad& load) {
  const job::Panel& panel = pack.job.panels[at(load.panel)];
  std::string text =
      "Positions: odd on the left, even on the right, the lines in turn down each side (common practice, no "
      "source). They are a proposal, counted over the positions that are free for heating: what else the "
      "panel "
      "holds is not known here. Where the panel's own numbers differ, write them in and correct the circuit "
      "labels. mA: trip of the breaker on current to earth. VA: 300 s after a cold start, at nominal "
      "voltage.";
  if (panel.line_to_line)
    text +=
        " A circuit between two lines gives half to each. The current of a line is the vector sum of the "
        "pairs that meet in it, less than adding amperes.";
  text += " Imbalance, fullest line over mean: " + imbalance_text(load.phase_a) + ".";
  paragraph(book, text, small_style);
  if (!drawn.unplaced.empty())
    caution(book, "Circuits without a position", fmt::format("{}", fmt::join(drawn.unplaced, ", ")));
}

}  // namespace

void panel_schedules(Book& book, const Pack& pack) {
  bool first = true;
  for (const power::PanelLoad& load : pack.plan.panels) {
    if (load.panel == piping::none) continue;
    sheet(book, "Panel schedule: " + panel_name(pack.job, load.panel),
          fmt::format("Panel schedules: {} of {}", load.panel + 1, pack.job.panels.size()),
          Book::Way::upright, first ? "Panel schedules" : "");
    first = false;
    panel_facts(book, pack, load);
    if (load.circuits.empty()) {
      paragraph(book, "No heating circuit is fed from this panel.");
      continue;
    }
    const PanelFace drawn = panel_face(pack.job, pack.plan, load);
    face(book, drawn);
    book.need(totals_and_notes_mm);
    flow(book, line_totals(drawn, pack.job.panels[at(load.panel)], load));
    notes(book, pack, drawn, load);
  }
}

}  // namespace firstdraw::paper
