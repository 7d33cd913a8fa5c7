// `firstdraw tests`: verdicts on readings of the field tests, what is still due, and what moves.
#include <fmt/format.h>

#include <filesystem>
#include <memory>

#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/readings_input.hpp"
#include "cli/tests_answer.hpp"
#include "job/write_files.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw tests riverside --sheet tests.csv", "a file to fill in: every test of every circuit"},
    {"firstdraw tests riverside --readings tests.csv", "what was filled in, judged: pass, doubt or fail"},
    {"firstdraw tests riverside",
     "the tests on record, judged; what is still due; what moves over the years"},
    {"firstdraw tests riverside --due --json", "every test of every stage, and which reading answers it"},
};

struct TestsCommand {
  std::string folder, readings, sheet;
  bool due_only = false;
  StoreOptions store;
};

ExitCode write_sheet(const TestsCommand& command, const job::Job& job, const plan::Plan& plan,
                     const Context& context) {
  namespace fs = std::filesystem;
  const fs::path file = command.sheet;
  const fs::path folder = file.has_parent_path() ? file.parent_path() : fs::path(".");
  const auto written = job::write_files({{file.filename().string(), prove::blank_sheet(job, plan)}}, folder);
  if (!written) return context.fail(ExitCode::cannot_write, written.error());
  if (context.json()) {
    context.print(nlohmann::json{{"sheet", command.sheet}});
  } else {
    context.print(
        fmt::format("{}: a row for every reading; fill in value and what is known beside it, leave "
                    "empty what was not measured.\n",
                    printable(command.sheet)));
  }
  return ExitCode::ok;
}

/// What is due can be asked before anything was recorded.
bool nothing_recorded_yet(const TestsCommand& command) {
  const std::string where = store_of(command.store, command.folder);
  return command.due_only && where.find("://") == std::string::npos && !std::filesystem::exists(where);
}

std::expected<std::vector<prove::Reading>, ExitCode> readings_for(const TestsCommand& command,
                                                                  const job::Job& job, const plan::Plan& plan,
                                                                  const Context& context) {
  if (!command.readings.empty()) return read_readings_or_complain(command.readings, job, plan, context);
  if (nothing_recorded_yet(command)) return std::vector<prove::Reading>{};
  return recorded_readings_or_complain(command.store, command.folder, context);
}

ExitCode run(const TestsCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  plan::Options unsampled;
  unsampled.samples = 0;
  const plan::Plan plan = plan::make_plan(*job, unsampled);
  if (!command.sheet.empty()) return write_sheet(command, *job, plan, context);
  auto readings = readings_for(command, *job, plan, context);
  if (!readings) return readings.error();
  const prove::FieldTests tests = prove::field_tests(*job, plan, *std::move(readings));
  const std::string from = command.readings.empty()
                               ? "the records of " + book_of(command.store, command.folder)
                               : command.readings;
  if (context.json()) {
    context.print(prove::to_json(tests, from));
  } else {
    Page page = context.page();
    add_answer(page, tests, from, command.due_only);
    context.print(page);
  }
  return prove::has_failed(tests) ? ExitCode::stop_finding : ExitCode::ok;
}

}  // namespace

void add_tests(Program& program) {
  CLI::App* command = program.add_command(
      "tests", "judge readings of the field tests: pass, doubt or fail, and what is still due", examples);
  const auto tests = std::make_shared<TestsCommand>();
  add_job_argument(command, tests->folder);
  auto* readings = command->add_option(
      "--readings", tests->readings,
      "CSV file of readings: docs/field-tests.md; the test records of the job's store if not given");
  readings->type_name("FILE");
  command->add_option("--sheet", tests->sheet, "write a CSV file to fill in, and judge nothing")
      ->type_name("FILE")
      ->excludes(readings);
  command->add_flag("--due", tests->due_only, "every test of every stage and what answers it, nothing else");
  add_store_options(command, tests->store);
  program.when_called(command, [tests](Context& context) { return run(*tests, context); });
}

}  // namespace firstdraw::cli
