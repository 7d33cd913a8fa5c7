// `firstdraw watch report`: the month a water management plan asks for.
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "cli/findings_text.hpp"
#include "cli/watch_forms.hpp"
#include "cli/watch_logs.hpp"
#include "paper/evidence_page.hpp"
#include "plan/plan.hpp"
#include "watch/evidence.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch report riverside --month 2026-03", "how hot what was for how long, and what was done"},
    {"firstdraw watch report riverside --month 2026-03 -o march.pdf", "the same as a page to sign and file"},
    {"firstdraw watch report riverside --month 2026-03 --json > march.json", "the same for another program"},
};

/// Readings before the month help to see when something changed.
constexpr int before_days = 28;

struct ReportCommand {
  LogsOptions logs;
  std::string month, output;
};

std::string hours(double h) { return std::isnan(h) ? "–" : fmt::format("{:.1f}", h); }
std::string degrees(double c, units::System system) {
  return units::show(c, units::Kind::temperature, system);
}

void add_places(Page& page, const watch::Evidence& month, units::System system) {
  TextTable table({{"Place", "", Column::Kind::wrapping_text},
                   {"Limits", "", Column::Kind::text},
                   {"Logged", "h", Column::Kind::number},
                   {"Missing", "h", Column::Kind::number},
                   {"Below", "h", Column::Kind::number},
                   {"on end", "h", Column::Kind::number},
                   {"Above", "h", Column::Kind::number},
                   {"In growth band", "h", Column::Kind::number},
                   {"Coldest", "", Column::Kind::number},
                   {"Mean", "", Column::Kind::number},
                   {"Hottest", "", Column::Kind::number}});
  for (const watch::PlaceEvidence& place : month.places)
    table.add_row(
        {{place.what},
         {fmt::format("{} / {}", degrees(place.least_limit_c, system), degrees(place.most_limit_c, system))},
         {hours(place.logged_h)},
         {hours(place.missing_h)},
         {std::isnan(place.least_limit_c) ? "–" : hours(place.below_h)},
         {std::isnan(place.least_limit_c) ? "–" : hours(place.longest_below_h)},
         {std::isnan(place.most_limit_c) ? "–" : hours(place.above_h)},
         {hours(place.band_h)},
         {degrees(place.least_c, system)},
         {degrees(place.mean_c, system)},
         {degrees(place.most_c, system)}});
  page.table(table);
  for (const watch::PlaceEvidence& place : month.places)
    if (!place.limit_basis.empty()) page.paragraph(place.limit_basis, place.what + ": limits by ");
}

/// The coldest reading of each day that was logged.
std::string days_text(const watch::PlaceEvidence& place, units::System system) {
  std::string text;
  for (std::size_t d = 0; d < place.day_least_c.size(); ++d) {
    if (std::isnan(place.day_least_c[d])) continue;
    text += fmt::format("{}{}: {}", text.empty() ? "" : ", ", d + 1,
                        units::show_number(place.day_least_c[d], units::Kind::temperature, system));
  }
  return text.empty() ? "nothing was logged" : text;
}

void add_rest(Page& page, const watch::Evidence& month, units::System system) {
  page.heading(
      fmt::format("Coldest reading by day, {}", units::display_unit(units::Kind::temperature, system)));
  for (const watch::PlaceEvidence& place : month.places)
    page.paragraph(days_text(place, system), place.what + ": ");
  page.heading("What was done");
  for (const watch::ActionTaken& action : month.actions)
    page.paragraph(fmt::format("{} ({}, record {})", action.text, action.who, action.record),
                   action.at + " ");
  if (month.actions.empty()) page.paragraph("No action was recorded.");
  if (!month.oddities.empty()) {
    page.heading("Odd in the logs");
    for (const watch::Oddity& oddity : month.oddities) page.paragraph(oddity.said, "- ");
  }
  if (!month.findings.empty()) {
    page.heading("Findings");
    add_findings(page, month.findings);
  }
  page.heading("Notes");
  for (const std::string& note : month.notes) page.paragraph(note, "- ");
}

ExitCode run(const ReportCommand& command, const Context& context) {
  const auto month = read_month_or_complain(command.logs, command.month, before_days, context);
  if (!month) return month.error();
  const LogsRead& read = month->read;
  const plan::Plan plan = plan::make_plan(read.job, {.samples = 0});
  const watch::Judged judged =
      watch::judge(read.job, plan, read.logged, read.zone, month->year, month->month);
  const watch::Evidence page_of = watch::evidence(read.job, plan, read.logged, read.zone, month->year,
                                                  month->month, read.actions, judged);
  if (!command.output.empty()) {
    const auto written = paper::write_evidence(read.job, page_of, command.output);
    if (!written) return context.fail(ExitCode::cannot_write, written.error());
  }
  if (context.json()) {
    context.print(watch::to_json(read.job, page_of));
    return exit_code_for(page_of.findings);
  }
  Page page = context.page();
  page.heading(fmt::format("{}: water temperatures of {}", read.job.site.name, command.month));
  page.paragraph(
      fmt::format("Local time of {}. Guideline: {}.", page_of.zone, read.job.requirements.guideline));
  add_places(page, page_of, read.job.units);
  add_rest(page, page_of, read.job.units);
  page.caution(
      "Evidence of temperatures, not of the absence of bacteria. Water hot enough to hold bacteria "
      "down can scald.");
  context.print(page);
  return exit_code_for(page_of.findings);
}

}  // namespace

void add_watch_report(Program& program, CLI::App* watch) {
  CLI::App* command = program.add_command(
      watch, "report", "the month's temperatures, times below and above limits, and what was done", examples);
  const auto report = std::make_shared<ReportCommand>();
  add_logs_options(command, report->logs, false);
  command->add_option("--month", report->month, "local month, 2026-03")->type_name("YYYY-MM")->required();
  command->add_option("-o,--output", report->output, "also write it as a PDF page, to be signed and filed")
      ->type_name("FILE");
  program.when_called(command, [report](Context& context) { return run(*report, context); });
}

}  // namespace firstdraw::cli
