#include "desk/columns.hpp"

#include <algorithm>
#include <map>
#include <string_view>

#include "desk/column_lister.hpp"

namespace firstdraw::desk {

namespace {

constexpr const char* job_toml = "job.toml";

TableKind section(const std::string& name, std::string title) {
  return {name, std::move(title), name, job_toml, false, false};
}
TableKind list(const std::string& name, std::string title) {
  return {name, std::move(title), name, job_toml, true, false};
}
TableKind csv(const std::string& name, std::string title, std::string thing) {
  return {name, std::move(title), std::move(thing), name + ".csv", true, true};
}

std::vector<TableKind> make_kinds() {
  return {section("site", "Site"),
          section("units", "Units and paper"),
          section("rules", "Rules in force"),
          section("supply", "Hot water supply"),
          section("design", "Design choices"),
          section("wiring", "Wiring practice"),
          section("economics", "Costs"),
          list("level", "Levels"),
          list("space", "Spaces"),
          list("panel", "Panels"),
          list("group", "Control groups"),
          list("period", "Periods of the week"),
          list("use", "Use profiles"),
          list("draws", "Draws by fixture"),
          section("tariff", "Prices of electricity"),
          list("season", "Seasons"),
          section("controller", "Controllers"),
          section("week", "Week of settings"),
          list("comfort", "Comfort"),
          list("together", "Runs on one circuit"),
          list("apart", "Runs on circuits of their own"),
          list("override", "Rules set aside"),
          list("accept", "Accepted findings"),
          list("assumption", "Assumptions"),
          csv("runs", "Runs", "run"),
          csv("outlets", "Outlets", "outlet"),
          csv("circuits", "Known circuits", "circuit")};
}

using Describe = void (*)(ColumnLister&, const Setting&);

/// A section whose description needs nothing else.
template <class T>
void plain(ColumnLister& lister, const Setting&) {
  T sample{};
  describe(lister, sample);
}

const std::map<std::string, Describe, std::less<>>& descriptions() {
  static const std::map<std::string, Describe, std::less<>> all{
      {"site", plain<job::Site>},
      {"units", plain<job::UnitsSection>},
      {"rules",
       [](ColumnLister& v, const Setting&) {
         job::Requirements sample;
         describe_rules(v, sample);
       }},
      {"supply",
       [](ColumnLister& v, const Setting&) {
         job::Supply sample;
         describe(v, sample, "");
       }},
      {"design",
       [](ColumnLister& v, const Setting& setting) {
         job::Requirements rules;
         job::DesignOptions sample;
         describe_design(v, rules, sample, setting.system);
       }},
      {"wiring",
       [](ColumnLister& v, const Setting& setting) {
         job::WiringPractice sample;
         describe(v, sample, setting.rules);
       }},
      {"economics",
       [](ColumnLister& v, const Setting& setting) {
         job::Economics sample;
         describe(v, sample, setting.system);
       }},
      {"level", plain<job::Level>},
      {"space", plain<job::Space>},
      {"panel",
       [](ColumnLister& v, const Setting& setting) {
         job::Panel sample;
         describe(v, sample, setting.system, setting.rules);
       }},
      {"group", plain<job::ControlGroup>},
      {"period", plain<job::Period>},
      {"use", plain<job::UseProfile>},
      {"draws", plain<job::FixtureUse>},
      {"tariff", plain<job::Tariff>},
      {"season", plain<job::Season>},
      {"controller",
       [](ColumnLister& v, const Setting& setting) {
         job::ControllerLimits sample;
         describe(v, sample, setting.system);
       }},
      {"week", plain<job::WeekWishes>},
      {"comfort", plain<job::ComfortTarget>},
      {"together", plain<job::Pin>},
      {"apart", plain<job::Pin>},
      {"override",
       [](ColumnLister& v, const Setting& setting) {
         job::RuleOverride sample;
         std::string value;
         describe(v, sample, value, setting.rules);
       }},
      {"accept", plain<job::Acceptance>},
      {"assumption", plain<job::Assumption>},
      {"runs",
       [](ColumnLister& v, const Setting&) {
         job::Run sample;
         std::optional<double> low_c, usual_c, high_c;
         describe(v, sample, low_c, usual_c, high_c);
       }},
      {"outlets", plain<job::Outlet>},
      {"circuits", [](ColumnLister& v, const Setting&) {
         job::KnownCircuit sample;
         std::string runs;
         describe(v, sample, runs);
       }}};
  return all;
}

/// Names that a description takes for text, because they are judged when everything has been read.
void say_what_is_named(const std::string& table, std::vector<Column>& columns) {
  for (Column& column : columns) {
    const bool use =
        (table == "outlets" && column.key == "profile") || (table == "space" && column.key == "use");
    if (use) {
      column.kind = "reference";
      column.refers_to = "use";
      column.choices = job::known_profiles();
    }
    if (table == "circuits" && column.key == "runs") {
      column.kind = "list";
      column.refers_to = "runs";
    }
  }
}

const std::map<std::string, std::string, std::less<>>& words() {
  static const std::map<std::string, std::string, std::less<>> all{
      {"id", "Id"},
      {"air_low", "Coldest air"},
      {"air_usual", "Usual air"},
      {"air_high", "Hottest air"},
      {"runout_material", "Runout material"},
      {"breaker_cost_per_a", "Breaker cost per ampere"},
      {"hot_hold_at", "Hot hold at"},
      {"hot_hold_log", "Hot hold, tenfold reductions"},
      {"insulation_price", "Insulation price by volume"},
      {"insulation_fixed", "Insulation price by length"},
      {"life_years", "Life in years"},
      {"cutout", "High cut-out"},
      {"lowest", "Lowest"},
      {"safe_outlet_valve", "Safe-outlet valve"},
      {"ground_fault", "Ground-fault protection"},
      {"traced", "Heat traced"},
      {"passes", "Cable passes"},
      {"feed_node", "Fed at joint"},
      {"node", "Joint"},
      {"from", "From"},
      {"mixing_valve_node", "Joint of the mixing valve"},
      {"nodes", "Joints it stands near"},
      {"min_on", "Shortest time on"},
      {"min_off", "Shortest time off"}};
  return all;
}

}  // namespace

const std::vector<TableKind>& table_kinds() {
  static const std::vector<TableKind> kinds = make_kinds();
  return kinds;
}

const TableKind* find_kind(const std::string& table) {
  const auto found = std::ranges::find(table_kinds(), table, &TableKind::name);
  return found == table_kinds().end() ? nullptr : &*found;
}

std::vector<Column> columns_of(const std::string& table, const Setting& setting) {
  ColumnLister lister(setting);
  descriptions().at(table)(lister, setting);
  say_what_is_named(table, lister.columns);
  const TableKind* kind = find_kind(table);
  for (Column& column : lister.columns) {
    if (column.kind != "flag") continue;
    const bool cell = kind && kind->csv;
    column.choices = {cell ? "yes" : "true", cell ? "no" : "false"};
  }
  return std::move(lister.columns);
}

const Column* find_column(const std::vector<Column>& columns, const std::string& key) {
  const auto found = std::ranges::find(columns, key, &Column::key);
  return found == columns.end() ? nullptr : &*found;
}

std::string label_of(const std::string& key) {
  if (const auto known = words().find(key); known != words().end()) return known->second;
  std::string label = key;
  std::ranges::replace(label, '_', ' ');
  if (!label.empty() && label[0] >= 'a' && label[0] <= 'z')
    label[0] = static_cast<char>(label[0] - 'a' + 'A');
  return label;
}

}  // namespace firstdraw::desk
