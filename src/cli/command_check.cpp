// `firstdraw check`: reads the job and says what is wrong with it, before any physics.
#include <fmt/format.h>

#include <memory>

#include "cli/findings_text.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/week_input.hpp"
#include "piping/network.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw check riverside", "every error in the files, or every finding of the survey"},
    {"firstdraw check riverside --assumptions", "also what the program assumed because the files do not say"},
    {"firstdraw check riverside --format json", "for another program to read"},
};

struct CheckOptions {
  std::string folder, format;
  bool assumptions = false;
};

struct Survey {
  double pipe_m = 0, traced_m = 0;
  int outlets = 0;
};

Survey survey_of(const job::Job& job) {
  Survey survey;
  for (const job::Run& run : job.runs) {
    survey.pipe_m += run.length_m;
    if (run.traced) survey.traced_m += run.length_m;
  }
  for (const job::Outlet& outlet : job.outlets) survey.outlets += outlet.count;
  return survey;
}

/// What a [tariff] was understood as; nothing for a job without one.
using Prices = std::optional<settings::Inputs>;

std::vector<job::Assumption> assumptions_of(const job::Job& job, const Prices& prices) {
  std::vector<job::Assumption> all = job.assumptions;
  if (prices) all.insert(all.end(), prices->assumptions.begin(), prices->assumptions.end());
  return all;
}

std::string in_words(const job::Job& job, const settings::Inputs& inputs) {
  return fmt::format("{}, {}, year {}, {}, {}",
                     inputs.tariff.name.empty() ? job.tariff.file : inputs.tariff.name, job.tariff.zone,
                     inputs.year, plural(job.tariff.holidays.size(), "holiday", "holidays"),
                     job.tariff.seasons.empty() ? "one set of settings all year"
                                                : plural(job.tariff.seasons.size(), "season", "seasons"));
}

Page show(const job::Job& job, const std::vector<plan::Finding>& findings, const CheckOptions& options,
          const Prices& prices, Page page) {
  const Survey survey = survey_of(job);
  const auto length = [&job](double length_m) {
    return units::show(length_m, units::Kind::length, job.units);
  };
  std::vector<std::pair<std::string, std::string>> facts{
      {"Job", job.site.name},
      {"Piping", fmt::format("{}, {} of pipe, {} of it traced", plural(job.runs.size(), "run", "runs"),
                             length(survey.pipe_m), length(survey.traced_m))},
      {"Outlets", fmt::format("{}", survey.outlets)},
      {"Control", fmt::format("{}, {}, {}", plural(job.groups.size(), "group", "groups"),
                              plural(job.panels.size(), "panel", "panels"),
                              plural(job.cables.size(), "cable sheet", "cable sheets"))},
      {"Assumed", fmt::format("{} that the files leave out{}",
                              plural(assumptions_of(job, prices).size(), "value", "values"),
                              options.assumptions ? "" : " (--assumptions lists them)")},
  };
  if (prices) facts.insert(facts.end() - 1, {"Tariff", in_words(job, *prices)});
  page.facts(facts);
  if (options.assumptions) add_assumptions(page, assumptions_of(job, prices));
  add_findings(page, findings);
  return page;
}

nlohmann::json to_json(const job::Job& job, const std::vector<plan::Finding>& findings,
                       const Prices& prices) {
  const Survey survey = survey_of(job);
  return {{"job",
           {{"name", job.site.name},
            {"runs", job.runs.size()},
            {"pipe_m", survey.pipe_m},
            {"traced_m", survey.traced_m},
            {"outlets", survey.outlets}}},
          {"counts", cli::to_json(count(findings))},
          {"findings", plan::to_json(findings)},
          {"assumptions", cli::to_json(assumptions_of(job, prices))}};
}

ExitCode run(const CheckOptions& options, const Context& context) {
  const auto job = read_job_or_complain(options.folder, context);
  if (!job) return job.error();
  Prices prices;
  if (has_tariff(*job)) {
    auto inputs = read_inputs_or_complain(*job, context);
    if (!inputs) return inputs.error();
    prices = *std::move(inputs);
  }
  const std::vector<plan::Finding> findings = plan::survey(*job, piping::build_network(*job));
  if (context.json()) {
    context.print(to_json(*job, findings, prices));
  } else {
    context.print(show(*job, findings, options, prices, context.page()));
  }
  return exit_code_for(findings);
}

}  // namespace

void add_check(Program& program) {
  CLI::App* command = program.add_command("check", "read a job and say what is wrong with it", examples);
  const auto options = std::make_shared<CheckOptions>();
  add_job_argument(command, options->folder);
  add_choice(command, "--format", options->format, "the same as --json, or not", {"text", "json"});
  command->add_flag("--assumptions", options->assumptions, "list what was assumed");
  program.when_called(command, [options](Context& context) {
    if (!options->format.empty()) context.set_json(options->format == "json");
    return run(*options, context);
  });
}

}  // namespace firstdraw::cli
