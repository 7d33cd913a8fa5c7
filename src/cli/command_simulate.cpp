// `firstdraw simulate`: the network in time, and what water each tap gives on its first draw.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "cli/draws_file.hpp"
#include "cli/findings_text.hpp"
#include "cli/interrupt.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/progress.hpp"
#include "cli/simulate_files.hpp"
#include "cli/simulate_text.hpp"
#include "job/context.hpp"
#include "job/write_files.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw simulate riverside", "a week: how long each tap waits, what grows, what it costs"},
    {"firstdraw simulate riverside --ensemble 200 --threads 4",
     "200 buildings that differ by their tolerances"},
    {"firstdraw simulate riverside --fault wet-insulation:R-04=3 --csv wet",
     "the same week with something wrong; the tables go to wet/"},
    {"firstdraw simulate riverside --days 2 --draws monday.csv --json > monday.json",
     "draws that were recorded, answered for another program"},
};

constexpr double json_record_s = 3600;

struct SimulateCommand {
  std::string folder, csv_folder, draws_file;
  std::vector<std::string> faults;
  bool days_given = false;
  double file_record_min = 10;
  forecast::ForecastOptions options;
  SimulateView view;
};

/// --fault, --tapping and --draws, as the forecast wants them; what is wrong with any of them.
class Reading {
 public:
  Reading(const SimulateCommand& command, const job::Job& job, const plan::Plan& plan)
      : options(command.options) {
    read_faults(command.faults, job, plan);
    check_tapping();
    if (!command.draws_file.empty()) read_recorded(command, job, plan);
  }

  forecast::ForecastOptions options;
  Diagnostics problems;
  ExitCode code = ExitCode::wrong_command_line;

 private:
  void read_faults(const std::vector<std::string>& texts, const job::Job& job, const plan::Plan& plan) {
    for (const std::string& text : texts) {
      const auto fault = forecast::read_fault(text, job, plan);
      if (fault) {
        options.faults.push_back(*fault);
      } else {
        problems.push_back(complaint("--fault", fault.error()));
      }
    }
  }

  void check_tapping() {
    if (options.tapping.empty() || !draw::tapping_profile(options.tapping).empty()) return;
    const std::vector<std::string> names = draw::tapping_profile_names();
    const auto near = units::nearest(options.tapping, names);
    problems.push_back(complaint("--tapping",
                                 fmt::format("\"{}\" is not one of {}", options.tapping, job::one_of(names)),
                                 near ? fmt::format("did you mean {}?", *near) : ""));
  }

  void read_recorded(const SimulateCommand& command, const job::Job& job, const plan::Plan& plan) {
    const auto draws = read_draws_file(command.draws_file, forecast::make_scene(job, plan, {}));
    if (draws) {
      options.recorded = *draws;
      if (!command.days_given) cover_recorded();
      return;
    }
    problems.insert(problems.end(), draws.error().begin(), draws.error().end());
    code = ExitCode::job_unreadable;
  }

  /// Whole days until the last tap is closed.
  void cover_recorded() {
    double last_s = 0;
    for (const draw::Draw& draw : options.recorded) last_s = std::max(last_s, draw.open_s + draw.duration_s);
    options.days = std::max(1.0, std::ceil(last_s / draw::day_s));
  }
};

forecast::Forecast simulate(const job::Job& job, const plan::Plan& plan, forecast::ForecastOptions options,
                            const Context& context) {
  const Interrupt interrupt;
  ProgressLine progress(context.err(), context.terminal().progress, context.terminal().width);
  options.progress = [&progress](double done_frac) {
    progress.update("simulating", done_frac);
    return !Interrupt::asked();
  };
  return forecast::forecast(job, plan, options);
}

Page show(const job::Job& job, const forecast::Forecast& forecast, const SimulateCommand& command,
          Page page) {
  add_forecast(page, job, forecast, command.view);
  if (!command.csv_folder.empty()) page.paragraph(command.csv_folder, "Tables in ", Style::dim);
  page.caution(caution_of_a_design());
  return page;
}

