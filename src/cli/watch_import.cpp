// `firstdraw watch import`: a logger's file into the series of a job's records.
#include <fmt/format.h>

#include <chrono>
#include <filesystem>
#include <memory>

#include "cli/job_input.hpp"
#include "cli/store_input.hpp"
#include "cli/watch_forms.hpp"
#include "cli/watch_import_answer.hpp"
#include "cli/watch_log_file.hpp"
#include "job/context.hpp"
#include "job/read_files.hpp"
#include "paper/file_out.hpp"
#include "plan/plan.hpp"
#include "store/rfc3339.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch import riverside --log may.csv",
     "guess how the file is written, read it and store it; a guess with doubts is shown and stores nothing"},
    {"firstdraw watch import riverside --log may.csv --dry-run --save-format logger.toml",
     "what would be read, and the guess as a text to correct"},
    {"firstdraw watch import riverside --log june.csv --format logger.toml",
     "read the next month by that text"},
};

struct ImportCommand {
  std::string folder, log, format, save_format, who;
  bool yes = false, dry_run = false;
  StoreOptions store;
};

ExitCode complain(const std::string& path, std::string what, std::string hint, const Context& context) {
  return context.fail(ExitCode::job_unreadable, {{path, 0, 0, "", std::move(what), std::move(hint)}});
}

std::expected<std::string, ExitCode> read_format_file(const std::string& path, const Context& context) {
  job::Context problems;
  if (!std::filesystem::is_regular_file(path))
    return std::unexpected(complain(path, "there is no such format file", "check the path", context));
  auto text = job::read_text("", path, problems);
  if (!text) return std::unexpected(context.fail(ExitCode::job_unreadable, problems.problems));
  return *std::move(text);
}

std::vector<std::string> circuits_of(const job::Job& job) {
  plan::Options unsampled;
  unsampled.samples = 0;
  std::vector<std::string> ids;
  for (const auto& circuit : plan::make_plan(job, unsampled).circuits) ids.push_back(circuit.id);
  return ids;
}

/// The format that was given, else a guess.
std::expected<void, ExitCode> find_format(const ImportCommand& command, const job::Job& job, LogFile& log,
                                          ImportAnswer& answer, const Context& context) {
  const auto circuits = circuits_of(job);
  if (!command.format.empty()) {
    const auto toml = read_format_file(command.format, context);
    if (!toml) return std::unexpected(toml.error());
    auto format = watch::read_format(*toml, command.format, job, circuits);
    if (!format) return std::unexpected(context.fail(ExitCode::job_unreadable, format.error()));
    answer.format = *std::move(format);
    answer.format_from = command.format;
    return {};
  }
  constexpr std::size_t enough = 1U << 20U;
  auto guess = watch::guess_format(log.start(enough), command.log, job, circuits);
  if (!guess) return std::unexpected(context.fail(ExitCode::job_unreadable, {guess.error()}));
  answer.format = std::move(guess->format);
  answer.format_from = command.yes ? "a guess, confirmed with --yes" : "a guess";
  answer.sure_frac = guess->sure_frac;
  answer.doubts = std::move(guess->doubts);
  answer.preview = std::move(guess->preview);
  return {};
}

/// The record of an earlier import of the same bytes.
std::expected<bool, ExitCode> is_known(const store::Store& store, ImportAnswer& answer,
                                       const Context& context) {
  store::Wanted wanted;
  wanted.kind = store::RecordKind::log_import;
  const auto records = store.records(answer.book, wanted);
  if (!records) return std::unexpected(complain(records.error(), false, context));
  for (const store::Record& record : *records) {
    const auto body = nlohmann::json::parse(record.body, nullptr, false);
    if (!body.is_object() || body.value("sha256", "") != answer.sha256) continue;
    answer.known_since = record.stored_at;
    answer.record = record.number;
    return true;
  }
  return false;
}

std::expected<void, ExitCode> write_series(store::Store& store, ImportAnswer& answer,
                                           const Context& context) {
  for (const watch::LogSeries& series : answer.read.series) {
    const auto id =
        store.series(answer.book, {0, series.column.series, series.column.quantity, series.column.place});
    if (!id) return std::unexpected(complain(id.error(), true, context));
    const auto count = store.write(*id, series.samples);
    if (!count) return std::unexpected(complain(count.error(), true, context));
    answer.series.push_back({series.column.series, *count});
  }
  return {};
}

