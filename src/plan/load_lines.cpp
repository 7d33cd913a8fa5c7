#include "plan/load_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "rules/panel_rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::plan {
namespace {

using units::Kind;

struct Named {
  std::string_view about, quantity;
};
constexpr std::array<Named, 20> names{{{"continuous-load", "Continuous load"},
                                       {"insulation", "Insulation"},
                                       {"terminal-temperature", "Terminals"},
                                       {"terminal-temperature-large", "Terminals"},
                                       {"terminals", "Capacity at the terminals"},
                                       {"ambient-factor", "Factor for the air"},
                                       {"grouping-factor", "Conductors together"},
                                       {"conductor-capacity", "Ampacity after factors"},
                                       {"small-conductor", "Small conductors"},
                                       {"next-rating", "Next standard rating"},
                                       {"earth-conductor", "Earth conductor"},
                                       {"earth-upsizing", "Earth conductor"},
                                       {"voltage-drop-branch", "Voltage drop advised"},
                                       {"voltage-drop-feeder", "Supply drop advised"},
                                       {"voltage-drop-total", "Drop advised in all"},
                                       {"drop", "Voltage drop"},
                                       {"raceway-fill", "Raceway fill allowed"},
                                       {"raceway", "Raceway"},
                                       {"leakage", "Standing leakage"},
                                       {"supply", "Supply"}}};

std::string quantity_of(const std::string& about, const rules::RuleSet set) {
  const auto found = std::ranges::find(names, about, &Named::about);
  if (found != names.end()) return std::string(found->quantity);
  const auto known = rules::circuit_rules(set);
  const auto rule = std::ranges::find(known, about, &rules::CircuitRule::id);
  return rule == known.end() ? "Applied" : LoadLines::sentence(rule->title);
}

std::string value_of(const std::string& about, const ReasonValues& values) {
  if (about == "conductor-capacity") return values.ampacity;
  if (about == "earth-conductor" || about == "earth-upsizing") return values.earth;
  if (about == "drop") return values.drop;
  if (about == "raceway") return values.raceway;
  if (about == "leakage") return values.leakage;
  if (about == "ground-fault-trip") return values.trip;
  if (about == "standing-leakage") return values.leakage_most;
  return {};
}

}  // namespace

LoadLines::LoadLines(const job::Job& job) : job_(job), overrides_(job::overrides_of(job)) {}

void LoadLines::begin(std::string panel, std::string circuit) {
  panel_ = std::move(panel);
  circuit_ = std::move(circuit);
}

void LoadLines::add(std::string quantity, std::string value, std::string how, rules::Citation citation) {
  lines_.push_back(
      {panel_, circuit_, std::move(quantity), std::move(value), std::move(how), std::move(citation)});
}

void LoadLines::add_rule(std::string_view id, std::string quantity, std::string value) {
  rules::Ruling ruling(job_.requirements.rules, overrides_);
  ruling.apply(id);
  const rules::Reason reason = ruling.reasons().front();
  add(std::move(quantity), std::move(value), reason.sentence, reason.citation);
}

void LoadLines::add_override(std::string_view id) {
  const rules::Ruling ruling(job_.requirements.rules, overrides_);
  const auto by_user = ruling.overridden(id);
  if (by_user) add_rule(id, sentence(rule(id).title), fmt::format("{:g}", *by_user));
}

void LoadLines::add_reasons(std::span<const rules::Reason> reasons, const ReasonValues& values) {
  for (const rules::Reason& reason : reasons)
    if (!reason.about.empty())
      add(quantity_of(reason.about, job_.requirements.rules), value_of(reason.about, values), reason.sentence,
          reason.citation);
}

void LoadLines::requirements() {
  for (const rules::Reason& reason : rules::panel_requirements(job_.requirements.rules, overrides_))
    add(reason.about.empty() ? "Authority" : quantity_of(reason.about, job_.requirements.rules), "",
        reason.sentence, reason.citation);
}

const rules::CircuitRule& LoadLines::rule(std::string_view id) const {
  return rules::circuit_rule(job_.requirements.rules, id);
}

double LoadLines::value(std::string_view id) const {
  return rules::Ruling(job_.requirements.rules, overrides_).value(id);
}

std::string LoadLines::current(double a) const { return units::show(a, Kind::current, job_.units); }
std::string LoadLines::length(double m) const { return units::show(m, Kind::length, job_.units); }
std::string LoadLines::power(double w) const { return units::show(w, Kind::power, job_.units); }
std::string LoadLines::temperature(double c) const { return units::show(c, Kind::temperature, job_.units); }

std::string LoadLines::sentence(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

rules::Citation start_model() {
  return {"data sheet of the cable", "", "start currents; docs/circuits-start.md", "as the text says"};
}

}  // namespace firstdraw::plan
