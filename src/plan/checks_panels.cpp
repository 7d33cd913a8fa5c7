// Panels against the circuits they feed, and contacts against what they switch.
#include <fmt/format.h>

#include <algorithm>

#include "plan/check_electrical.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

std::string other_loads(const job::Panel& panel) {
  return panel.other_a > 0 ? fmt::format(" and {} of other loads", amperes(panel.other_a)) : std::string();
}

void check_main(const Review& review, Findings& found) {
  for (const auto& load : review.plan.panels) {
    const auto& panel = review.job.panels[at(load.panel)];
    if (!(panel.main_a > 0) || !(load.least_main_a > panel.main_a * above)) continue;
    found.add("panel-overload", about(panel),
              fmt::format("Panel {} carries {} of heating cable{} on its fullest phase after a cold start: "
                          "its main of {:g} A should be {} at least.",
                          panel.id, amperes(load.settled_a), other_loads(panel), panel.main_a,
                          amperes(load.least_main_a)),
              "Use a second panel or a larger main.", rule_value(review, "continuous-load").citation);
  }
}

void check_poles(const Review& review, Findings& found) {
  for (const auto& load : review.plan.panels) {
    const auto& panel = review.job.panels[at(load.panel)];
    if (panel.free_poles <= 0 || load.poles <= panel.free_poles) continue;
    found.add("panel-poles", about(panel),
              fmt::format("The {} circuits of panel {} need {} poles; {} are free.", load.circuits.size(),
                          panel.id, load.poles, panel.free_poles),
              "Add a panel.", computed("panel schedule"));
  }
}

void check_phases(const Review& review, Findings& found) {
  constexpr double usual = 0.25, little_a = 5;
  for (const auto& load : review.plan.panels) {
    if (load.phase_a.size() < 3 || load.circuits.size() < 3) continue;
    const auto [least, most] = std::ranges::minmax(load.phase_a);
    if (most - least <= std::max(usual * most, little_a)) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add("phase-imbalance", about(panel),
              fmt::format("Panel {} carries {}, {} and {} on its phases.", panel.id, amperes(load.phase_a[0]),
                          amperes(load.phase_a[1]), amperes(load.phase_a[2])),
              "Even it out with the other loads of the panel.");
  }
}

/// A group of one circuit, whose controller says that it could switch by itself.
void check_contacts(const Review& review, Findings& found) {
  const auto continuous = rule_value(review, "continuous-load");
  for (const auto& switching : review.plan.switching) {
    if (switching.circuits.size() != 1 || !(switching.contacts_a > 0)) continue;
    const auto& circuit = review.plan.circuits[at(switching.circuits.front())];
    const double asked_a = continuous.value * circuit.settled_a;
    if (!(asked_a > switching.contacts_a * above)) continue;
    const auto& group = review.job.groups[at(switching.group)];
    found.add("contacts-small", about(group),
              fmt::format("The contacts of group {} may switch {}; its one circuit, {}, asks for {}.",
                          group.id, amperes(switching.contacts_a), circuit.id, amperes(asked_a)),
              switching.contactor
                  ? "Let the contactor of the materials switch it, never the controller's own contacts."
                  : "Put a contactor between, or use a controller with larger contacts.",
              continuous.citation);
  }
}

constexpr PlanCheck panels[] = {check_main, check_poles, check_phases, check_contacts};

}  // namespace

std::span<const PlanCheck> panel_checks() { return panels; }

}  // namespace firstdraw::plan
