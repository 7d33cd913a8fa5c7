#include "desk/column_lister.hpp"

#include <algorithm>
#include <array>

namespace firstdraw::desk {

namespace {

constexpr std::array<std::string_view, 24> measures{"length",
                                                    "size",
                                                    "area",
                                                    "volume",
                                                    "volume_flow",
                                                    "mass",
                                                    "temperature",
                                                    "temperature_difference",
                                                    "conductivity",
                                                    "film_coefficient",
                                                    "power",
                                                    "power_per_length",
                                                    "energy",
                                                    "voltage",
                                                    "current",
                                                    "current_per_length",
                                                    "resistance",
                                                    "resistance_per_length",
                                                    "capacitance_per_length",
                                                    "frequency",
                                                    "duration",
                                                    "angle",
                                                    "fraction",
                                                    "capacitance"};
static_assert(static_cast<std::size_t>(units::Kind::capacitance) + 1 == measures.size());

/// Each once, in their first order.
std::vector<std::string> distinct(std::string physics::Pipe::* member) {
  std::vector<std::string> names;
  for (const auto& pipe : physics::all_pipes())
    if (std::ranges::find(names, pipe.*member) == names.end()) names.push_back(pipe.*member);
  return names;
}

}  // namespace

std::string name_of(units::Kind kind) { return std::string(measures.at(static_cast<std::size_t>(kind))); }

std::optional<units::Kind> kind_of(const Column& column) {
  const auto found = std::ranges::find(measures, column.measures);
  if (found == measures.end()) return std::nullopt;
  return static_cast<units::Kind>(found - measures.begin());
}

std::string table_of(job::Target target) {
  using job::Target;
  switch (target) {
    case Target::level:
      return "level";
    case Target::space:
      return "space";
    case Target::panel:
      return "panel";
    case Target::group:
      return "group";
    case Target::cable:
      return "catalog";
    case Target::run:
      return "runs";
    case Target::outlet:
      return "outlets";
    case Target::node:
      return "node";
    case Target::profile:
      return "use";
    case Target::circuit:
      return "circuits";
  }
  return {};
}

std::vector<std::string> pipe_materials() { return distinct(&physics::Pipe::material); }
std::vector<std::string> pipe_types() { return distinct(&physics::Pipe::type); }

std::vector<std::string> insulation_names() {
  std::vector<std::string> names;
  for (const auto& insulation : physics::all_insulations()) {
    names.push_back(insulation.id);
    std::ranges::replace(names.back(), '-', ' ');
  }
  return names;
}

std::string ColumnLister::spelling_name(const void* spelling) {
  if (spelling == &job::time_of_day) return "time_of_day";
  if (spelling == &job::weekdays) return "weekdays";
  if (spelling == &job::month_day) return "month_day";
  if (spelling == &job::calendar_date) return "date";
  if (spelling == &job::hours) return "duration";
  return {};
}

Column& ColumnLister::refer(std::string_view key, job::Target target, bool required) {
  Column& column = add(key, "reference", required);
  column.refers_to = table_of(target);
  if (target == job::Target::cable) column.choices = setting_.cables;
  return column;
}

Column& ColumnLister::add(std::string_view key, std::string kind, bool required) {
  Column& column = columns.emplace_back();
  column.key = key;
  column.label = label_of(column.key);
  column.kind = std::move(kind);
  column.required = required;
  return column;
}

}  // namespace firstdraw::desk
