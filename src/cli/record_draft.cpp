#include "cli/record_draft.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <ctime>
#include <filesystem>

#include "cli/job_input.hpp"
#include "cli/readings_input.hpp"
#include "cli/record_files.hpp"
#include "paper/record_body.hpp"
#include "store/address.hpp"
#include "store/draft_check.hpp"
#include "store/rfc3339.hpp"

namespace firstdraw::cli {
namespace {

using nlohmann::json;
using store::RecordKind;

struct Form {
  std::string_view option;
  std::string RecordCommand::* value;
  RecordKind kind;
};
constexpr std::array<Form, 7> forms{{
    {"--readings", &RecordCommand::readings, RecordKind::test},
    {"--revision", &RecordCommand::revision, RecordKind::revision},
    {"--photo", &RecordCommand::photo, RecordKind::photo},
    {"--sign-off", &RecordCommand::sign_off, RecordKind::sign_off},
    {"--accept", &RecordCommand::accept, RecordKind::acceptance},
    {"--action", &RecordCommand::action, RecordKind::action},
    {"--note", &RecordCommand::note, RecordKind::note},
}};

std::vector<Form> chosen_forms(const RecordCommand& command) {
  std::vector<Form> chosen;
  for (const Form& form : forms)
    if (!(command.*form.value).empty()) chosen.push_back(form);
  return chosen;
}

std::string trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(' '), end = text.find_last_not_of(' ');
  return begin == std::string_view::npos ? "" : std::string(text.substr(begin, end + 1 - begin));
}

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t comma = text.find(',');
    parts.push_back(trimmed(text.substr(0, comma)));
    if (comma == std::string_view::npos) return parts;
    text.remove_prefix(comma + 1);
  }
}

store::Instrument instrument_of(std::string_view text) {
  const std::vector<std::string> parts = parts_of(text);
  return {parts[0], parts.size() > 1 ? parts[1] : "", parts.size() > 2 ? parts[2] : ""};
}

void slip_unless_given(Diagnostics& slips, const std::string& value, std::string_view option,
                       std::string_view what, std::string_view hint) {
  if (trimmed(value).empty()) slips.push_back(complaint(option, what, hint));
}

/// Options that belong to one kind of record only are wrong beside another: nothing is left out in silence.
void slip_on_strays(Diagnostics& slips, const RecordCommand& command, RecordKind kind) {
  const auto stray = [&](const std::string& value, std::string_view option, bool fits,
                         std::string_view hint) {
    if (!value.empty() && !fits) slips.push_back(complaint(option, "it does not go with this record", hint));
  };
  stray(command.why, "--why", kind == RecordKind::acceptance, "it goes with --accept");
  stray(command.statement, "--statement", kind == RecordKind::sign_off, "it goes with --sign-off");
  stray(command.words, "--words", kind == RecordKind::photo || kind == RecordKind::revision,
        "it goes with --photo and --revision");
  stray(command.place, "--place", kind != RecordKind::revision && kind != RecordKind::test,
        "readings name their own places");
}

void slip_on_missing(Diagnostics& slips, const RecordCommand& command, RecordKind kind) {
  slip_unless_given(slips, command.who, "--who", "who records this is missing",
                    "give a name: --who \"Ada Example\"");
  if (kind == RecordKind::photo)
    slip_unless_given(slips, command.words, "--words", "what the photo shows is missing",
                      "say it in a few words, with --place for where");
  if (kind == RecordKind::sign_off)
    slip_unless_given(slips, command.statement, "--statement", "what is signed for is missing",
                      "write it out, as it would stand above a signature");
  if (kind == RecordKind::acceptance) {
    slip_unless_given(slips, command.why, "--why", "why the finding is accepted is missing",
                      "write the reason");
  }
}

void slip_on_form(Diagnostics& slips, const RecordCommand& command) {
  if (!command.at.empty() && !store::moment_of(command.at))
    slips.push_back(complaint("--at", fmt::format("\"{}\" is no time with its offset", command.at),
                              "write it as 2026-11-29T14:05:00-06:00"));
  for (const std::string& text : command.instruments) {
    const std::vector<std::string> parts = parts_of(text);
    if (parts.size() > 3 || parts[0].empty())
      slips.push_back(complaint("--instrument", fmt::format("\"{}\" is not NAME, SERIAL, DUE", text),
                                "as \"insulation tester, SN 1234, 2027-03-01\""));
    else if (parts.size() == 3 && !parts[2].empty() && !store::is_date(parts[2]))
      slips.push_back(complaint("--instrument", fmt::format("\"{}\" is no date", parts[2]),
                                "write when calibration is due as 2027-03-01"));
  }
}

using Made = std::expected<json, ExitCode>;

