#include "store/draft_check.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "store/json_text.hpp"
#include "store/rfc3339.hpp"
#include "store/sha256.hpp"

namespace firstdraw::store {
namespace {

Failure bad(std::string what, std::string remedy) {
  return {FailureKind::bad_input, std::move(what), std::move(remedy)};
}

bool is_blank(std::string_view text) { return text.find_first_not_of(' ') == std::string_view::npos; }

bool is_text(std::string_view text) {
  const auto is_control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; };
  return text.size() <= longest_name && is_utf8(text) && std::ranges::none_of(text, is_control);
}

std::optional<Failure> complaint_about(const Instrument& instrument) {
  for (const std::string& text : {instrument.name, instrument.serial})
    if (!is_text(text))
      return bad("The name or serial number of an instrument is too long or holds control characters.",
                 "Write it in plain text, as on its plate.");
  if (!instrument.calibration_due.empty() && !is_date(instrument.calibration_due))
    return bad(
        fmt::format("\"{}\" is no date on which a calibration can be due.", instrument.calibration_due),
        "Write it as 2027-03-01, or leave it out.");
  return std::nullopt;
}

std::optional<Failure> complaint_about(const Attachment& attachment) {
  if (auto wrong = complaint_about_file(attachment.name, attachment.media_type, attachment.bytes))
    return wrong;
  if (!is_sha256_hex(attachment.sha256))
    return bad(fmt::format("The file \"{}\" has no SHA-256 hash of 64 lower-case digits.", attachment.name),
               "Put the file into the store first.");
  return std::nullopt;
}

bool is_entry(std::string_view text) {
  const auto fits = [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
  };
  return !text.empty() && text.size() <= longest_entry && std::ranges::all_of(text, fits);
}

std::optional<Failure> complaint_about_body(const std::string& body) {
  if (body.size() > longest_body)
    return bad(fmt::format("The body has {} bytes; {} are the most.", body.size(), longest_body),
               "Attach what is large as a file.");
  const auto canonical = canonical_json(body);
  if (canonical) return std::nullopt;
  return bad(fmt::format("The body is not acceptable: {}.", canonical.error()),
             "Give a JSON object, every key once.");
}

}  // namespace

std::optional<Failure> complaint_about_name(std::string_view what, std::string_view name) {
  if (is_blank(name)) return bad(fmt::format("The {} has no name.", what), "Give one.");
  if (!is_text(name))
    return bad(
        fmt::format("The name of the {} is longer than {} bytes, or holds control characters or broken "
                    "UTF-8.",
                    what, longest_name),
        "Give a shorter one in plain text.");
  return std::nullopt;
}

std::optional<Failure> complaint_about_file(std::string_view name, std::string_view media_type,
                                            std::uint64_t bytes) {
  if (auto wrong = complaint_about_name("file", name)) return wrong;
  if (auto wrong = complaint_about_name("media type", media_type)) return wrong;
  if (bytes <= largest_file) return std::nullopt;
  return bad(
      fmt::format("The file \"{}\" has {} MiB; {} are the most.", name, bytes >> 20U, largest_file >> 20U),
      "Make it smaller, or keep it elsewhere and record its SHA-256 in a note.");
}

std::optional<Failure> complaint_about(std::string_view job, const Draft& draft) {
  if (auto wrong = complaint_about_name("book", job)) return wrong;
  if (auto wrong = complaint_about_name("person who records", draft.who)) return wrong;
  if (name_of(draft.kind).empty())
    return bad("The record is of no known kind.", "Use one of the kinds that docs/records.md lists.");
  if (!moment_of(draft.at))
    return bad(fmt::format("\"{}\" is no time with its offset.", draft.at),
               "Write it as 2026-11-29T14:05:00-06:00.");
  if (draft.entry && !is_entry(*draft.entry))
    return bad(fmt::format("The entry of the record is not 1 to {} letters, digits, - and _.", longest_entry),
               "Use a UUID, or leave it out.");
  for (const Instrument& instrument : draft.instruments)
    if (auto wrong = complaint_about(instrument)) return wrong;
  for (const Attachment& attachment : draft.attachments)
    if (auto wrong = complaint_about(attachment)) return wrong;
  return complaint_about_body(draft.body);
}

}  // namespace firstdraw::store
