#include "job/describe.hpp"

#include <fmt/format.h>

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

const Spelling<PeriodHold> period_hold{read_hold, hold_text};
const Spelling<double> time_of_day{
    units::parse_time_of_day, [](const double& time_s, System) { return units::time_of_day_text(time_s); }};
const Spelling<std::uint8_t> weekdays{
    units::parse_weekdays, [](const std::uint8_t& days, System) { return units::weekdays_text(days); }};

}  // namespace firstdraw::job
