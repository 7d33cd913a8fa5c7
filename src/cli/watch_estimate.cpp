// `firstdraw watch estimate`: how a building's insulation, air and cable look in its logs.
#include <fmt/format.h>

#include <memory>

#include "cli/watch_forms.hpp"
#include "cli/watch_logs.hpp"
#include "plan/plan.hpp"
#include "watch/estimate.hpp"
#include "watch/watch_json.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch estimate riverside", "of the last 31 days that were logged"},
    {"firstdraw watch estimate riverside --from 2026-03-01 --to 2026-03-14 --json",
     "of two weeks, for another program"},
};

std::string share(const watch::Estimated& e) {
  if (!e.known) return "not told";
  return fmt::format("{:.0f} % ({:.0f} to {:.0f})", 100 * e.usual, 100 * e.low, 100 * e.high);
}

std::string air(const watch::Estimated& e, units::System system) {
  if (!e.known) return "not told";
  const auto show = [system](double c) { return units::show(c, units::Kind::temperature, system); };
  return fmt::format("{} ({} to {})", show(e.usual), show(e.low), show(e.high));
}

void add_estimates(Page& page, const std::vector<watch::GroupEstimate>& all, units::System system) {
  TextTable table({{"Group", "", Column::Kind::text},
                   {"Run", "", Column::Kind::text},
                   {"Heat let through", "of the design's", Column::Kind::text},
                   {"Air", "", Column::Kind::text},
                   {"Cable output", "of the design's", Column::Kind::text},
                   {"Readings", "", Column::Kind::number},
                   {"Left over", "K rms", Column::Kind::number}});
  for (const watch::GroupEstimate& one : all)
    table.add_row({{one.group},
                   {one.run},
                   {share(one.conductance_frac)},
                   {air(one.air_c, system)},
                   {share(one.cable_frac)},
                   {fmt::format("{}", one.used)},
                   {one.used > 0 ? fmt::format("{:.2f}", one.residual_k) : "–"}});
  page.table(table);
  for (const watch::GroupEstimate& one : all) {
    for (const std::string& text : one.said) page.paragraph(text, one.group + ": ");
    for (const std::string& text : one.warnings) page.paragraph(text, one.group + ": ", Style::dim);
  }
}

nlohmann::json as_json(const LogsRead& read, const std::vector<watch::GroupEstimate>& estimates,
                       const std::vector<watch::Change>& changes) {
  nlohmann::json groups = nlohmann::json::array(), found = nlohmann::json::array();
  for (const auto& one : estimates) groups.push_back(watch::to_json(one));
  for (const auto& one : changes) found.push_back(watch::to_json(one));
  return {{"site", {{"name", read.job.site.name}}},
          {"from", watch::utc_text(read.logged.from_ms)},
          {"to", watch::utc_text(read.logged.to_ms)},
          {"groups", groups},
          {"changes", found}};
}

ExitCode run(const LogsOptions& options, const Context& context) {
  const auto read = read_logs_or_complain(options, context);
  if (!read) return read.error();
  const plan::Plan plan = plan::make_plan(read->job, {.samples = 0});
  const auto estimates = watch::estimate(read->job, plan, read->logged);
  const auto changes = watch::changes(read->logged, read->job.units, 0.01, &read->zone);
  if (context.json()) {
    context.print(as_json(*read, estimates, changes));
    return ExitCode::ok;
  }
  Page page = context.page();
  page.heading(fmt::format("{}: what the logs say, {}", read->job.site.name, span_text(*read)));
  if (estimates.empty())
    page.paragraph("No group has a logged sensor: log its temperature under the group's id.");
  else
    add_estimates(page, estimates, read->job.units);
  page.heading("Changes");
  for (const watch::Change& change : changes) page.paragraph(change.said, "- ");
  if (changes.empty()) page.paragraph("None in the daily figures that chance would not bring.");
  page.caution("Estimates from logs rank what to look at; they are no test. Measure before you act.");
  context.print(page);
  return ExitCode::ok;
}

}  // namespace

void add_watch_estimate(Program& program, CLI::App* watch) {
  CLI::App* command = program.add_command(
      watch, "estimate", "insulation, air and cable as the logs show them, and when something changed",
      examples);
  const auto options = std::make_shared<LogsOptions>();
  add_logs_options(command, *options, true);
  program.when_called(command, [options](Context& context) { return run(*options, context); });
}

}  // namespace firstdraw::cli
