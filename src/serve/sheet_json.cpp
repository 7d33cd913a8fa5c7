#include "serve/sheet_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "desk/sheet.hpp"
#include "serve/view_json.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

json step_json(const std::optional<desk::Step>& step) {
  return step ? json{{"label", step->label}, {"by", step->by}} : json();
}

json column_json(const desk::Column& column) {
  json out{{"key", column.key},
           {"label", column.label},
           {"kind", column.kind},
           {"required", column.required},
           {"measures", column.measures}};
  if (!column.choices.empty()) out["choices"] = column.choices;
  if (!column.refers_to.empty()) out["refers_to"] = column.refers_to;
  if (!column.unit.empty()) out["unit"] = column.unit;
  return out;
}

json row_problems(const std::string& table, const desk::Row& row) {
  json list = json::array();
  for (const job::Diagnostic& problem : row.problems) {
    json one = problem_json(problem);
    one["table"] = table;
    one["row"] = row.id;
    list.push_back(std::move(one));
  }
  return list;
}

json table_json(const desk::Table& table) {
  json columns = json::array(), rows = json::array();
  for (const desk::Column& column : table.columns) columns.push_back(column_json(column));
  for (const desk::Row& row : table.rows)
    rows.push_back({{"id", row.id}, {"cells", json(row.cells)}, {"problems", row_problems(table.name, row)}});
  return {{"name", table.name},
          {"title", table.title},
          {"many", table.many},
          {"columns", std::move(columns)},
          {"rows", std::move(rows)}};
}

}  // namespace

units::System units_of(const desk::Snapshot& snapshot) {
  if (snapshot.job) return snapshot.job->units;
  for (const desk::Table& table : desk::tables_of(snapshot.text))
    if (table.name == "units" && !table.rows.empty()) {
      const auto show = table.rows.front().cells.find("show");
      if (show != table.rows.front().cells.end() && show->second == "metric") return units::System::metric;
    }
  return units::System::us;
}

json sheet_json(const desk::Shared& snapshot, const std::optional<desk::Step>& undo,
                const std::optional<desk::Step>& redo) {
  json tables = json::array();
  for (const desk::Table& table : desk::tables_of(snapshot->text, snapshot->problems))
    tables.push_back(table_json(table));
  return {{"revision", snapshot->revision}, {"units", name_of(units_of(*snapshot))},
          {"undo", step_json(undo)},        {"redo", step_json(redo)},
          {"tables", std::move(tables)},    {"problems", problems_json(snapshot->problems)}};
}

}  // namespace firstdraw::serve
