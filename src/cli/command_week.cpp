// `firstdraw week`: the settings of a job's week, with the proof that they keep what is asked.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "cli/draws_file.hpp"
#include "cli/findings_text.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/week_input.hpp"
#include "cli/week_text.hpp"
#include "job/context.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw week riverside", "what to key in, what it costs, what it keeps, what to watch"},
    {"firstdraw week riverside --quick", "the settings and their proof alone, in a fraction of the time"},
    {"firstdraw week riverside --toml --season winter",
     "a season's settings as set-points and [[period]] tables to paste into job.toml"},
    {"firstdraw week riverside --draws march.csv --json > week.json",
     "proven with draws that were recorded, answered for another program"},
};

struct WeekCommand {
  std::string folder, draws_file, step = "30 min", season;
  bool toml = false, quick = false;
  std::uint64_t seed = 1;
  int threads = 2;
  settings::WeekOptions options;
  WeekView view;
};

/// --step, --season and --draws; what is wrong with any of them.
class WeekReading {
 public:
  WeekReading(const WeekCommand& command, const job::Job& job, const plan::Plan& plan)
      : options(command.options) {
    read_step(command.step, job.controller);
    check_season(command, job.tariff.seasons);
    if (!command.draws_file.empty()) read_recorded(command.draws_file, job, plan);
    options.proof.seed = command.seed;
    options.proof.threads = options.search.threads = options.search.effort.threads = command.threads;
    if (command.quick || command.toml)
      options.alarms = options.frontier = options.wrong = options.improve = false;
  }

  settings::WeekOptions options;
  Diagnostics problems;
  ExitCode code = ExitCode::wrong_command_line;

 private:
  void read_step(const std::string& text, const job::ControllerLimits& controller) {
    constexpr double least_s = 300, hour_s = 3600;
    const auto step_s = units::parse(text, units::Kind::duration);
    if (!step_s) return problems.push_back(complaint("--step", step_s.error()));
    if (*step_s < least_s || std::fmod(hour_s, *step_s) != 0)
      return problems.push_back(
          complaint("--step", "must divide an hour and be 5 min or longer", "15 min and 30 min are usual"));
    if (controller.clock != job::ControllerLimits::Clock::none &&
        std::fmod(std::max(controller.clock_step_s, *step_s), std::min(controller.clock_step_s, *step_s)) !=
            0)
      return problems.push_back(complaint(
          "--step",
          fmt::format("does not fit the controller's clock_step of {}",
                      units::show(controller.clock_step_s, units::Kind::duration, units::System::metric))));
    options.search.step_s = *step_s;
  }

  void check_season(const WeekCommand& command, const std::vector<job::Season>& seasons) {
    if (command.season.empty()) return;
    std::vector<std::string> names;
    for (const job::Season& season : seasons) names.push_back(season.name);
    if (names.empty()) names.emplace_back("all year");
    if (std::ranges::find(names, command.season) != names.end()) return;
    const auto near = units::nearest(command.season, names);
    problems.push_back(complaint("--season",
                                 fmt::format("\"{}\" is not one of {}", command.season, job::one_of(names)),
                                 near ? fmt::format("did you mean {}?", *near) : ""));
  }

  void read_recorded(const std::string& file, const job::Job& job, const plan::Plan& plan) {
    const auto draws = read_draws_file(file, forecast::make_scene(job, plan, {}));
    if (draws) {
      options.proof.recorded = *draws;
      return;
    }
    problems.insert(problems.end(), draws.error().begin(), draws.error().end());
    code = ExitCode::job_unreadable;
  }
};

/// What the page shows and what the plan itself says; of several the gravest.
ExitCode exit_code_of(const plan::Plan& plan, const settings::WeekAnswer& week) {
  if (week.stopped) return ExitCode::interrupted;
  if (!week.unmet.empty()) return ExitCode::stop_finding;
  return std::max(exit_code_for(plan.findings), exit_code_for(week.findings));
}

void add_stops_of_the_plan(Page& page, const plan::Plan& plan) {
  const std::size_t stops = count(plan.findings).stops;
  if (stops == 0) return;
  page.blank();
  page.paragraph(fmt::format("the plan itself has {} (firstdraw plan lists them): settle them first.",
                             plural(stops, "open stop", "open stops")),
                 "Stop: ", Style::red);
}

