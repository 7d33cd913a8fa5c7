#include "paper/workbook.hpp"

#include <fmt/format.h>
#include <xlsxwriter.h>

#include <algorithm>
#include <cmath>

#include "paper/file_out.hpp"
#include "paper/type.hpp"
#include "paper/week_words.hpp"
#include "paper/workbook_writer.hpp"

namespace firstdraw::paper {
namespace {

void runs(WorkbookWriter& writer, const job::Job& job, const plan::Plan& plan) {
  const Show show(job);
  const std::string length = show.unit(Kind::length), size = show.unit(Kind::size),
                    degree = show.unit(Kind::temperature), per_length = show.unit(Kind::power_per_length);
  const char *one = "0.0", *two = "0.00", *three = "0.000", *whole = "0", *share = "0.0 %";
  const std::vector<Field> fields{{"Run", 12},
                                  {"From", 12},
                                  {"To", 12},
                                  {"Level", 16},
                                  {"Space", 20},
                                  {"Group", 12},
                                  {"Circuit", 9},
                                  {"Pipe", 20},
                                  {headed("Length", length), 10, two},
                                  {"Insulation", 26},
                                  {headed("Thickness", size), 11, three},
                                  {"Sized for", 12},
                                  {"Heating cable", 22},
                                  {"Passes", 8, whole},
                                  {headed("Cable", length), 10, two},
                                  {headed("Loss length", length), 12, two},
                                  {"Valves", 8, whole},
                                  {"Supports", 9, whole},
                                  {headed("Loss", per_length), 11, two},
                                  {headed("Cable output", per_length), 13, two},
                                  {"Spare at worst", 10, share},
                                  {headed("Held at maintain", degree), 12, one},
                                  {headed("Held at setback", degree), 12, one},
                                  {headed("Worst cold", degree), 11, one},
                                  {headed("Worst hot", degree), 11, one},
                                  {headed("Control stuck on", degree), 12, one},
                                  {headed("Sensor failed", degree), 12, one},
                                  {headed("P5", degree), 9, one},
                                  {headed("P50", degree), 9, one},
                                  {headed("P95", degree), 9, one},
                                  {"Holds, probability", 12, share},
                                  {"Warm-up (h)", 10, two},
                                  {"Energy (kWh/day)", 11, two}};
  std::vector<std::vector<Cell>> rows;
  for (std::size_t index = 0; index < job.runs.size(); ++index) {
    const job::Run& run = job.runs[index];
    const plan::RunPlan& p = plan.runs[index];
    const bool traced = p.cable != piping::none;
    const double none = std::nan("");
    const auto if_traced = [&](double value) { return traced ? value : none; };
    const auto degrees = [&](double temp_c) { return if_traced(show.value(temp_c, Kind::temperature)); };
    rows.push_back({run.id,
                    run.from,
                    run.to,
                    level_name(job, run.level),
                    space_name(job, run.space),
                    run.group,
                    id_or_empty(plan.circuits, p.circuit),
                    pipe_name(run.pipe),
                    show.value(run.length_m, Kind::length),
                    insulation_name(run.insulation),
                    p.insulation.nominal_thickness_m > 0
                        ? show.value(p.insulation.nominal_thickness_m, Kind::size)
                        : none,
                    p.insulation.made_for,
                    traced ? cable_name(job, p.cable) : "",
                    if_traced(p.passes),
                    if_traced(show.value(p.cable_length_m, Kind::length)),
                    if_traced(show.value(p.loss_length_m, Kind::length)),
                    static_cast<double>(run.valves),
                    static_cast<double>(run.supports),
                    if_traced(show.value(p.loss_w_per_m, Kind::power_per_length)),
                    if_traced(show.value(p.output_w_per_m, Kind::power_per_length)),
                    if_traced(p.spare_frac),
                    degrees(p.at_maintain_c),
                    degrees(p.at_setback_c),
                    degrees(p.worst_cold_c),
                    degrees(p.worst_hot_c),
                    degrees(p.stuck_on_c),
                    degrees(p.open_loop_c),
                    degrees(p.water_c.p5),
                    degrees(p.water_c.p50),
                    degrees(p.water_c.p95),
                    if_traced(p.holds_prob),
                    if_traced(p.warm_up_s / 3600),
                    if_traced(p.energy_kwh_per_day)});
  }
  writer.sheet("Runs", fields, rows);
}

void materials(WorkbookWriter& writer, const job::Job& job, const plan::Plan& plan) {
  const std::vector<Field> fields{{"Section", 18}, {"Item", 30},
                                  {"Detail", 44},  {"Quantity", 10, "0.0"},
                                  {"Unit", 9},     {headed("Price", job.economics.currency), 12, "0.00"},
                                  {"Basis", 50}};
  std::vector<std::vector<Cell>> rows;
  for (const plan::MaterialLine& line : plan.materials)
    rows.push_back({line.section, line.item, line.detail, line.quantity, line.unit, line.price, line.basis});
  writer.sheet("Materials", fields, rows);
}

void plan_settings(WorkbookWriter& writer, const plan::Plan& plan) {
  std::vector<std::vector<Cell>> rows;
  for (const plan::Setting& setting : plan.settings)
    rows.push_back({setting.group, setting.name, setting.value, setting.note, std::string()});
  writer.sheet("Settings", {{"Group", 14}, {"Setting", 34}, {"Value", 16}, {"Note", 60}, {"As left", 16}},
               rows);
}

void finding_rows(WorkbookWriter& writer, const std::vector<plan::Finding>& all) {
  std::vector<std::vector<Cell>> rows;
  for (const plan::Finding& finding : all)
    rows.push_back({plan::to_string(finding.severity), finding.accepted ? "accepted" : "open", finding.id,
                    place_name(finding), finding.what, finding.todo, citation_text(finding.citation),
                    finding.accepted_by, finding.accepted_reason, finding.accepted_date});
  writer.sheet("Findings",
               {{"Severity", 9},
                {"State", 10},
                {"Finding", 20},
                {"Where", 18},
                {"What is wrong", 60},
                {"What to do", 60},
                {"Source", 40},
                {"Accepted by", 18},
                {"Reason", 40},
                {"Accepted on", 12}},
               rows);
}

void assumption_rows(WorkbookWriter& writer, const Pack& pack) {
  std::vector<std::vector<Cell>> rows;
  for (const job::Assumption& each : pack.plan.assumptions)
    rows.push_back({each.field, each.value, each.why});
  if (pack.week)
    for (const job::Assumption& each : pack.week->assumptions)
      rows.push_back({each.field, each.value, each.why});
  writer.sheet("Assumptions", {{"Field", 36}, {"Assumed", 20}, {"Why", 80}}, rows);
}

std::string write_all(const Pack& pack, const std::filesystem::path& path, long long created_s) {
  const job::Job& job = pack.job;
  const plan::Plan& plan = pack.plan;
  lxw_workbook* book = workbook_new(path.c_str());
  if (!book) return "no memory for the workbook";
  std::string title = clean_text(job.site.name).substr(0, 120),
              author = clean_text(job.site.prepared_by).substr(0, 120);
  lxw_doc_properties properties{};
  title = clean_text(title);
  author = clean_text(author);
  properties.title = title.data();
  properties.author = author.data();
  properties.created = static_cast<time_t>(created_s);
  workbook_set_properties(book, &properties);
  WorkbookWriter writer(book);
  runs(writer, job, plan);
  write_circuits(writer, job, plan);
  write_panels(writer, job, plan);
  write_load(writer, plan);
  materials(writer, job, plan);
  if (has_week(pack))
    write_week_settings(writer, pack);
  else
    plan_settings(writer, plan);
  finding_rows(writer, all_findings(pack));
  assumption_rows(writer, pack);
  if (pack.forecast) write_forecast(writer, job, *pack.forecast);
  if (has_week(pack)) write_week(writer, pack);
  const lxw_error error = workbook_close(book);
  return error == LXW_NO_ERROR ? "" : lxw_strerror(error);
}

}  // namespace

job::Result<void> write_workbook(const Pack& pack, const std::filesystem::path& path, long long created_s) {
  return write_beside(
      path, [&](const std::filesystem::path& beside) { return write_all(pack, beside, created_s); });
}

}  // namespace firstdraw::paper
