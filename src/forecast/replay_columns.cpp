#include "forecast/replay_columns.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "job/context.hpp"

namespace firstdraw::forecast {

namespace {

using units::Kind;

constexpr LogUseHelp uses_known[] = {
    {LogUse::time, "time", "", "s, min, h, or dates with a time of day (2026-03-02T06:30:00, local)"},
    {LogUse::supply, "supply", "", "temperature of the water that enters the piping"},
    {LogUse::air, "air", "[SPACE]", "air around the pipes, everywhere or in one space"},
    {LogUse::flow, "flow", "[TAP]", "flow out of a tap; the tap may be left out when there is one only"},
    {LogUse::water, "at", "PLACE", "recorded water at a tap or at the far end of a run"},
    {LogUse::wall, "wall", "RUN", "recorded pipe wall at the far end of a run"},
    {LogUse::reading, "reading", "GROUP", "recorded reading of a controller's sensor"},
};

/// The use named by "at:P1", and its place; null when there is none.
const LogUseHelp* find_use(std::string_view what, std::string& place) {
  for (const LogUseHelp& known : uses_known) {
    const bool same = what == known.name;
    if (same && (known.place.empty() || known.place.starts_with('['))) return &known;
    if (known.place.empty() || !what.starts_with(known.name)) continue;
    const auto rest = what.substr(known.name.size());
    if (rest.size() < 2 || rest.front() != ':') continue;
    place = rest.substr(1);
    return &known;
  }
  return nullptr;
}

std::string known_uses(std::string_view wrong) {
  std::vector<std::string> names, spellings;
  for (const LogUseHelp& use : uses_known) {
    names.emplace_back(use.name);
    spellings.push_back(spelling(use));
  }
  const auto near = units::nearest(wrong.substr(0, wrong.find(':')), names);
  if (!near) return "known: " + job::one_of(spellings);
  const auto at = std::ranges::find(names, *near);
  return fmt::format("did you mean {}?", spellings[static_cast<std::size_t>(at - names.begin())]);
}

/// kg/s in one "kg/h" or "lb/min"; 0 for a unit that is none of mass flow.
double mass_flow_kg_per_s(std::string_view unit) {
  const auto slash = unit.find('/');
  if (slash == std::string_view::npos) return 0;
  const auto mass_kg = units::to_si(1, unit.substr(0, slash), Kind::mass);
  const auto time_s = units::to_si(1, unit.substr(slash + 1), Kind::duration);
  return mass_kg && time_s ? *mass_kg / *time_s : 0;
}

template <class Thing>
std::vector<std::string> ids_of(const std::vector<Thing>& things) {
  std::vector<std::string> ids;
  ids.reserve(things.size());
  for (const Thing& thing : things) ids.push_back(thing.id);
  return ids;
}

std::optional<int> position(const std::vector<std::string>& ids, std::string_view id) {
  const auto at = std::ranges::find(ids, id);
  if (at == ids.end()) return std::nullopt;
  return static_cast<int>(at - ids.begin());
}

class Matcher {
 public:
  Matcher(std::string_view file, const job::Job& job, const draw::Scene& scene,
          std::vector<job::Diagnostic>& problems)
      : file_(file), job_(job), scene_(scene), problems_(problems) {}

  /// The column, unless something is wrong with it.
  std::optional<LogColumn> match(const tables::CsvCell& cell, const tables::CsvHeading& heading,
                                 const std::string& what) {
    cell_ = &cell;
    heading_ = heading.name;
    LogColumn column;
    column.heading = heading.name;
    column.unit = heading.unit;
    column.what = what;
    const LogUseHelp* help = find_use(what, column.place);
    if (help == nullptr) {
      problem(fmt::format("\"{}\" is not what a column can be", what), known_uses(what));
      return std::nullopt;
    }
    column.use = help->use;
    if (!settle_place(column) || !settle_unit(column)) return std::nullopt;
    return column;
  }

 private:
  void problem(std::string message, std::string hint = {}) {
    problems_.push_back(
        {std::string(file_), cell_->line, cell_->column, heading_, std::move(message), std::move(hint)});
  }

  bool find(LogColumn& column, const std::vector<std::string>& ids, std::string_view things) {
    const auto found = position(ids, column.place);
    if (!found)
      problem(fmt::format("there is no {} \"{}\"", things, column.place),
              job::did_you_mean(column.place, ids));
    column.index = found.value_or(draw::none);
    return found.has_value();
  }

  bool settle_place(LogColumn& column) {
    switch (column.use) {
      case LogUse::air:
        return column.place.empty() || find(column, ids_of(job_.spaces), "space");
      case LogUse::flow:
        return column.place.empty() ? take_only_tap(column) : find(column, ids_of(scene_.taps), "tap");
      case LogUse::water:
        return settle_water(column);
      case LogUse::wall:
        return find(column, ids_of(scene_.runs), "run");
      case LogUse::reading:
        return find(column, ids_of(scene_.groups), "control group");
      default:
        return true;
    }
  }

