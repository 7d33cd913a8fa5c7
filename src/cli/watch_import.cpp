// `firstdraw watch import`: a logger's file into the series of a job's records.
#include "cli/watch_forms.hpp"

#include <memory>

#include "cli/job_input.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch import riverside --log may.csv",
     "how the file would be read; nothing is stored on a guess with doubts"},
    {"firstdraw watch import riverside --log may.csv --save-format logger.toml",
     "the guess as a text to correct"},
    {"firstdraw watch import riverside --log may.csv --format logger.toml",
     "read it as that text says and store it"},
};

struct ImportCommand {
  std::string folder, log, format, save_format;
  bool yes = false, dry_run = false;
};

ExitCode run(const ImportCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  return ExitCode::ok;
}

}  // namespace

void add_watch_import(Program& program, CLI::App* watch) {
  CLI::App* command =
      program.add_command(watch, "import", "a logger's file into the job's records", examples);
  const auto import = std::make_shared<ImportCommand>();
  add_job_argument(command, import->folder);
  command->add_option("--log", import->log, "the logger's file")->type_name("FILE")->required();
  program.when_called(command, [import](Context& context) { return run(*import, context); });
}

}  // namespace firstdraw::cli
