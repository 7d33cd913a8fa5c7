#include "power/starts.hpp"

#include <algorithm>

#include "power/phases.hpp"
#include "power/start_sequence.hpp"
#include "power/starts_course.hpp"
#include "power/starts_verdict.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

// Starts every minute, the last after ten (common practice, no source). The search is short: a plan waits.
constexpr int fine_per_piece = 2, pieces_per_step = 6, most_steps = 10;
constexpr std::size_t most_trials = 500;

/// Fine pieces in twos; what comes after them as its largest.
std::vector<double> sequence_pieces(const std::vector<double>& largest_a) {
  constexpr auto fine = static_cast<std::size_t>(fine_until_s / fine_piece_s);
  std::vector<double> pieces;
  for (std::size_t i = 0; i < fine; i += fine_per_piece)
    pieces.push_back(std::max(largest_a[i], largest_a[i + 1]));
  pieces.push_back(*std::max_element(largest_a.begin() + fine, largest_a.end()));
  return pieces;
}

std::vector<StartingCircuit> starting(const job::Panel& panel, const PanelLoad& load, const Layout& layout,
                                      const std::vector<StartPieces>& courses) {
  const auto slots = phase_slots(panel);
  std::vector<StartingCircuit> circuits;
  for (const int c : load.circuits) {
    const Circuit& circuit = layout.circuits[at(c)];
    const auto slot = std::ranges::find(slots, circuit.phase);
    circuits.push_back({circuit.id, slot == slots.end() ? 0 : static_cast<std::size_t>(slot - slots.begin()),
                        sequence_pieces(courses[at(c)].largest_a)});
  }
  return circuits;
}

SequenceOptions options(int steps) {
  SequenceOptions options;
  options.piece_s = fine_piece_s * fine_per_piece;
  options.pieces_per_step = pieces_per_step;
  options.most_steps = steps;
  options.most_trials = most_trials;
  return options;
}

/// What the heating may draw at once: the panel's own cap, else a main that starting together would pass; 0:
/// nothing is asked.
double limit_of(const job::Panel& panel, double together_a) {
  if (panel.start_limit_a > 0) return panel.start_limit_a;
  return panel.main_a > 0 && together_a + panel.other_a > panel.main_a ? panel.main_a : 0;
}

void sequence(const job::Panel& panel, const std::vector<StartPieces>& courses, PanelLoad& load,
              Layout& layout) {
  const auto circuits = starting(panel, load, layout, courses);
  SequenceOptions how = options(0);
  StartSequence found = sequence_starts(panel, circuits, how);
  const double limit_a = limit_of(panel, found.together_peak_a);
  if (limit_a > 0) {
    load.start_limit_a = std::max(0.0, limit_a - panel.other_a);
    how = options(most_steps);
    if (load.start_limit_a > 0) how.limit_a = load.start_limit_a;
    found = sequence_starts(panel, circuits, how);
  }
  load.together_peak_a = found.together_peak_a;
  load.peak_a = found.peak_a;
  load.within_limit = limit_a <= 0 || (load.start_limit_a > 0 && found.within_limit);
  load.proven = found.proven;
  load.bound_a = found.bound_a;
  load.piece_s = how.piece_s;
  load.line_a = found.line_a;
  for (std::size_t i = 0; i < load.circuits.size(); ++i)
    layout.circuits[at(load.circuits[i])].start.delay_s = found.start_s[i];
}

StartPieces pieces_of(const job::Job& job, StartCourses& courses, std::span<const CircuitPart> parts,
                      const Circuit& circuit) {
  if (!courses.model(circuit.cable).usable) return courses.by_sheet(circuit);
  return courses.by_model(circuit, job.panels[at(circuit.panel)].voltage_v, parts);
}

}  // namespace

void judge_starts(const job::Job& job, StartCourses& courses, std::span<const std::vector<CircuitPart>> parts,
                  Layout& layout) {
  std::vector<StartPieces> pieces;
  for (std::size_t c = 0; c < layout.circuits.size(); ++c) {
    Circuit& circuit = layout.circuits[c];
    pieces.push_back(pieces_of(job, courses, parts[c], circuit));
    judge_start(job, pieces.back(), courses.edges_s(), courses.model(circuit.cable), circuit);
  }
  for (PanelLoad& load : layout.panels)
    if (!load.circuits.empty()) sequence(job.panels[at(load.panel)], pieces, load, layout);
}

}  // namespace firstdraw::power
