// Reading a job for a command, with its errors in the form that was asked for.
#pragma once

#include <CLI/CLI.hpp>
#include <expected>
#include <string>

#include "cli/context.hpp"
#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {

/// The job, or the exit code after every error was printed. Units follow --units when it was given.
std::expected<job::Job, ExitCode> read_job_or_complain(const std::string& folder, const Context& context);

/// The positional JOB.
CLI::Option* add_job_argument(CLI::App* command, std::string& folder);

/// --samples, --seed and --threads of the uncertainty analysis.
void add_plan_options(CLI::App* command, plan::Options& options);

}  // namespace firstdraw::cli
