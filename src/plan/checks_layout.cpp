// What the division into circuits could not keep, could not prove, or no longer knows.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <set>
#include <string_view>

#include "plan/check_electrical.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

bool part_of_a_name(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_' || c == '.';
}

/// Whether the text names the thing, and not only one whose name holds it.
bool names(std::string_view text, std::string_view id) {
  for (auto at = text.find(id); !id.empty() && at != std::string_view::npos; at = text.find(id, at + 1)) {
    const auto end = at + id.size();
    const bool begins = at == 0 || !part_of_a_name(text[at - 1]);
    const bool ends =
        end == text.size() || !part_of_a_name(text[end]) || (text[end] == '.' && end + 1 == text.size());
    if (begins && ends) return true;
  }
  return false;
}

Subject row_of(const job::KnownCircuit& known) {
  return {Finding::PlaceKind::circuit, known.id, known.place};
}

/// The pin most of whose runs are named before the colon.
const job::Pin* pin_of(const job::Job& job, std::string_view sentence) {
  const auto named = sentence.substr(0, sentence.find(':'));
  const bool apart = named.find("apart") != std::string_view::npos;
  const job::Pin* best = nullptr;
  std::ptrdiff_t most = 0;
  for (const auto& pin : job.pins) {
    if (apart && pin.kind != job::Pin::Kind::apart) continue;
    const auto count = std::ranges::count_if(pin.runs, [&](const auto& id) { return names(named, id); });
    if (count > most) best = &pin, most = count;
  }
  return best;
}

Subject subject_of(const job::Job& job, std::string_view sentence) {
  for (const auto& known : job.known_circuits)
    if (sentence.starts_with(fmt::format("Circuit {} ", known.id))) return row_of(known);
  for (const auto& panel : job.panels)
    if (sentence.starts_with(fmt::format("Panel {} ", panel.id))) return about(panel);
  if (const job::Pin* pin = pin_of(job, sentence))
    return {Finding::PlaceKind::run, pin->runs.front(),
            pin->place.file.empty() ? job::Place{"job.toml", 0} : pin->place};
  return about_site();
}

void check_conflicts(const Review& review, Findings& found) {
  for (const auto& sentence : review.plan.division.conflicts)
    found.add("layout-conflict", subject_of(review.job, sentence), sentence,
              "Correct the pin, the row of circuits.csv or the piping that it contradicts.",
              computed("division into circuits, docs/circuits-layout.md"));
}

void check_proven(const Review& review, Findings& found) {
  const auto& division = review.plan.division;
  if (division.exact) return;
  const double cost = division.cost + division.change_cost;
  found.add("layout-not-proven", about_site(),
            cost > 0 ? fmt::format("The {} circuits cost {:.0f} {}; no division costs less than {:.0f}, but "
                                   "whether one is cheaper is not proven.",
                                   review.plan.circuits.size(), cost, review.job.economics.currency,
                                   division.lower_bound)
                     : fmt::format("That the {} circuits are the fewest possible is not proven.",
                                   review.plan.circuits.size()),
            "Look over the branches of large headers by hand, or leave it.",
            computed("bound of the division, docs/circuits-layout.md"));
}

std::string now_on(const Review& review, const job::KnownCircuit& known) {
  std::set<std::string> circuits;
  for (std::size_t r = 0; r < review.job.runs.size(); ++r) {
    const int circuit = review.plan.runs[r].circuit;
    if (circuit != piping::none && std::ranges::find(known.runs, review.job.runs[r].id) != known.runs.end())
      circuits.insert(review.plan.circuits[at(circuit)].id);
  }
  return circuits.empty() ? std::string("no circuit") : fmt::format("{}", fmt::join(circuits, ", "));
}

/// A fixed one that cannot stay is a conflict.
void check_known(const Review& review, Findings& found) {
  for (const auto& known : review.job.known_circuits) {
    const auto same = [&](const auto& circuit) { return circuit.id == known.id; };
    if (known.fixed || std::ranges::any_of(review.plan.circuits, same)) continue;
    found.add("circuit-gone", row_of(known),
              fmt::format("Circuit {} of circuits.csv is not recognised any more: its runs are now on {}.",
                          known.id, now_on(review, known)),
              "Take its label off pipe and panel, or mark the circuit as fixed.",
              computed("circuits recognised by their runs"));
  }
}

constexpr PlanCheck checks[] = {check_conflicts, check_proven, check_known};

}  // namespace

std::span<const PlanCheck> layout_checks() { return checks; }

}  // namespace firstdraw::plan