/// Readings first, the record last: an import that was cut short is simply done again.
std::expected<void, ExitCode> store_log(const ImportCommand& command, const std::string& who,
                                        ImportAnswer& answer, const Context& context) {
  auto store = open_store_or_complain(command.store, command.folder, true, context);
  if (!store) return std::unexpected(store.error());
  answer.store = store->where();
  answer.book = book_of(command.store, command.folder);
  const auto known = is_known(*store, answer, context);
  if (!known) return std::unexpected(known.error());
  if (*known) return {};
  if (const auto written = write_series(*store, answer, context); !written) return written;
  store::Draft draft;
  draft.kind = store::RecordKind::log_import;
  draft.at = store::utc_text(std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now()));
  draft.who = who;
  draft.body = record_body(answer).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  const auto record = store->append(answer.book, draft);
  if (!record) return std::unexpected(complain(record.error(), true, context));
  answer.record = record->number;
  answer.stored = true;
  return {};
}

std::expected<void, ExitCode> save_format(const ImportCommand& command, const ImportAnswer& answer,
                                          const Context& context) {
  if (command.save_format.empty()) return {};
  const auto written = paper::write_file(command.save_format, watch::format_text(answer.format));
  if (!written) return std::unexpected(context.fail(ExitCode::cannot_write, written.error()));
  return {};
}

/// Reads the log; every error is printed.
std::expected<ImportAnswer, ExitCode> read_log(const ImportCommand& command, const job::Job& job,
                                               const Context& context) {
  LogFile log(command.log);
  if (!log.trouble().empty())
    return std::unexpected(complain(command.log, log.trouble(), "check the path", context));
  ImportAnswer answer;
  answer.log = command.log;
  if (const auto found = find_format(command, job, log, answer, context); !found)
    return std::unexpected(found.error());
  if (const auto saved = save_format(command, answer, context); !saved) return std::unexpected(saved.error());
  auto read = watch::import_log(log.reader(), command.log, answer.format, job.units);
  if (!read) return std::unexpected(context.fail(ExitCode::job_unreadable, read.error()));
  answer.read = *std::move(read);
  answer.sha256 = log.sha256();
  if (answer.sha256.empty())
    return std::unexpected(complain(command.log, "cannot be read to its end", "copy it again", context));
  return answer;
}

ExitCode run(const ImportCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  const std::string who = command.who.empty() ? job->site.prepared_by : command.who;
  if (who.empty() && !command.dry_run)
    return context.fail(ExitCode::wrong_command_line,
                        {complaint("--who", "is missing, and the job does not say who prepared it",
                                   "every record names who answers for it: --who \"A. Writer\"")});
  auto answer = read_log(command, *job, context);
  if (!answer) return answer.error();
  answer->held_back = !answer->doubts.empty() && !command.yes && !command.dry_run;
  if (!answer->held_back && !command.dry_run) {
    if (const auto stored = store_log(command, who, *answer, context); !stored) return stored.error();
  }
  if (context.json()) {
    context.print(to_json(*answer));
  } else {
    Page page = context.page();
    add_answer(page, *answer, command.folder, job->units);
    context.print(page);
  }
  return answer->held_back ? ExitCode::stop_finding : ExitCode::ok;
}

}  // namespace

void add_watch_import(Program& program, CLI::App* watch) {
  CLI::App* command =
      program.add_command(watch, "import", "a logger's file into the job's records", examples);
  const auto import = std::make_shared<ImportCommand>();
  add_job_argument(command, import->folder);
  command->add_option("--log", import->log, "the logger's file, as it is")->type_name("FILE")->required();
  CLI::Option* format =
      command
          ->add_option("--format", import->format,
                       "how the file is written: a text of --save-format; guessed if not given")
          ->type_name("FILE");
  command->add_option("--save-format", import->save_format, "write the format there, to look at and correct")
      ->type_name("FILE");
  command->add_flag("--yes", import->yes, "the guess is right, doubts and all")->excludes(format);
  command->add_flag("--dry-run", import->dry_run, "show what would be read, store nothing");
  command
      ->add_option("--who", import->who, "who imports it, for the record; the job's prepared_by if not given")
      ->type_name("NAME");
  add_store_options(command, import->store);
  program.when_called(command, [import](Context& context) { return run(*import, context); });
}

}  // namespace firstdraw::cli