ExitCode run(const SimulateCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  const plan::Plan plan = plan::make_plan(*job, {.threads = command.options.threads});
  Reading reading(command, *job, plan);
  if (!reading.problems.empty()) return context.fail(reading.code, reading.problems);
  if (context.json()) reading.options.record_every_s = json_record_s;
  if (!command.csv_folder.empty()) reading.options.record_every_s = 60 * command.file_record_min;
  const forecast::Forecast forecast = simulate(*job, plan, reading.options, context);
  if (!command.csv_folder.empty()) {
    const auto written = job::write_files(simulate_files(*job, forecast), command.csv_folder);
    if (!written) return context.fail(ExitCode::cannot_write, written.error());
  }
  if (context.json()) {
    context.print(forecast::to_json(*job, forecast));
  } else {
    context.print(show(*job, forecast, command, context.page()));
  }
  return forecast.stopped ? ExitCode::interrupted : exit_code_for(plan.findings);
}

void ask_time(CLI::App* command, forecast::ForecastOptions& options, bool& days_given) {
  command
      ->add_option_function<double>(
          "--days",
          [&options, &days_given](double days) {
            options.days = days;
            days_given = true;
          },
          "how many days from Monday 00:00; 7 if not given")
      ->type_name("N")
      ->check(CLI::Range(0.05, 366.0));
  command
      ->add_option("--seed", options.seed, "start of the random draws; the same seed gives the same answer")
      ->type_name("N");
  command
      ->add_option("--ensemble", options.ensemble,
                   "how many buildings to try within the tolerances, each with its own draws; 1 if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 100'000));
  command->add_option("--threads", options.threads, "threads to use; the result is the same for any number")
      ->type_name("N")
      ->check(CLI::Range(1, 256));
  command->add_flag("--cold-start", options.cold_start, "everything at the air's temperature at first");
  command->add_flag("--axial-mixing", options.axial_mixing, "hot and cold water mix along the pipe");
}

std::string fault_names() {
  std::vector<std::string> names;
  for (const forecast::FaultHelp& fault : forecast::fault_help()) names.emplace_back(fault.name);
  return job::one_of(names);
}

void ask_draws(CLI::App* command, SimulateCommand& simulate) {
  command->option_defaults()->group("Other draws, something wrong");
  CLI::Option* tapping = command
                             ->add_option("--tapping", simulate.options.tapping,
                                          "EU tapping profile at every shower and bath: 3XS … S, M, L … 4XL")
                             ->type_name("PROFILE");
  command
      ->add_option("--draws", simulate.draws_file,
                   "recorded draws, CSV: time (s), tap, flow (l/min), duration (s)")
      ->type_name("FILE")
      ->excludes(tapping);
  command
      ->add_option(
          "--fault", simulate.faults,
          "something wrong, KIND:PLACE or KIND:PLACE=VALUE; repeat it for more than one. KIND is one of " +
              fault_names())
      ->type_name("FAULT")
      ->allow_extra_args(false);
}

void ask_answer(CLI::App* command, SimulateCommand& simulate) {
  command->option_defaults()->group("What to show");
  simulate.view.sections = usual_simulate_sections();
  add_choices(command, "--show", simulate.view.sections, "sections to show, with commas between them",
              simulate_sections());
  command
      ->add_option("--worst", simulate.view.worst,
                   "how many of the worst taps and runs to list; 10 if not given")
      ->type_name("N")
      ->check(CLI::Range(0, 1'000'000));
  command->add_flag("--all", simulate.view.all, "list every tap and every run");
  CLI::Option* csv = command
                         ->add_option("--csv", simulate.csv_folder,
                                      "also write outlets, runs, groups, draws and series as CSV there")
                         ->type_name("DIR");
  command
      ->add_option("--csv-minutes", simulate.file_record_min,
                   "minutes between the rows of series.csv; 10 if not given")
      ->type_name("N")
      ->check(CLI::Range(0.25, 60.0))
      ->needs(csv);
}

}  // namespace

void add_simulate(Program& program) {
  CLI::App* command = program.add_command(
      "simulate", "live through some days: what water each tap gives, and when", examples);
  const auto simulate = std::make_shared<SimulateCommand>();
  simulate->options.record_every_s = 0;
  add_job_argument(command, simulate->folder);
  ask_time(command, simulate->options, simulate->days_given);
  ask_draws(command, *simulate);
  ask_answer(command, *simulate);
  program.when_called(command, [simulate](Context& context) { return run(*simulate, context); });
}

}  // namespace firstdraw::cli
