// What a week needs besides a job and a plan, read for a command with its errors.
#pragma once

#include <CLI/CLI.hpp>
#include <expected>

#include "cli/context.hpp"
#include "cli/progress.hpp"
#include "job/job.hpp"
#include "plan/plan.hpp"
#include "settings/settings.hpp"

namespace firstdraw::cli {

/// The job says something of prices or of the calendar of a year.
bool has_tariff(const job::Job& job);

/// Calendar and prices, or the exit code after every error was printed.
std::expected<settings::Inputs, ExitCode> read_inputs_or_complain(const job::Job& job,
                                                                  const Context& context);

/// make_week with a progress line; Ctrl-C stops it and keeps what is done.
settings::WeekAnswer make_week_shown(const job::Job& job, const plan::Plan& plan,
                                     const settings::Inputs& inputs, settings::WeekOptions options,
                                     ProgressLine& progress);

}  // namespace firstdraw::cli