Made test_body(const RecordCommand& command, Drafted& drafted, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return std::unexpected(job.error());
  plan::Options unsampled;
  unsampled.samples = 0;
  const plan::Plan plan = plan::make_plan(*job, unsampled);
  auto readings = read_readings_or_complain(command.readings, *job, plan, context);
  if (!readings) return std::unexpected(readings.error());
  if (readings->empty())
    return std::unexpected(context.fail(ExitCode::job_unreadable,
                                        {{command.readings, 0, 0, "", "there is no reading in it", ""}}));
  drafted.readings = *std::move(readings);
  drafted.verdicts = prove::judge(*job, plan, drafted.readings);
  drafted.files = {{std::filesystem::path(command.readings).filename().string(), command.readings}};
  return paper::test_body(drafted.readings, drafted.verdicts);
}

Made revision_body(const RecordCommand& command, Drafted& drafted, const Context& context) {
  auto files = files_of_folder(command.folder);
  if (!files) return std::unexpected(context.fail(ExitCode::job_unreadable, {files.error()}));
  drafted.files = *std::move(files);
  json body{{"revision", command.revision}};
  if (!command.words.empty()) body["text"] = command.words;
  return body;
}

Made photo_body(const RecordCommand& command, Drafted& drafted) {
  drafted.files = {{std::filesystem::path(command.photo).filename().string(), command.photo}};
  return paper::text_body(command.words, command.place);
}

/// A file of records that is not there yet has no records.
bool is_not_there(const std::string& where) {
  const auto address = store::parse_address(where);
  std::error_code ignored;
  return address && address->dialect == store::Dialect::sqlite &&
         !std::filesystem::exists(address->path, ignored);
}

store::Result<store::Verification> chain_of(const RecordCommand& command) {
  const std::string where = store_of(command.store, command.folder);
  if (is_not_there(where)) return store::Verification{};
  const auto store = store::Store::open(where, false);
  if (!store) return std::unexpected(store.error());
  return store->verify(book_of(command.store, command.folder));
}

Made sign_off_body(const RecordCommand& command, const Context& context) {
  const std::string book = book_of(command.store, command.folder);
  const auto chain = chain_of(command);
  if (!chain) return std::unexpected(complain(chain.error(), false, context));
  if (chain->records == 0)
    return std::unexpected(
        context.fail(ExitCode::wrong_command_line,
                     {complaint("--sign-off", "there is nothing to sign for in the book " + book,
                                "record the tests and the revision first")}));
  if (!chain->whole())
    return std::unexpected(context.fail(
        ExitCode::stop_finding, {complaint("--sign-off", "the records of the book do not verify",
                                           "firstdraw verify says which; nobody should sign for them")}));
  return paper::sign_off_body(command.sign_off, command.statement, command.place, *chain);
}

/// The finding of the plan that is accepted, or why there is none.
std::expected<plan::Finding, job::Diagnostic> accepted_finding(const RecordCommand& command,
                                                               const plan::Plan& plan) {
  std::vector<std::string> ids, places;
  for (const plan::Finding& finding : plan.findings) {
    ids.push_back(finding.id);
    if (finding.id != command.accept) continue;
    if (finding.place == command.place) return finding;
    places.push_back(finding.place);
  }
  const bool known = !places.empty();
  if (known && command.place.empty())
    return std::unexpected(complaint("--place", "where the finding is accepted is missing",
                                     fmt::format("it stands at {}", fmt::join(places, ", "))));
  const auto near = known ? units::nearest(command.place, places) : units::nearest(command.accept, ids);
  const std::string hint =
      near ? fmt::format("did you mean {}?", *near) : "firstdraw plan lists the findings";
  if (known)
    return std::unexpected(complaint(
        "--place", fmt::format("the plan has no finding {} at \"{}\"", command.accept, command.place), hint));
  return std::unexpected(
      complaint("--accept", fmt::format("the plan has no finding \"{}\"", command.accept), hint));
}

Made acceptance_body(const RecordCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return std::unexpected(job.error());
  const auto finding = accepted_finding(command, plan::make_plan(*job));
  if (!finding) return std::unexpected(context.fail(ExitCode::wrong_command_line, {finding.error()}));
  return json{{"finding", finding->id},
              {"place", finding->place},
              {"severity", plan::to_string(finding->severity)},
              {"what", finding->what},
              {"reason", command.why}};
}

Made body_of(RecordKind kind, const RecordCommand& command, Drafted& drafted, const Context& context) {
  switch (kind) {
    case RecordKind::test:
      return test_body(command, drafted, context);
    case RecordKind::revision:
      return revision_body(command, drafted, context);
    case RecordKind::photo:
      return photo_body(command, drafted);
    case RecordKind::sign_off:
      return sign_off_body(command, context);
    case RecordKind::acceptance:
      return acceptance_body(command, context);
    case RecordKind::action:
      return paper::text_body(command.action, command.place);
    default:
      return paper::text_body(command.note, command.place);
  }
}