ExitCode show(const WeekCommand& command, const job::Job& job, const plan::Plan& plan,
              const settings::WeekAnswer& week, const Context& context) {
  WeekView view = command.view;
  view.width = context.terminal().width;
  Page page = context.page();
  add_week_answer(page, job, week, view);
  add_stops_of_the_plan(page, plan);
  page.caution(caution_of_a_design());
  context.print(page);
  return exit_code_of(plan, week);
}

/// The settings alone, or why there are none.
ExitCode show_toml(const WeekCommand& command, const job::Job& job, const plan::Plan& plan,
                   const settings::WeekAnswer& week, const Context& context) {
  const auto wanted = [&command](const settings::SeasonAnswer& season) {
    return command.season.empty() || season.season.name == command.season;
  };
  const auto season = std::ranges::find_if(week.seasons, wanted);
  if (week.unmet.empty() && season != week.seasons.end()) {
    context.print(settings::as_toml(job, season->timetable));
    return exit_code_of(plan, week);
  }
  Diagnostics why;
  for (const std::string& text : week.unmet) why.push_back(complaint("", text));
  if (why.empty()) why.push_back(complaint("", "stopped before there were settings"));
  return context.fail(exit_code_of(plan, week), why);
}

ExitCode run(const WeekCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  const auto inputs = read_inputs_or_complain(*job, context);
  if (!inputs) return inputs.error();
  const plan::Plan plan = plan::make_plan(*job, {.threads = command.threads});
  const WeekReading reading(command, *job, plan);
  if (!reading.problems.empty()) return context.fail(reading.code, reading.problems);
  settings::WeekAnswer week;
  {
    ProgressLine progress(context.err(), context.terminal().progress, context.terminal().width);
    week = make_week_shown(*job, plan, *inputs, reading.options, progress);
  }
  if (command.toml) return show_toml(command, *job, plan, week, context);
  if (!context.json()) return show(command, *job, plan, week, context);
  context.print(settings::to_json(*job, week));
  return exit_code_of(plan, week);
}

void ask_search(CLI::App* command, WeekCommand& week) {
  command->add_option("--step", week.step, "step of the search, divides an hour; 30 min if not given")
      ->type_name("TIME");
  command
      ->add_option("--members", week.options.proof.members,
                   "buildings within the tolerances to prove it with; 20 if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 10'000));
  command
      ->add_option("--weeks", week.options.alarm_weeks,
                   "ordinary weeks to count false alarms in; 52 if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 5'200));
  command
      ->add_option("--draws", week.draws_file,
                   "measured draws, CSV: time (s), tap, flow (l/min), duration (s)")
      ->type_name("FILE");
  command->add_flag("--quick", week.quick,
                    "without what demands cost, alarms, readings, wrong settings and improvements");
  command->add_option("--seed", week.seed, "start of the random draws; the same seed gives the same answer")
      ->type_name("N");
  command->add_option("--threads", week.threads, "threads to use; the result is the same for any number")
      ->type_name("N")
      ->check(CLI::Range(1, 256));
}

void ask_answer(CLI::App* command, WeekCommand& week) {
  command->option_defaults()->group("What to show");
  week.view.sections = usual_week_sections();
  add_choices(command, "--show", week.view.sections, "sections to show, with commas between them",
              week_sections());
  command
      ->add_option("--worst", week.view.worst, "how many of the worst runs and taps to list; 10 if not given")
      ->type_name("N")
      ->check(CLI::Range(0, 1'000'000));
  command->add_flag("--all", week.view.all, "list every run");
  CLI::Option* toml = command->add_flag("--toml", week.toml,
                                        "the settings alone, as [[period]] tables to paste into job.toml");
  command->add_option("--season", week.season, "of this season; the first if not given")
      ->type_name("NAME")
      ->needs(toml);
}

}  // namespace

void add_week(Program& program) {
  CLI::App* command = program.add_command(
      "week", "the cheapest settings of a week that keep what is asked, and their proof", examples);
  const auto week = std::make_shared<WeekCommand>();
  add_job_argument(command, week->folder);
  ask_search(command, *week);
  ask_answer(command, *week);
  program.when_called(command, [week](Context& context) { return run(*week, context); });
}

}  // namespace firstdraw::cli
