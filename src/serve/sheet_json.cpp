#include "serve/sheet_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "desk/sheet.hpp"
#include "serve/view_json.hpp"

namespace firstdraw::serve {
namespace {

JsonText step_json(const std::optional<desk::Step>& step) {
  return step ? JsonText{{"label", step->label}, {"by", step->by}} : JsonText();
}

JsonText column_json(const desk::Column& column) {
  std::vector<JsonText::Pair> pairs{{"key", column.key},
                                    {"label", column.label},
                                    {"kind", column.kind},
                                    {"required", column.required},
                                    {"measures", column.measures}};
  if (!column.choices.empty()) pairs.emplace_back("choices", JsonText::list(column.choices));
  if (!column.refers_to.empty()) pairs.emplace_back("refers_to", column.refers_to);
  if (!column.unit.empty()) pairs.emplace_back("unit", column.unit);
  return JsonText::object(pairs);
}

JsonText row_json(const std::string& table, const desk::Row& row) {
  const auto problem = [&](const job::Diagnostic& each) {
    nlohmann::json one = problem_json(each);
    one["table"] = table;
    one["row"] = row.id;
    return JsonText::as_it_is(text_of(one));
  };
  return {{"id", row.id},
          {"cells", JsonText::object(row.cells)},
          {"problems", JsonText::list(row.problems, problem)}};
}

JsonText table_json(const desk::Table& table) {
  return {
      {"name", table.name},
      {"title", table.title},
      {"many", table.many},
      {"columns", JsonText::list(table.columns, column_json)},
      {"rows", JsonText::list(table.rows, [&](const desk::Row& row) { return row_json(table.name, row); })}};
}

}  // namespace

units::System units_of(const desk::Snapshot& snapshot) {
  if (snapshot.job) return snapshot.job->units;
  for (const desk::Table& table : snapshot.tables)
    if (table.name == "units" && !table.rows.empty()) {
      const auto show = table.rows.front().cells.find("show");
      if (show != table.rows.front().cells.end() && show->second == "metric") return units::System::metric;
    }
  return units::System::us;
}

JsonText sheet_json(const desk::Shared& snapshot, const std::optional<desk::Step>& undo,
                    const std::optional<desk::Step>& redo) {
  return {{"revision", snapshot->revision},
          {"units", name_of(units_of(*snapshot))},
          {"undo", step_json(undo)},
          {"redo", step_json(redo)},
          {"tables", JsonText::list(snapshot->tables, table_json)},
          {"problems", JsonText::as_it_is(text_of(problems_json(snapshot->problems)))}};
}

}  // namespace firstdraw::serve