/// What the store would refuse, said before there is one.
std::expected<void, ExitCode> keepable(const RecordCommand& command, const Drafted& drafted,
                                       const Context& context) {
  if (const auto wrong = store::complaint_about(book_of(command.store, command.folder), drafted.draft))
    return std::unexpected(complain(*wrong, true, context));
  for (const DraftFile& file : drafted.files) {
    const auto bytes = size_of_file(file.path);
    if (!bytes) return std::unexpected(context.fail(ExitCode::job_unreadable, {bytes.error()}));
    if (const auto wrong = store::complaint_about_file(file.name, media_type_of(file.name), *bytes))
      return std::unexpected(complain(*wrong, true, context));
  }
  return {};
}

}  // namespace

Diagnostics slips_of(const RecordCommand& command) {
  Diagnostics slips;
  const std::vector<Form> chosen = chosen_forms(command);
  if (chosen.empty())
    return {
        complaint("", "what to record is missing",
                  "give one of --readings, --revision, --photo, --sign-off, --accept, --action, --note; or "
                  "--list")};
  for (std::size_t i = 1; i < chosen.size(); ++i)
    slips.push_back(complaint(chosen[i].option, fmt::format("it cannot stand beside {}", chosen[0].option),
                              "one record at a time"));
  slip_on_strays(slips, command, chosen[0].kind);
  slip_on_missing(slips, command, chosen[0].kind);
  slip_on_form(slips, command);
  return slips;
}

std::expected<Drafted, ExitCode> draft_of(const RecordCommand& command, const Context& context) {
  Drafted drafted;
  const RecordKind kind = chosen_forms(command).front().kind;
  auto body = body_of(kind, command, drafted, context);
  if (!body) return std::unexpected(body.error());
  store::Draft& draft = drafted.draft;
  draft.kind = kind;
  draft.who = trimmed(command.who);
  draft.at = command.at.empty() ? local_text(std::chrono::system_clock::now()) : command.at;
  for (const std::string& text : command.instruments) draft.instruments.push_back(instrument_of(text));
  draft.corrects = command.corrects;
  draft.body = body->dump(-1, ' ', false, json::error_handler_t::replace);
  if (const auto kept = keepable(command, drafted, context); !kept) return std::unexpected(kept.error());
  return drafted;
}

std::expected<void, ExitCode> attach(Drafted& drafted, store::Store& store, const Context& context) {
  json list = json::array();
  for (const DraftFile& file : drafted.files) {
    const auto bytes = bytes_of_file(file.path);
    if (!bytes) return std::unexpected(context.fail(ExitCode::job_unreadable, {bytes.error()}));
    auto kept = store.put_file(file.name, media_type_of(file.name), *bytes);
    if (!kept) return std::unexpected(complain(kept.error(), true, context));
    list.push_back({{"path", kept->name}, {"sha256", kept->sha256}});
    drafted.draft.attachments.push_back(*std::move(kept));
  }
  if (drafted.draft.kind != RecordKind::revision) return {};
  json body = json::parse(drafted.draft.body);
  body["files"] = std::move(list);
  drafted.draft.body = body.dump(-1, ' ', false, json::error_handler_t::replace);
  return {};
}

std::string local_text(std::chrono::system_clock::time_point now) {
  const std::time_t seconds = std::chrono::system_clock::to_time_t(now);
  std::tm local{};
  localtime_r(&seconds, &local);
  const long offset_min = local.tm_gmtoff / 60;
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}{:02}:{:02}", local.tm_year + 1900,
                     local.tm_mon + 1, local.tm_mday, local.tm_hour, local.tm_min, std::min(local.tm_sec, 59),
                     offset_min < 0 ? '-' : '+', std::abs(offset_min) / 60, std::abs(offset_min) % 60);
}

std::string media_type_of(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 12> types{
      {{".csv", "text/csv"},
       {".toml", "application/toml"},
       {".txt", "text/plain"},
       {".md", "text/markdown"},
       {".json", "application/json"},
       {".pdf", "application/pdf"},
       {".jpg", "image/jpeg"},
       {".jpeg", "image/jpeg"},
       {".png", "image/png"},
       {".heic", "image/heic"},
       {".webp", "image/webp"},
       {".svg", "image/svg+xml"}}};
  std::string lower(name);
  std::ranges::transform(lower, lower.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  for (const auto& [ending, type] : types)
    if (lower.ends_with(ending)) return std::string(type);
  return "application/octet-stream";
}

}  // namespace firstdraw::cli