  bool take_only_tap(LogColumn& column) {
    if (scene_.taps.size() != 1)
      problem(fmt::format("which tap does it flow from? there are {}", scene_.taps.size()), "write flow:TAP");
    column.index = 0;
    column.place = scene_.taps.empty() ? "" : scene_.taps.front().id;
    return scene_.taps.size() == 1;
  }

  bool settle_water(LogColumn& column) {
    if (const auto tap = position(ids_of(scene_.taps), column.place)) {
      column.index = *tap;
      column.tap = true;
      return true;
    }
    std::vector<std::string> ids = ids_of(scene_.runs);
    std::ranges::copy(ids_of(scene_.taps), std::back_inserter(ids));  // only to name the nearest
    return find(column, ids, "tap or run");
  }

  bool settle_unit(LogColumn& column) {
    if (column.unit.empty()) return true;
    const Kind kind = kind_of(column.use);
    if (kind == Kind::volume_flow) column.kg_per_s = mass_flow_kg_per_s(column.unit);
    if (column.kg_per_s > 0) return true;
    const auto one = units::to_si(1, column.unit, kind);
    if (!one) problem(one.error(), kind == Kind::volume_flow ? "or a mass per time: kg/s, kg/h, lb/min" : "");
    return one.has_value();
  }

  std::string_view file_;
  const job::Job& job_;
  const draw::Scene& scene_;
  std::vector<job::Diagnostic>& problems_;
  const tables::CsvCell* cell_ = nullptr;
  std::string heading_;
};

/// What the user said of a heading, else the heading itself when it is a use; empty: the column is not used.
std::string use_of(const std::string& heading, const std::vector<ColumnUse>& uses) {
  const auto said = std::ranges::find(uses, heading, &ColumnUse::column);
  if (said != uses.end()) return said->what;
  std::string place;
  return find_use(heading, place) != nullptr ? heading : std::string();
}

void judge_uses(const std::vector<ColumnUse>& uses, const std::vector<std::string>& headings,
                std::string_view file, int line, std::vector<job::Diagnostic>& problems) {
  for (std::size_t i = 0; i < uses.size(); ++i) {
    const ColumnUse& use = uses[i];
    if (std::ranges::find(headings, use.column) == headings.end()) {
      const std::string near = job::did_you_mean(use.column, headings);
      problems.push_back({std::string(file), line, 0, use.column, "the log has no such column",
                          near.empty() ? "it has " + job::one_of(headings) : near});
    }
    const auto first = std::ranges::find(uses, use.column, &ColumnUse::column);
    if (first - uses.begin() < static_cast<std::ptrdiff_t>(i))
      problems.push_back({std::string(file), line, 0, use.column, "is mapped twice", ""});
  }
}

}  // namespace

std::span<const LogUseHelp> log_use_help() { return uses_known; }

std::string spelling(const LogUseHelp& use) {
  if (use.place.empty()) return std::string(use.name);
  if (use.place.starts_with('[')) {
    return fmt::format("{0} or {0}:{1}", use.name, use.place.substr(1, use.place.size() - 2));
  }
  return fmt::format("{}:{}", use.name, use.place);
}

bool drives(LogUse use) { return use < LogUse::water; }

Kind kind_of(LogUse use) {
  if (use == LogUse::time) return Kind::duration;
  return use == LogUse::flow ? Kind::volume_flow : Kind::temperature;
}

std::vector<LogColumn> match_columns(const std::vector<tables::CsvCell>& header, std::string_view file,
                                     const std::vector<ColumnUse>& uses, const job::Job& job,
                                     const draw::Scene& scene, std::vector<std::string>& unused,
                                     std::vector<job::Diagnostic>& problems) {
  std::vector<LogColumn> columns;
  std::vector<std::string> headings;
  Matcher matcher(file, job, scene, problems);
  for (std::size_t i = 0; i < header.size(); ++i) {
    const tables::CsvHeading heading = tables::split_heading(header[i].text);
    const std::string& name = headings.emplace_back(heading.name);
    const std::string what = use_of(name, uses);
    if (what.empty()) {
      unused.push_back(name);
      continue;
    }
    auto column = matcher.match(header[i], heading, what);
    if (!column) continue;
    column->cell = i;
    const bool again = drives(column->use) && std::ranges::any_of(columns, [&](const LogColumn& other) {
                         return other.use == column->use && other.place == column->place;
                       });
    if (again)
      problems.push_back({std::string(file), header[i].line, header[i].column, name,
                          fmt::format("another column is \"{}\" already", what), ""});
    else
      columns.push_back(*std::move(column));
  }
  judge_uses(uses, headings, file, header.empty() ? 1 : header.front().line, problems);
  return columns;
}

}  // namespace firstdraw::forecast
