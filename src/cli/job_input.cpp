#include "cli/job_input.hpp"

#include "job/folder.hpp"

namespace firstdraw::cli {

std::expected<job::Job, ExitCode> read_job_or_complain(const std::string& folder, const Context& context) {
  auto job = job::read_job(folder);
  if (!job) return std::unexpected(context.fail(ExitCode::job_unreadable, job.error()));
  job->units = chosen_units(context.options()).value_or(job->units);
  return *std::move(job);
}

CLI::Option* add_job_argument(CLI::App* command, std::string& folder) {
  return command->add_option("JOB", folder, "job folder: job.toml, runs.csv, outlets.csv, catalog/")
      ->required();
}

void add_plan_options(CLI::App* command, plan::Options& options) {
  command
      ->add_option("--samples", options.samples,
                   "how many buildings to try within the tolerances; 2000 if not given")
      ->type_name("N")
      ->check(CLI::Range(1, 1'000'000));
  command
      ->add_option("--seed", options.seed, "start of their random numbers; the same seed gives the same plan")
      ->type_name("N");
  command->add_option("--threads", options.threads, "threads to use; the result is the same for any number")
      ->type_name("N")
      ->check(CLI::Range(1, 256));
}

}  // namespace firstdraw::cli
