#include "serve/readings_in.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "plan/json_number.hpp"
#include "prove/field_tests.hpp"
#include "prove/readings_file.hpp"
#include "tables/csv.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// A readings file of one row.
std::string file_of(const Cells& cells) {
  std::vector<std::string> header, row;
  for (const auto& [key, text] : cells) {
    header.push_back(key);
    row.push_back(text);
  }
  return tables::csv_line(header) + tables::csv_line(row);
}

Cells completed(Cells cells, const std::optional<AskedInstrument>& instrument, const std::string& at) {
  const auto fill = [&cells](const char* key, const std::string& text) {
    if (!text.empty()) cells.try_emplace(key, text);
  };
  const bool names_one = cells.contains("instrument") || cells.contains("serial");
  if (instrument && !names_one) {
    fill("instrument", instrument->name);
    fill("serial", instrument->serial);
    fill("calibration_due", instrument->calibration_due);
    if (instrument->class_frac) fill("error", fmt::format("{:g} %", 100 * *instrument->class_frac));
  }
  // A readings file has no zone: the clock on the wall.
  constexpr std::size_t to_the_minute = 16;
  fill("at", at.substr(0, to_the_minute));
  return cells;
}

job::Diagnostic nothing_measured() {
  job::Diagnostic problem;
  problem.field = "value";
  problem.message = "is missing: nothing was measured";
  return problem;
}

ReadRow read_row(const Cells& cells, const job::Job& job, const plan::Plan& plan) {
  if (!cells.contains("what") || !cells.contains("value")) {
    ReadRow row{std::nullopt, nothing_measured()};
    if (!cells.contains("what"))
      row.problem.field = "what", row.problem.message = "is missing: what was measured?";
    return row;
  }
  auto readings = prove::read_readings(file_of(cells), "", job, plan);
  if (!readings) {
    job::Diagnostic problem = readings.error().front();
    problem.line = problem.column = 0;
    return {std::nullopt, std::move(problem)};
  }
  if (readings->empty()) return {std::nullopt, nothing_measured()};
  readings->front().place = {};
  return {std::move(readings->front()), {}};
}

json problem_verdict(const job::Diagnostic& problem) {
  return {{"grade", nullptr},          {"least", nullptr},
          {"most", nullptr},           {"usual", nullptr},
          {"said", problem.message},   {"suspect", ""},
          {"to_do", problem.hint},     {"means", ""},
          {"warnings", json::array()}, {"problem", problem_json(problem)}};
}

}  // namespace

std::vector<ReadRow> read_rows(const std::vector<Cells>& rows,
                               const std::optional<AskedInstrument>& instrument, const std::string& at,
                               const job::Job& job, const plan::Plan& plan) {
  std::vector<ReadRow> read;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    read.push_back(read_row(completed(rows[i], instrument, at), job, plan));
    job::Diagnostic& problem = read.back().problem;
    if (!read.back().reading)
      problem.field = fmt::format("readings[{}]{}{}", i, problem.field.empty() ? "" : ".", problem.field);
  }
  return read;
}

json judged_json(const std::vector<ReadRow>& rows, const Looked& looked) {
  std::vector<prove::Reading> readings;
  for (const ReadRow& row : rows)
    if (row.reading) readings.push_back(*row.reading);
  const std::vector<prove::Verdict> verdicts = prove::judge(looked.job(), looked.plan(), readings);
  json list = json::array();
  std::size_t next = 0;
  for (const ReadRow& row : rows)
    list.push_back(row.reading ? verdict_json(verdicts[next++]) : problem_verdict(row.problem));
  return list;
}

json verdict_json(const prove::Verdict& verdict) {
  json out = prove::words_json(verdict);
  out.update({{"least", plan::json_number(verdict.expected.least)},
              {"most", plan::json_number(verdict.expected.most)},
              {"usual", plan::json_number(verdict.expected.usual)}});
  return out;
}

json cells_json(const prove::Reading& reading, const job::Job& job) {
  json cells = json::object();
  const auto csv = tables::read_csv(prove::write_readings({reading}, job));
  if (!csv || csv->rows.empty()) return cells;
  const auto& row = csv->rows.front();
  for (std::size_t i = 0; i < row.size() && i < csv->header.size(); ++i)
    if (!row[i].text.empty()) cells[csv->header[i].text] = row[i].text;
  return cells;
}

}  // namespace firstdraw::serve
