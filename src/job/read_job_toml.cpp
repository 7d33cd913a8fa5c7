// job.toml: its sections and lists.
#include <fmt/format.h>

#include "job/check_wishes.hpp"
#include "job/describe.hpp"
#include "job/read_files.hpp"
#include "job/read_week.hpp"
#include "job/toml_file.hpp"
#include "job/toml_sections.hpp"

namespace firstdraw::job {

const std::vector<std::string>& known_sections() {
  static const std::vector<std::string> names{
      "site",       "units", "rules",   "design",   "wiring", "economics", "supply", "level",
      "space",      "panel", "group",   "period",   "use",    "draws",     "tariff", "season",
      "controller", "week",  "comfort", "together", "apart",  "override",  "accept", "assumption"};
  return names;
}

namespace {

void check_sections(const toml::table& root, Context& context) {
  for (const auto& [key, node] : root) {
    const auto& names = known_sections();
    if (std::ranges::find(names, key.str()) != names.end()) continue;
    const std::string hint = did_you_mean(key.str(), names);
    context.problem(place_of(key.source()), std::string(key.str()), "is not a known section",
                    hint.empty() ? fmt::format("known: {}", one_of(names)) : hint);
  }
}

void need_some(const toml::table& root, std::string_view name, Target target, Context& context) {
  if (root.get(name)) return;
  context.trust(target);
  context.problem({job_file, 0, 0}, std::string(name), "at least one is needed",
                  fmt::format("add [[{}]]", name));
}

void check_rising(TomlReader& reader, const std::vector<Level>& levels) {
  if (levels.size() < 2 || !reader.clean()) return;
  const auto& below = levels[levels.size() - 2];
  if (levels.back().elevation_m > below.elevation_m) return;
  reader.problem("elevation", fmt::format("must be above that of level \"{}\"", below.id),
                 "list the levels from the lowest to the highest");
}

void check_order(TomlReader& reader, const AirTemperatures& air) {
  if (!reader.clean()) return;
  if (air.low_c > air.usual_c) reader.problem("air_low", "must not be above air_usual", "give all three");
  if (air.usual_c > air.high_c) reader.problem("air_high", "must not be below air_usual", "give all three");
}

void check_order(TomlReader& reader, const Supply& supply) {
  if (!reader.clean()) return;
  if (supply.delivered_c > supply.stored_c) reader.problem("delivered", "must not be above stored");
  if (supply.cold_c >= supply.delivered_c && supply.delivered_c > 0) {
    reader.problem("cold", "must be below delivered");
  }
  if (supply.tank_m3 > 0 && supply.heater_w == 0) {
    reader.problem("heater", "is missing", "a tank needs the power of its heater");
  }
  if (supply.heater_w > 0 && supply.tank_m3 == 0) {
    reader.problem("tank", "is missing",
                   "the heater is that of a tank; leave both out for one that never runs short");
  }
}

void check_order(TomlReader& reader, const ControlGroup& group) {
  if (!reader.clean()) return;
  if (group.setback_c > group.maintain_c) reader.problem("setback", "must not be above maintain");
  if (group.low_alarm_c >= group.high_alarm_c) reader.problem("low_alarm", "must be below high_alarm");
  if (group.high_cutout_c > 0 && group.high_cutout_c <= group.maintain_c) {
    reader.problem("cutout", "must be above maintain");
  }
  if (group.kind == ControlKind::entered_ambient && !group.entered_ambient_c) {
    reader.problem("ambient", "is missing", "control from an entered ambient needs the ambient");
  }
  if (group.when_lost == SensorLost::entered_ambient && !group.entered_ambient_c) {
    reader.problem("ambient", "is missing", "sensor_lost = \"ambient\" needs the ambient");
  }
}

/// As it can stand in a code on a label, and lead to the job: scheme, host, /j/ and its name, nothing behind.
bool is_page_address(std::string_view text) {
  if (!text.starts_with("https://") && !text.starts_with("http://")) return false;
  text.remove_prefix(text.find("//") + 2);
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789";
  const auto name = text.rfind('/') + 1;
  return text.find_first_of(letters) == 0 && name < text.size() && text.substr(0, name).ends_with("/j/") &&
         text.find_first_not_of(std::string(letters) + ".:-/_~%") == std::string_view::npos;
}

void check(TomlReader& reader, const Site& site) {
  if (site.page.empty() || is_page_address(site.page)) return;
  reader.problem("page", "must be the web address of the job's page, without # and ?",
                 "write \"https://pipes.example/j/hotel\"");
}

void check(TomlReader& reader, const Period& period, const std::vector<ControlGroup>& groups) {
  if (!reader.clean()) return;
  if (period.begin_s >= 86400) reader.problem("from", "must be before 24:00", "write \"00:00\"");
  const auto group = std::ranges::find(groups, period.group, &ControlGroup::id);
  if (period.setting != Period::Setting::temperature || group == groups.end()) return;
  if (group->high_cutout_c > 0 && period.hold_c >= group->high_cutout_c)
    reader.problem("hold", "must be below the group's cutout");
}

/// Hours that are not given come from the profile it is like; without one, every day is like every other.
void complete(TomlReader& reader, UseProfile& use) {
  if (!reader.clean() || !use.like.empty()) return;
  if (use.weekday_hours.empty()) {
    return reader.problem("weekday", "is missing",
                          "give 24 figures, or say what published profile it is like");
  }
  if (use.weekend_hours.empty()) {
    use.weekend_hours = use.weekday_hours;
    reader.assume("weekend", "as weekday", "no hours of their own were given for the weekend");
  }
  if (use.weekday_frac.empty()) {
    use.weekday_frac.assign(7, 1.0);
    reader.assume("days", "all alike", "no day was said to differ");
  }
}

void check(TomlReader& reader, const std::vector<FixtureUse>& draws, const Supply& supply) {
  if (!reader.clean()) return;
  const auto& last = draws.back();
  const auto same = [&](const FixtureUse& other) {
    return other.profile == last.profile && other.fixture == last.fixture;
  };
  if (std::ranges::count_if(draws, same) > 1) {
    reader.problem("fixture",
                   fmt::format("the draws of \"{}\" at {} are there twice", last.profile, last.fixture));
  }
  if (last.use_c && *last.use_c <= supply.cold_c)
    reader.problem("temperature", "must be above the cold water");
}

void check_order(TomlReader& reader, const DesignOptions& design) {
  if (!reader.clean()) return;
  for (std::size_t i = 1; i < design.thicknesses_m.size(); ++i) {
    if (design.thicknesses_m[i] > design.thicknesses_m[i - 1]) continue;
    return reader.problem("thicknesses", "must rise from value to value");
  }
}

/// A use that a space names, for when all of them are known.
struct NamedUse {
  Where where;
  std::string field, name;
};

void check_uses(const std::vector<NamedUse>& named, Context& context) {
  for (const auto& [where, field, name] : named) {
    const auto& published = known_profiles();
    if (context.knows(Target::profile, name) || std::ranges::find(published, name) != published.end())
      continue;
    auto names = context.names(Target::profile);
    names.insert(names.end(), published.begin(), published.end());
    const std::string near = did_you_mean(name, names);
    context.problem(where, field, fmt::format("there is no use profile \"{}\"", name),
                    near.empty() ? fmt::format("add a [[use]], or name one of {}", one_of(published)) : near);
  }
}

/// Returns the uses that spaces name.
std::vector<NamedUse> read_lists(const toml::table& root, Job& job, Context& context) {
  std::vector<NamedUse> uses;
  list(root, "level", Target::level, job.levels, context, [&](TomlReader& reader, Level& level) {
    describe(reader, level);
    check_rising(reader, job.levels);
  });
  list(root, "space", Target::space, job.spaces, context, [&](TomlReader& reader, Space& space) {
    describe(reader, space);
    check_order(reader, space.air);
    if (!space.use.empty()) uses.push_back({reader.where("use"), reader.field("use"), space.use});
  });
  list(root, "panel", Target::panel, job.panels, context,
       [&](TomlReader& reader, Panel& panel) { describe(reader, panel, job.units, job.requirements.rules); });
  const std::size_t assumed_before = context.assumptions.size();
  list(root, "group", Target::group, job.groups, context, [](TomlReader& reader, ControlGroup& group) {
    describe(reader, group);
    check_order(reader, group);
  });
  context.join_alike("group", job.groups.size(), assumed_before);
  list(root, "period", std::nullopt, job.periods, context, [&](TomlReader& reader, Period& period) {
    describe(reader, period);
    check(reader, period, job.groups);
  });
  list(root, "accept", std::nullopt, job.accepted, context,
       [](TomlReader& reader, Acceptance& item) { describe(reader, item); });
  list(root, "assumption", std::nullopt, job.assumptions, context,
       [](TomlReader& reader, Assumption& item) { describe(reader, item); });
  need_some(root, "level", Target::level, context);
  need_some(root, "space", Target::space, context);
  return uses;
}

void read_pins(const toml::table& root, std::string_view name, Pin::Kind kind, Job& job, Context& context) {
  list(root, name, std::nullopt, job.pins, context, [&](TomlReader& reader, Pin& pin) {
    pin.kind = kind;
    pin.place = {std::string(job_file), reader.where().line};
    describe(reader, pin);
    check(reader, pin);
  });
}

/// What the user pins or sets aside of circuits.
void read_circuit_wishes(const toml::table& root, Job& job, Context& context) {
  const rules::RuleSet set = job.requirements.rules;
  read_pins(root, "together", Pin::Kind::together, job, context);
  read_pins(root, "apart", Pin::Kind::apart, job, context);
  list(root, "override", std::nullopt, job.overrides, context,
       [&](TomlReader& reader, RuleOverride& by_user) {
         std::string value;
         describe(reader, by_user, value, set);
         check(reader, job, value);
       });
}

void read_units(const toml::table& root, Job& job, Context& context) {
  UnitsSection units;
  section(root, "units", context, [&](TomlReader& reader) { describe(reader, units); });
  job.units = context.system = units.show;
  job.paper = units.paper;
}

void read_sections(const toml::table& root, Job& job, Context& context) {
  section(root, "site", context, [&](TomlReader& reader) {
    describe(reader, job.site);
    check(reader, job.site);
  });
  section(root, "design", context, [&](TomlReader& reader) {
    describe_design(reader, job.requirements, job.design, job.units);
    check_order(reader, job.design);
  });
  section(root, "wiring", context,
          [&](TomlReader& reader) { describe(reader, job.wiring, job.requirements.rules); });
  section(root, "economics", context,
          [&](TomlReader& reader) { describe(reader, job.economics, job.units); });
  const std::string lowest = job.levels.empty() ? "" : job.levels.front().id;
  section(root, "supply", context, [&](TomlReader& reader) {
    describe(reader, job.supply, lowest);
    check_order(reader, job.supply);
  });
}

/// After the supply, whose cold water the draws are compared with.
void read_use(const toml::table& root, Job& job, Context& context) {
  const std::size_t assumed_before = context.assumptions.size();
  list(root, "use", Target::profile, job.profiles, context, [](TomlReader& reader, UseProfile& use) {
    describe(reader, use);
    complete(reader, use);
  });
  context.join_alike("use", job.profiles.size(), assumed_before);
  list(root, "draws", std::nullopt, job.fixture_uses, context, [&](TomlReader& reader, FixtureUse& draws) {
    describe(reader, draws);
    check(reader, job.fixture_uses, job.supply);
  });
}

}  // namespace

void read_job_toml(const Source& source, Job& job, Context& context) {
  const auto root = parse_toml(source, job_file, context);
  if (!root) {
    for (const Target target :
         {Target::level, Target::space, Target::panel, Target::group, Target::profile}) {
      context.trust(target);
    }
    return;
  }
  check_sections(*root, context);
  read_units(*root, job, context);
  section(*root, "rules", context, [&](TomlReader& reader) { describe_rules(reader, job.requirements); });
  const auto uses_of_spaces = read_lists(*root, job, context);
  read_sections(*root, job, context);
  read_use(*root, job, context);
  check_uses(uses_of_spaces, context);
  read_week(*root, source, job, context);
  read_circuit_wishes(*root, job, context);
}

}  // namespace firstdraw::job
