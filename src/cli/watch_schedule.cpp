// `firstdraw watch schedule`: does the controller do what was programmed?
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "cli/watch_forms.hpp"
#include "cli/watch_logs.hpp"
#include "plan/plan.hpp"
#include "watch/schedule_check.hpp"
#include "watch/watch_json.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch schedule riverside", "the periods of job.toml against the last 31 logged days"},
};

std::string clock_text(const watch::ScheduleCheck& check) {
  if (!check.told) return "not told";
  if (check.clock_off_s == 0 && check.weekday_off == 0) return "right";
  std::string text;
  if (check.weekday_off != 0) text = fmt::format("{:+.0f} d ", check.weekday_off);
  const auto minutes = static_cast<int>(std::lround(std::abs(check.clock_off_s) / 60));
  return text + fmt::format("{}{}:{:02} h", check.clock_off_s < 0 ? "-" : "+", minutes / 60, minutes % 60);
}

Page show(const LogsRead& read, const std::vector<watch::ScheduleCheck>& checks, Page page) {
  page.heading(fmt::format("{}: schedule, {}", read.job.site.name, span_text(read)));
  if (checks.empty()) {
    page.paragraph("No group has a logged set-point or sensor.");
    return page;
  }
  TextTable table({{"Group", "", Column::Kind::text},
                   {"As programmed", "of the time", Column::Kind::number},
                   {"Controller's clock", "", Column::Kind::text}});
  for (const watch::ScheduleCheck& check : checks)
    table.add_row({{check.group},
                   {check.told ? fmt::format("{:.0f} %", 100 * check.agrees_frac) : "–"},
                   {clock_text(check)}});
  page.table(table);
  for (const watch::ScheduleCheck& check : checks)
    for (const std::string& text : check.said) page.paragraph(text, check.group + ": ");
  return page;
}

ExitCode run(const LogsOptions& options, const Context& context) {
  const auto read = read_logs_or_complain(options, context);
  if (!read) return read.error();
  const plan::Plan plan = plan::make_plan(read->job, {.samples = 0});
  const auto checks = watch::check_schedule(read->job, plan, read->logged, read->zone);
  if (!context.json()) {
    context.print(show(*read, checks, context.page()));
    return ExitCode::ok;
  }
  nlohmann::json groups = nlohmann::json::array();
  for (const auto& check : checks) groups.push_back(watch::to_json(check));
  context.print(nlohmann::json{{"site", {{"name", read->job.site.name}}},
                               {"zone", read->zone.name},
                               {"from", watch::utc_text(read->logged.from_ms)},
                               {"to", watch::utc_text(read->logged.to_ms)},
                               {"groups", groups}});
  return ExitCode::ok;
}

}  // namespace

void add_watch_schedule(Program& program, CLI::App* watch) {
  CLI::App* command =
      program.add_command(watch, "schedule", "does the controller do what was programmed?", examples);
  const auto options = std::make_shared<LogsOptions>();
  add_logs_options(command, *options, true);
  program.when_called(command, [options](Context& context) { return run(*options, context); });
}

}  // namespace firstdraw::cli
