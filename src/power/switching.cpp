#include "power/switching.hpp"

#include <algorithm>

#include "rules/override.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

bool contacts_suffice(const Switching& group, const std::vector<Circuit>& circuits, double continuous) {
  if (group.circuits.size() != 1 || !(group.contacts_a > 0)) return false;
  const double asked_a = continuous * circuits[at(group.circuits.front())].settled_a;
  return asked_a <= group.contacts_a * (1 + 1e-9);
}

}  // namespace

std::vector<Switching> switch_groups(const job::Job& job, const std::vector<Circuit>& circuits) {
  const auto overrides = job::overrides_of(job);
  const double continuous = rules::Ruling(job.requirements.rules, overrides).value("continuous-load");
  std::vector<Switching> groups(job.groups.size());
  for (std::size_t g = 0; g < groups.size(); ++g) {
    groups[g].group = static_cast<int>(g);
    groups[g].contacts_a = job.groups[g].contacts_a;
  }
  for (std::size_t c = 0; c < circuits.size(); ++c) {
    Switching& group = groups[at(circuits[c].group)];
    group.panel = circuits[c].panel;
    group.circuits.push_back(static_cast<int>(c));
    group.poles += circuits[c].poles;
    group.pole_a = std::max(group.pole_a, circuits[c].breaker_a);
  }
  for (Switching& group : groups)
    group.contactor = !group.circuits.empty() && !contacts_suffice(group, circuits, continuous);
  return groups;
}

}  // namespace firstdraw::power
