// `firstdraw verify`: do the records still say what they said?
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/record_text.hpp"
#include "cli/store_input.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw verify riverside", "every record and file of the job's book, recomputed"},
    {"firstdraw verify riverside --head 3f2a91c04d5e6f70",
     "and whether the hash on the paper sheet is still in the chain: only that shows a cut end"},
};

constexpr std::size_t least_digits = 12;

struct VerifyCommand {
  std::string folder, head;
  StoreOptions store;
};

/// Lower case, without the blanks that a paper sheet has; empty when it is no beginning of a hash.
std::string digits_of(std::string_view head) {
  std::string digits;
  for (const char c : head)
    if (c != ' ' && c != '-') digits += c >= 'A' && c <= 'F' ? static_cast<char>(c + 32) : c;
  const bool good = digits.size() >= least_digits && digits.size() <= 64 &&
                    digits.find_first_not_of("0123456789abcdef") == std::string::npos;
  return good ? digits : "";
}

/// The whole hash of the record that begins so; what was given when there is none.
store::Result<std::string> whole_hash(const store::Store& store, const std::string& book,
                                      const std::string& digits) {
  if (digits.size() == 64) return digits;
  const auto records = store.records(book);
  // A book with records that cannot be read is for verify to judge.
  if (!records)
    return records.error().kind == store::FailureKind::damaged ? store::Result<std::string>(digits)
                                                               : std::unexpected(records.error());
  const auto found = std::ranges::find_if(
      *records, [&](const store::Record& record) { return record.hash.starts_with(digits); });
  return found == records->end() ? digits : found->hash;
}

nlohmann::json to_json(const store::Verification& found, const store::Store& store,
                       const VerifyCommand& command) {
  nlohmann::json breaks = nlohmann::json::array();
  for (const auto& each : found.breaks) breaks.push_back({{"number", each.number}, {"what", each.what}});
  nlohmann::json out{{"book", found.job},        {"store", store.where()},
                     {"records", found.records}, {"head_hash", found.head_hash},
                     {"whole", found.whole()},   {"breaks", std::move(breaks)}};
  out["head_found_at"] = command.head.empty() ? nlohmann::json(nullptr) : nlohmann::json(found.head_found_at);
  return out;
}

void add_head(Page& page, const store::Verification& found, const std::string& given) {
  if (given.empty())
    return page.paragraph(
        "Records cut off the end leave a chain that is whole. Compare the hash with the one on paper, or "
        "give that one "
        "with --head.");
  if (found.head_found_at == 0)
    return page.caution(
        fmt::format("No record has the hash {}: records were removed or replaced since it was written "
                    "down, or it belongs to another book.",
                    given));
  const std::int64_t since = found.records - found.head_found_at;
  page.paragraph(fmt::format("The hash given is that of record {}; {} since.", found.head_found_at,
                             since == 0 ? "nothing was added" : fmt::format("{} more", since)));
}

void add_breaks(Page& page, const store::Verification& found) {
  if (found.whole()) return;
  page.heading("What does not hold");
  for (const auto& each : found.breaks)
    page.paragraph(fmt::format("record {}: {}", each.number, printable(each.what)));
  page.caution(
      "Do not rely on these records before it is known why. Keep the store as it is, and compare it with a "
      "back-up or an archive.");
}

ExitCode run(const VerifyCommand& command, const Context& context) {
  const std::string digits = digits_of(command.head);
  if (!command.head.empty() && digits.empty())
    return context.fail(ExitCode::wrong_command_line,
                        {complaint("--head", fmt::format("\"{}\" is no hash", command.head),
                                   fmt::format("give its first {} digits or more", least_digits))});
  const auto store = open_store_or_complain(command.store, command.folder, false, context);
  if (!store) return store.error();
  const std::string book = book_of(command.store, command.folder);
  const auto head = whole_hash(*store, book, digits);
  const auto found = head ? store->verify(book, *head) : std::unexpected(head.error());
  if (!found) return complain(found.error(), false, context);
  if (context.json()) {
    context.print(to_json(*found, *store, command));
  } else {
    Page page = context.page();
    page.heading(fmt::format("{}: {}", found->job, found->whole() ? "whole" : "not whole"));
    page.facts({{"Records", std::to_string(found->records)},
                {"Hash", found->head_hash},
                {"Kept in", store->where()}});
    page.blank();
    add_head(page, *found, command.head);
    add_breaks(page, *found);
    context.print(page);
  }
  const bool head_lost = !command.head.empty() && found->head_found_at == 0;
  return found->whole() && !head_lost ? ExitCode::ok : ExitCode::stop_finding;
}

}  // namespace

void add_verify(Program& program) {
  CLI::App* command = program.add_command(
      "verify", "whether every record and file of a job is as it was, and none is missing", examples);
  const auto verify = std::make_shared<VerifyCommand>();
  add_job_argument(command, verify->folder);
  command
      ->add_option("--head", verify->head,
                   "a hash from paper, 12 digits or more: is it in the chain? Exit code 1 when not")
      ->type_name("HASH");
  add_store_options(command, verify->store);
  program.when_called(command, [verify](Context& context) { return run(*verify, context); });
}

}  // namespace firstdraw::cli
