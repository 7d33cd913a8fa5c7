// `firstdraw archive export|import`: everything in a store as one file that other programs can read.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <filesystem>
#include <memory>

#include "cli/program.hpp"
#include "cli/store_input.hpp"
#include "store/archive.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw archive export riverside.zip riverside", "all that was recorded and logged of a job"},
    {"firstdraw archive import riverside.zip riverside", "back into the records of a job folder"},
};
const std::vector<Example> export_examples{
    {"firstdraw archive export riverside.zip riverside", "the book of the job folder riverside"},
    {"firstdraw archive export everything.zip --store company.db", "every book of a store"},
};
const std::vector<Example> import_examples{
    {"firstdraw archive import riverside.zip riverside", "into records.db of the job folder riverside"},
    {"firstdraw archive import everything.zip --store postgresql://ada@server/firstdraw",
     "from a file on one machine to the database of many"},
};

struct ArchiveCommand {
  std::string file, folder;
  StoreOptions store;
};

/// Without --store, FIRSTDRAW_STORE and JOB there is nothing to open.
bool names_a_store(const ArchiveCommand& command) {
  return !command.folder.empty() || !command.store.where.empty() || store_of({}, "JOB") != "JOB/records.db";
}

ExitCode no_store(const Context& context) {
  return context.fail(ExitCode::wrong_command_line,
                      {complaint("--store", "no store was named", "give the job folder, or --store WHERE")});
}

void show(const store::ArchiveCounts& counts, const ArchiveCommand& command, const store::Store& store,
          bool exported, const Context& context) {
  if (context.json()) {
    return context.print(nlohmann::json{{"archive", command.file},
                                        {"store", store.where()},
                                        {"books", counts.jobs},
                                        {"records", counts.records},
                                        {"files", counts.files},
                                        {"series", counts.series},
                                        {"samples", counts.samples}});
  }
  Page page = context.page();
  page.heading(exported ? fmt::format("{} written from {}", command.file, store.where())
                        : fmt::format("{} is in {}", command.file, store.where()));
  page.facts({{"Books", fmt::format("{}", fmt::join(counts.jobs, ", "))},
              {"Records", std::to_string(counts.records)},
              {"Files", std::to_string(counts.files)},
              {"Series", std::to_string(counts.series)},
              {"Readings", std::to_string(counts.samples)}});
  context.print(page);
}

/// The book of a job folder, or the one that was named; else all.
std::string wanted_book(const ArchiveCommand& command) {
  return command.folder.empty() ? command.store.book : book_of(command.store, command.folder);
}

ExitCode run_export(const ArchiveCommand& command, const Context& context) {
  if (!names_a_store(command)) return no_store(context);
  const auto store = open_store_or_complain(command.store, command.folder, false, context);
  if (!store) return store.error();
  const auto counts = store::export_archive(*store, command.file, wanted_book(command));
  if (!counts) return complain(counts.error(), true, context);
  show(*counts, command, *store, true, context);
  return ExitCode::ok;
}

/// The archive's own fault is one of reading.
ExitCode complain_of_import(const store::Failure& failure, const Context& context) {
  if (failure.kind != store::FailureKind::bad_input) return complain(failure, true, context);
  return context.fail(ExitCode::job_unreadable, {complaint("", failure.what, failure.remedy)});
}

ExitCode run_import(const ArchiveCommand& command, const Context& context) {
  if (!names_a_store(command)) return no_store(context);
  if (!std::filesystem::exists(command.file))
    return context.fail(ExitCode::job_unreadable, {complaint("FILE", "there is no file " + command.file)});
  auto store = open_store_or_complain(command.store, command.folder, true, context);
  if (!store) return store.error();
  const auto counts = store::import_archive(*store, command.file);
  if (!counts) return complain_of_import(counts.error(), context);
  show(*counts, command, *store, false, context);
  return ExitCode::ok;
}

std::shared_ptr<ArchiveCommand> add_arguments(CLI::App* command) {
  const auto archive = std::make_shared<ArchiveCommand>();
  command->add_option("FILE", archive->file, "the archive, a ZIP file")->required();
  command->add_option("JOB", archive->folder,
                      "a job folder, whose records.db is meant unless --store says otherwise");
  add_store_options(command, archive->store);
  return archive;
}

}  // namespace

void add_archive(Program& program) {
  CLI::App* archive =
      program.add_command("archive", "everything recorded and logged as one plain file, and back", examples);
  CLI::App* out = program.add_command(archive, "export", "write all of a book, or of every book, to a file",
                                      export_examples);
  const auto exported = add_arguments(out);
  program.when_called(out, [exported](Context& context) { return run_export(*exported, context); });
  CLI::App* in = program.add_command(
      archive, "import", "check an archive and take it into a store, all or nothing", import_examples);
  const auto imported = add_arguments(in);
  program.when_called(in, [imported](Context& context) { return run_import(*imported, context); });
}

}  // namespace firstdraw::cli
