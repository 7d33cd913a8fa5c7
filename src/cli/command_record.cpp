// `firstdraw record`: what was measured, seen, decided and done, kept for good.
#include <fmt/format.h>

#include <memory>

#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/record_draft.hpp"
#include "cli/record_files.hpp"
#include "cli/record_text.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw record riverside --revision as-designed --who \"Ada Example\"",
     "the whole job folder as it stands; --restore gets it back"},
    {"firstdraw record riverside --readings tests.csv --who \"Ada Example\" --instrument \"insulation "
     "tester, SN 42, "
     "2027-03-01\"",
     "readings of a field test with their verdicts"},
    {"firstdraw record riverside --photo splice.jpg --place R12 --words \"splice before insulating\" --who "
     "\"Ada "
     "Example\"",
     "a photo"},
    {"firstdraw record riverside --accept hold-cold --place R12 --why \"broom cupboard, tap unused\" --who "
     "\"Ada "
     "Example\"",
     "a finding of the plan that somebody accepts"},
    {"firstdraw record riverside --sign-off installer --statement \"Fixed and tested as recorded.\" --who "
     "\"Ada "
     "Example\"",
     "somebody answers for what is recorded so far"},
    {"firstdraw record riverside --note \"meter was 2 A off\" --correct 7 --who \"Ada Example\"",
     "a record that takes the place of record 7, which stays readable"},
    {"firstdraw record riverside --list --kind test", "what was recorded"},
    {"firstdraw record riverside --restore 3 -o riverside-as-designed",
     "the files of a revision, as a new folder"},
};

std::expected<store::Store, ExitCode> open(const RecordCommand& command, bool create,
                                           const Context& context) {
  return open_store_or_complain(command.store, command.folder, create, context);
}

ExitCode list(const RecordCommand& command, const Context& context) {
  const auto store = open(command, false, context);
  if (!store) return store.error();
  const std::string book = book_of(command.store, command.folder);
  const auto records = store->records(book, {store::record_kind(command.kind), 1, true});
  if (!records) return complain(records.error(), false, context);
  if (context.json()) {
    nlohmann::json all = nlohmann::json::array();
    for (const store::Record& record : *records) all.push_back(to_json(record));
    context.print(nlohmann::json{{"book", book}, {"store", store->where()}, {"records", std::move(all)}});
  } else {
    Page page = context.page();
    add_list(page, *records, book);
    context.print(page);
  }
  return ExitCode::ok;
}

std::expected<store::Record, ExitCode> one_record(const store::Store& store, const RecordCommand& command,
                                                  std::int64_t number, const Context& context) {
  const std::string book = book_of(command.store, command.folder);
  const auto records = store.records(book, {std::nullopt, number, true});
  if (!records) return std::unexpected(complain(records.error(), false, context));
  if (!records->empty() && records->front().number == number) return records->front();
  return std::unexpected(context.fail(ExitCode::wrong_command_line,
                                      {complaint(std::to_string(number), "the book has no such record",
                                                 "firstdraw record JOB --list shows the numbers")}));
}

ExitCode show(const RecordCommand& command, const Context& context) {
  const auto store = open(command, false, context);
  if (!store) return store.error();
  const auto record = one_record(*store, command, *command.show, context);
  if (!record) return record.error();
  if (context.json()) {
    context.print(to_json(*record));
  } else {
    Page page = context.page();
    add_shown(page, *record);
    context.print(page);
  }
  return ExitCode::ok;
}

ExitCode restore_revision(const RecordCommand& command, const Context& context) {
  if (command.out.empty())
    return context.fail(ExitCode::wrong_command_line,
                        {complaint("--restore", "where to is missing", "give a new folder: -o FOLDER")});
  const auto store = open(command, false, context);
  if (!store) return store.error();
  const auto record = one_record(*store, command, *command.restore, context);
  if (!record) return record.error();
  if (record->kind != store::RecordKind::revision)
    return context.fail(ExitCode::wrong_command_line,
                        {complaint("--restore", fmt::format("record {} is no revision", record->number),
                                   "firstdraw record JOB --list --kind revision shows them")});
  if (const auto done = restore(*store, *record, command.out, context); !done) return done.error();
  if (context.json())
    context.print(nlohmann::json{{"restored", record->number}, {"folder", command.out}});
  else
    context.print(fmt::format("The {} files of record {} are in {}\n", record->attachments.size(),
                              record->number, printable(command.out)));
  return ExitCode::ok;
}

