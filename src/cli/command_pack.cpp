// `firstdraw pack`: the hand-over pack of a job.
#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <optional>

#include "cli/field_book.hpp"
#include "cli/findings_text.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/progress.hpp"
#include "cli/week_input.hpp"
#include "forecast/forecast.hpp"
#include "paper/pack.hpp"
#include "plan/checks.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw pack riverside -o riverside-pack",
     "PDF, workbook, drawings, plan.json and forecast.json in riverside-pack/"},
    {"firstdraw pack riverside -o riverside-pack --units metric",
     "the same for a reader who thinks in metres"},
    {"firstdraw pack riverside -o riverside-pack --no-forecast --no-week",
     "the plan alone, nothing simulated"},
    {"firstdraw pack riverside -o riverside-pack --json", "the files it wrote and the findings, as JSON"},
};

struct PackCommand {
  std::string folder, output;
  plan::Options options;
  bool no_forecast = false, week = false, no_week = false;
  double days = 7;
  bool no_records = false;
  StoreOptions store;

  /// With the week's sheets: as asked, else when the job says where its clock is.
  bool with_week(const job::Job& job) const { return !no_week && (week || !job.tariff.zone.empty()); }
};

Page show(const PackCommand& command, const job::Job& job, const std::vector<plan::Finding>& findings,
          const std::vector<paper::PackFile>& files, Page page) {
  TextTable table({{"File", ""}, {"What it is", "", Column::Kind::wrapping_text}});
  for (const paper::PackFile& file : files) table.add_row({{file.path.string()}, {file.what}});
  page.table(table);
  page.blank();
  page.facts({{"Findings", in_words(count(findings))}});
  if (!command.with_week(job) && !command.no_week)
    page.paragraph(
        "left out: a [tariff] section with the site's zone in job.toml adds its settings and proof.",
        "The week: ");
  if (exit_code_for(findings) == ExitCode::stop_finding) {
    page.paragraph(
        "The pack is complete, but a finding says stop: settle it, or accept it in job.toml, before anyone "
        "builds from it.",
        "Stop: ", Style::red);
  }
  page.caution(caution_of_a_design());
  return page;
}

nlohmann::json to_json(const std::vector<plan::Finding>& findings,
                       const std::vector<paper::PackFile>& files) {
  nlohmann::json json{{"files", nlohmann::json::array()},
                      {"counts", cli::to_json(count(findings))},
                      {"findings", plan::to_json(findings)}};
  for (const paper::PackFile& file : files) {
    json["files"].push_back({{"path", file.path.string()}, {"what", file.what}});
  }
  return json;
}

std::optional<forecast::Forecast> forecast_of(const PackCommand& command, const job::Job& job,
                                              const plan::Plan& plan, ProgressLine& progress) {
  if (command.no_forecast) return std::nullopt;
  forecast::ForecastOptions options;
  options.days = command.days;
  options.threads = command.options.threads;
  options.progress = [&progress](double done_frac) {
    progress.update("simulating", done_frac);
    return true;
  };
  return forecast::forecast(job, plan, options);
}

/// What stands beside the plan but for the forecast, which is made here.
job::Result<std::vector<paper::PackFile>> write(const PackCommand& command, const job::Job& job,
                                                const plan::Plan& plan, paper::Beside beside,
                                                ProgressLine& progress) {
  const auto forecast = forecast_of(command, job, plan, progress);
  if (forecast) beside.forecast = &*forecast;
  const auto report = [&progress](const std::string& stage, double done) { progress.update(stage, done); };
  return paper::write_pack(job, plan, command.output, report, beside);
}

settings::WeekAnswer week_of(const PackCommand& command, const job::Job& job, const plan::Plan& plan,
                             const settings::Inputs& inputs, ProgressLine& progress) {
  settings::WeekOptions options;
  options.proof.threads = options.search.threads = options.search.effort.threads = command.options.threads;
  return make_week_shown(job, plan, inputs, options, progress);
}

