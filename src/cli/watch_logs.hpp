// What the forms of `firstdraw watch` that read a job's stored logs have in common.
#pragma once

#include <CLI/CLI.hpp>
#include <expected>
#include <string>
#include <vector>

#include "cli/context.hpp"
#include "cli/store_input.hpp"
#include "job/job.hpp"
#include "watch/evidence.hpp"
#include "watch/logged.hpp"
#include "week/zone.hpp"

namespace firstdraw::cli {

struct LogsOptions {
  std::string folder;
  StoreOptions store{};
  std::string zone{};        // --zone
  std::string from{}, to{};  // "2026-03-01", local; to: the last day, included
};
/// JOB, --store, --book and --zone; with `span` --from and --to.
void add_logs_options(CLI::App* command, LogsOptions& options, bool span);

/// A job with its zone and what was logged of it.
struct LogsRead {
  job::Job job;
  week::Zone zone;
  watch::Logged logged;
  std::vector<watch::ActionTaken> actions{};
};
/// Readings from --from to --to; without --from of the 31 days before the last reading; without --to to the
/// last reading. Every error is printed.
std::expected<LogsRead, ExitCode> read_logs_or_complain(const LogsOptions& options, const Context& context);
/// Of one local month ("2026-03"), with the actions recorded in it and `before_days` of readings before it.
struct MonthRead {
  LogsRead read;
  int year = 0, month = 0;
};
std::expected<MonthRead, ExitCode> read_month_or_complain(const LogsOptions& options,
                                                          const std::string& month, int before_days,
                                                          const Context& context);
/// "2026-03-01 to 2026-03-31", local days.
std::string span_text(const LogsRead& read);

}  // namespace firstdraw::cli