ExitCode record(const RecordCommand& command, const Context& context) {
  if (const Diagnostics slips = slips_of(command); !slips.empty())
    return context.fail(ExitCode::wrong_command_line, slips);
  auto drafted = draft_of(command, context);
  if (!drafted) return drafted.error();
  auto store = open(command, !command.corrects, context);  // what is corrected is in a store already
  if (!store) return store.error();
  if (const auto attached = attach(*drafted, *store, context); !attached) return attached.error();
  const auto kept = store->append(book_of(command.store, command.folder), drafted->draft);
  if (!kept) return complain(kept.error(), true, context);
  if (context.json()) {
    context.print(to_json(*kept));
  } else {
    Page page = context.page();
    add_recorded(page, *kept, *store, drafted->readings, drafted->verdicts);
    context.print(page);
  }
  return ExitCode::ok;
}

ExitCode run(const RecordCommand& command, const Context& context) {
  if (command.list || !command.kind.empty()) return list(command, context);
  if (command.show) return show(command, context);
  if (command.restore) return restore_revision(command, context);
  return record(command, context);
}

void add_what(CLI::App* command, RecordCommand& record) {
  command
      ->add_option(
          "--readings", record.readings,
          "readings of a field test, a CSV file as tests --sheet writes it; judged, the verdicts kept too")
      ->type_name("FILE");
  add_choice(command, "--revision", record.revision, "every file of the job folder as it stands",
             {"as-designed", "as-built"});
  command->add_option("--photo", record.photo, "a photo, with --words and --place")->type_name("FILE");
  command
      ->add_option(
          "--sign-off", record.sign_off,
          "somebody answers, as this (designer, installer, inspector, owner…), with --statement, for all "
          "that is recorded so far")
      ->type_name("ROLE");
  command
      ->add_option("--accept", record.accept,
                   "a finding of the plan, with --why, and --place where it has one")
      ->type_name("FINDING");
  command->add_option("--action", record.action, "what was done: flushed, repaired, a setting changed")
      ->type_name("TEXT");
  command->add_option("--note", record.note, "anything else")->type_name("TEXT");
}

void add_circumstances(CLI::App* command, RecordCommand& record) {
  command->add_option("--who", record.who, "who records; there is no default")->type_name("NAME");
  command->add_option("--at", record.at, "when it was so: 2026-11-29T14:05:00-06:00; now if not given")
      ->type_name("TIME");
  command
      ->add_option(
          "--instrument", record.instruments,
          "\"NAME, SERIAL, CALIBRATION DUE\", once for each instrument; serial and date may be left out")
      ->type_name("TEXT")
      ->allow_extra_args(false);
  command->add_option("--place", record.place, "where: a run, circuit, group, room")->type_name("PLACE");
  command->add_option("--why", record.why, "why a finding is accepted")->type_name("TEXT");
  command->add_option("--words", record.words, "what a photo or a revision shows")->type_name("TEXT");
  command->add_option("--statement", record.statement, "what is signed for")->type_name("TEXT");
  command->add_option("--correct", record.corrects, "number of the record that this one takes the place of")
      ->type_name("N")
      ->check(CLI::PositiveNumber);
}

void add_looking(CLI::App* command, RecordCommand& record) {
  std::vector<std::string> kinds;
  for (int kind = 0; kind <= static_cast<int>(store::RecordKind::note); ++kind)
    kinds.emplace_back(store::name_of(static_cast<store::RecordKind>(kind)));
  command->add_flag("--list", record.list, "show what is recorded");
  add_choice(command, "--kind", record.kind, "of one kind only, with --list", kinds);
  command->add_option("--show", record.show, "show one record, with the text that is hashed")->type_name("N");
  command->add_option("--restore", record.restore, "write the files of a revision, with -o")->type_name("N");
  command->add_option("-o,--out", record.out, "new folder to restore to")->type_name("FOLDER");
}

}  // namespace

void add_record(Program& program) {
  CLI::App* command = program.add_command(
      "record", "keep readings, revisions, photos, sign-offs and actions; look at what was kept", examples);
  const auto command_line = std::make_shared<RecordCommand>();
  add_job_argument(command, command_line->folder);
  add_what(command, *command_line);
  add_circumstances(command, *command_line);
  add_looking(command, *command_line);
  add_store_options(command, command_line->store);
  program.when_called(command, [command_line](Context& context) { return run(*command_line, context); });
}

}  // namespace firstdraw::cli