using MaybeField = std::optional<paper::FieldBook>;

std::expected<MaybeField, ExitCode> field_of(std::optional<paper::Recorded> recorded, const job::Job& job,
                                             const plan::Plan& plan, const Context& context) {
  if (!recorded) return MaybeField{};
  return field_book_of(*std::move(recorded), job, plan, context);
}

std::expected<std::optional<paper::Recorded>, ExitCode> records_of(const PackCommand& command,
                                                                   const Context& context) {
  if (command.no_records) return std::nullopt;
  return recorded_of(command.store, command.folder, context);
}

/// What the pack lists: its count and the exit code are of all of them.
std::vector<plan::Finding> findings_of(const plan::Plan& plan,
                                       const std::optional<settings::WeekAnswer>& week,
                                       const MaybeField& field) {
  std::vector<plan::Finding> all = plan.findings;
  if (week) all.insert(all.end(), week->findings.begin(), week->findings.end());
  if (field) all.insert(all.end(), field->findings.begin(), field->findings.end());
  plan::sort_findings(all);
  return all;
}

ExitCode run(const PackCommand& command, const Context& context) {
  auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  std::optional<settings::Inputs> inputs;
  if (command.with_week(*job)) {
    auto read = read_inputs_or_complain(*job, context);
    if (!read) return read.error();
    inputs = *std::move(read);
  }
  auto recorded = records_of(command, context);
  if (!recorded) return recorded.error();
  if (*recorded) paper::accept_as_recorded((*recorded)->records, *job);
  const plan::Plan plan = plan::make_plan(*job, command.options);
  const auto field = field_of(*std::move(recorded), *job, plan, context);
  if (!field) return field.error();
  ProgressLine progress(context.err(), context.terminal().progress && !context.json(),
                        context.terminal().width);
  std::optional<settings::WeekAnswer> week;
  if (inputs) week = week_of(command, *job, plan, *inputs, progress);
  if (week && week->stopped)
    return context.fail(ExitCode::interrupted, {complaint("", "stopped: no pack was written")});
  const auto files =
      write(command, *job, plan, {nullptr, week ? &*week : nullptr, *field ? &**field : nullptr}, progress);
  if (!files) return context.fail(ExitCode::cannot_write, files.error());
  const std::vector<plan::Finding> findings = findings_of(plan, week, *field);
  if (context.json()) {
    context.print(to_json(findings, *files));
  } else {
    context.print(show(command, *job, findings, *files, context.page()));
  }
  return exit_code_for(findings);
}

}  // namespace

void add_pack(Program& program) {
  CLI::App* command = program.add_command(
      "pack", "write the hand-over pack: PDF, workbook, drawings, plan.json, forecast.json", examples);
  const auto pack = std::make_shared<PackCommand>();
  add_job_argument(command, pack->folder);
  command->add_option("-o,--output", pack->output, "folder to write to; made if missing")
      ->type_name("DIR")
      ->required();
  CLI::Option* none =
      command->add_flag("--no-forecast", pack->no_forecast,
                        "leave out the sheets First draw and forecast.json; nothing is simulated");
  command->add_option("--days", pack->days, "how many days to simulate from Monday 00:00; 7 if not given")
      ->type_name("N")
      ->check(CLI::Range(0.05, 366.0))
      ->excludes(none);
  CLI::Option* week = command->add_flag(
      "--week", pack->week, "with the sheets of the week; so it is when job.toml names a time zone");
  command->add_flag("--no-week", pack->no_week, "without them: nothing is searched")->excludes(week);
  command->add_flag("--no-records", pack->no_records,
                    "blank test sheets, whatever is on record in the job's store");
  add_store_options(command, pack->store);
  add_plan_options(command, pack->options);
  program.when_called(command, [pack](Context& context) { return run(*pack, context); });
}

}  // namespace firstdraw::cli
