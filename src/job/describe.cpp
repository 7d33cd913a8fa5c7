#include "job/describe.hpp"

#include <fmt/format.h>

#include "rules/breaker_trip.hpp"
#include "rules/conductor_tables.hpp"
#include "rules/conduit.hpp"
#include "tables/table.hpp"
#include "units/clock.hpp"

namespace firstdraw::job {

namespace {
std::vector<std::string> list(std::span<const std::string> names) { return {names.begin(), names.end()}; }

std::vector<std::string> guideline_ids() {
  std::vector<std::string> ids;
  for (const auto& guideline : rules::hygiene_guidelines()) ids.push_back(guideline.id);
  return ids;
}

std::vector<std::string> profile_ids() {
  std::vector<std::string> ids;
  for (const auto& row : tables::table("hourly_profiles").rows()) {
    const auto& id = row.text("profile");
    if (std::ranges::find(ids, id) == ids.end()) ids.push_back(id);
  }
  return ids;
}

/// The same list for each rule set, made once for each type of `make_names`: give it a lambda.
template <class MakeNames>
const std::vector<std::string>& by_set(rules::RuleSet set, const MakeNames& make_names) {
  static const std::vector<std::string> us = make_names(rules::RuleSet::us),
                                        intl = make_names(rules::RuleSet::intl);
  return set == rules::RuleSet::us ? us : intl;
}

std::vector<std::string> conduits(rules::RuleSet set) {
  std::vector<std::string> names{"none"};
  if (set == rules::RuleSet::us)
    names.insert(names.end(), rules::conduit_kinds().begin(), rules::conduit_kinds().end());
  return names;
}

std::vector<std::string> breakers(rules::RuleSet set) {
  std::vector<std::string> names;
  for (const std::string& type : rules::breaker_types())
    if (type.starts_with("ul-") == (set == rules::RuleSet::us)) names.push_back(type);
  return names;
}

template <class Things, class Member>
std::vector<std::string> each(const Things& things, Member member) {
  std::vector<std::string> names;
  for (const auto& thing : things) names.push_back(thing.*member);
  return names;
}

constexpr std::array<Named<Period::Setting>, 3> settings{{{Period::Setting::maintain, "maintain"},
                                                          {Period::Setting::setback, "setback"},
                                                          {Period::Setting::off, "off"}}};

Read<PeriodHold> read_hold(std::string_view text) {
  const auto named = std::ranges::find(settings, text, &Named<Period::Setting>::name);
  if (named != settings.end()) return PeriodHold{named->value, 0};
  if (text.find_first_of("0123456789") == std::string_view::npos) {
    return std::unexpected(
        fmt::format("\"{}\" is not known; expected {}, or a temperature such as \"118 °F\"", text,
                    one_of(names_of(settings))));
  }
  const auto hold_c = read_quantity(text, Kind::temperature, std::nullopt, range::water);
  if (!hold_c) return std::unexpected(hold_c.error());
  return PeriodHold{Period::Setting::temperature, *hold_c};
}

std::string hold_text(const PeriodHold& hold, System system) {
  if (hold.setting == Period::Setting::temperature)
    return units::exact_text(hold.hold_c, Kind::temperature, system);
  return std::string(std::ranges::find(settings, hold.setting, &Named<Period::Setting>::value)->name);
}
}  // namespace

const std::vector<std::string>& known_guidelines() {
  static const std::vector<std::string> names = guideline_ids();
  return names;
}
const std::vector<std::string>& known_buildings() {
  static const std::vector<std::string> names = list(rules::building_kinds());
  return names;
}
const std::vector<std::string>& known_energy_codes() {
  static const std::vector<std::string> names = list(rules::energy_codes());
  return names;
}
const std::vector<std::string>& known_runout_rules() {
  static const std::vector<std::string> names = list(rules::runout_rules());
  return names;
}
const std::vector<std::string>& known_fixtures() {
  static const std::vector<std::string> names = list(rules::fixtures());
  return names;
}
const std::vector<std::string>& known_profiles() {
  static const std::vector<std::string> names = profile_ids();
  return names;
}

const std::vector<std::string>& known_wire_insulations(rules::RuleSet set) {
  return by_set(set, [](auto s) { return list(rules::wire_insulations(s)); });
}
const std::vector<std::string>& known_methods(rules::RuleSet set) {
  return by_set(set, [](auto s) { return list(rules::installation_methods(s)); });
}
const std::vector<std::string>& known_makes(rules::RuleSet set) {
  return by_set(set, [](auto s) { return list(rules::conductor_makes(s)); });
}
const std::vector<std::string>& known_conduits(rules::RuleSet set) {
  return by_set(set, [](auto s) { return conduits(s); });
}
const std::vector<std::string>& known_breakers(rules::RuleSet set) {
  return by_set(set, [](auto s) { return breakers(s); });
}
const std::vector<std::string>& known_sizes(rules::RuleSet set) {
  return by_set(set, [](auto s) { return each(rules::conductor_sizes(s), &rules::ConductorSize::size); });
}
const std::vector<std::string>& known_rules(rules::RuleSet set) {
  return by_set(set, [](auto s) { return each(rules::circuit_rules(s), &rules::CircuitRule::id); });
}

WiringPractice usual_wiring(rules::RuleSet set) {
  WiringPractice usual;
  if (set == rules::RuleSet::us) return usual;
  usual.insulation = "PVC";
  usual.method = "B2";
  usual.make = "class 2";
  usual.conduit.clear();
  usual.breaker = "iec-60898-1-c";
  return usual;
}

const Spelling<PeriodHold> period_hold{read_hold, hold_text};
const Spelling<double> time_of_day{
    units::parse_time_of_day, [](const double& time_s, System) { return units::time_of_day_text(time_s); }};
const Spelling<std::uint8_t> weekdays{
    units::parse_weekdays, [](const std::uint8_t& days, System) { return units::weekdays_text(days); }};

}  // namespace firstdraw::job
