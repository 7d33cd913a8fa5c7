#include "store/record.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "store/json_text.hpp"
#include "store/record_row.hpp"
#include "store/sha256.hpp"

namespace firstdraw::store {
namespace {

using nlohmann::json;

struct KindName {
  RecordKind kind;
  std::string_view name;
};
constexpr std::array<KindName, 9> kinds{{{RecordKind::revision, "revision"},
                                         {RecordKind::test, "test"},
                                         {RecordKind::diagnosis, "diagnosis"},
                                         {RecordKind::photo, "photo"},
                                         {RecordKind::sign_off, "sign-off"},
                                         {RecordKind::acceptance, "acceptance"},
                                         {RecordKind::action, "action"},
                                         {RecordKind::log_import, "log-import"},
                                         {RecordKind::note, "note"}}};

/// Elements of a JSON array, each made by `write`.
template <class T, class Write>
std::string array_of(const std::vector<T>& items, Write write) {
  std::string text = "[";
  for (const T& item : items) {
    if (text.size() > 1) text += ',';
    text += write(item);
  }
  return text + "]";
}

std::string text_of(const Instrument& instrument) {
  return fmt::format(R"({{"calibration_due":{},"name":{},"serial":{}}})",
                     json_string(instrument.calibration_due), json_string(instrument.name),
                     json_string(instrument.serial));
}

std::string text_of(const Attachment& attachment) {
  return fmt::format(R"({{"bytes":{},"media_type":{},"name":{},"sha256":{}}})", attachment.bytes,
                     json_string(attachment.media_type), json_string(attachment.name),
                     json_string(attachment.sha256));
}

/// A whole number as such: a fraction would be cut off in silence.
template <class T>
T whole(const json& value) {
  if (!value.is_number_integer()) throw std::invalid_argument("a count or number is not whole");
  return value.get<T>();
}

std::vector<Instrument> instruments_of(const json& array) {
  std::vector<Instrument> instruments;
  for (const json& item : array)
    instruments.push_back({item.at("name"), item.at("serial"), item.at("calibration_due")});
  return instruments;
}

std::vector<Attachment> attachments_of(const json& array) {
  std::vector<Attachment> attachments;
  for (const json& item : array)
    attachments.push_back(
        {item.at("name"), item.at("media_type"), item.at("sha256"), whole<std::uint64_t>(item.at("bytes"))});
  return attachments;
}

/// The value of `"body":` in the text as it is written there: a parser would lose how numbers were written.
std::string body_in(std::string_view text) {
  const std::size_t begin = text.find(R"("body":{)") + 7;
  int depth = 0;
  bool quoted = false;
  for (std::size_t i = begin; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '\\') ++i;
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    depth += c == '{' ? 1 : c == '}' ? -1 : 0;
    if (depth == 0) return std::string(text.substr(begin, i + 1 - begin));
  }
  return {};
}

Record record_of(const json& object, std::string_view text) {
  RecordRow row;
  row.job = object.at("job");
  row.number = whole<std::int64_t>(object.at("number"));
  row.kind = object.at("kind");
  row.at = object.at("at");
  row.who = object.at("who");
  row.instruments = object.at("instruments").dump();
  row.attachments = object.at("attachments").dump();
  row.stored_at = object.at("stored_at");
  row.previous_hash = object.at("previous_hash");
  row.body = body_in(text);
  if (!object.at("corrects").is_null()) row.corrects = whole<std::int64_t>(object.at("corrects"));
  if (object.contains("entry")) row.entry = object.at("entry").get<std::string>();
  row.hash = sha256_hex(text);
  auto record = record_of(row);
  if (!record) throw std::invalid_argument(record.error());
  return *std::move(record);
}

}  // namespace

std::string_view name_of(RecordKind kind) {
  for (const KindName& known : kinds)
    if (known.kind == kind) return known.name;
  return "";
}

std::optional<RecordKind> record_kind(std::string_view name) {
  for (const KindName& known : kinds)
    if (known.name == name) return known.kind;
  return std::nullopt;
}

RecordRow row_of(const Record& record) {
  return {record.job,
          record.number,
          std::string(name_of(record.kind)),
          record.at,
          record.who,
          array_of(record.instruments, [](const Instrument& each) { return text_of(each); }),
          record.body,
          array_of(record.attachments, [](const Attachment& each) { return text_of(each); }),
          record.corrects,
          record.entry,
          record.stored_at,
          record.previous_hash,
          record.hash};
}

std::expected<Record, std::string> record_of(const RecordRow& row) {
  const auto kind = record_kind(row.kind);
  if (!kind) return std::unexpected(fmt::format("\"{}\" is no kind of record", row.kind));
  try {
    Record record;
    record.kind = *kind;
    record.at = row.at;
    record.who = row.who;
    record.instruments = instruments_of(json::parse(row.instruments));
    record.body = row.body;
    record.attachments = attachments_of(json::parse(row.attachments));
    record.corrects = row.corrects;
    record.entry = row.entry;
    record.job = row.job;
    record.number = row.number;
    record.stored_at = row.stored_at;
    record.previous_hash = row.previous_hash;
    record.hash = row.hash;
    return record;
  } catch (const std::exception&) {
    return std::unexpected("its instruments or attachments cannot be read");
  }
}

std::string canonical_text(const RecordRow& row) {
  return fmt::format(
      R"({{"at":{},"attachments":{},"body":{},"corrects":{}{},"instruments":{},"job":{},"kind":{},)"
      R"("number":{},"previous_hash":{},"stored_at":{},"who":{}}})",
      json_string(row.at), row.attachments, row.body,
      row.corrects ? fmt::format("{}", *row.corrects) : "null",
      row.entry ? fmt::format(R"(,"entry":{})", json_string(*row.entry)) : "", row.instruments,
      json_string(row.job), json_string(row.kind), row.number, json_string(row.previous_hash),
      json_string(row.stored_at), json_string(row.who));
}

std::string canonical_text(const Record& record) { return canonical_text(row_of(record)); }

std::string hash_of(const Record& record) { return sha256_hex(canonical_text(record)); }

std::expected<Record, std::string> read_canonical(std::string_view text) {
  const auto canonical = canonical_json(text);
  if (!canonical) return std::unexpected(fmt::format("a record cannot be read: {}", canonical.error()));
  if (*canonical != text) return std::unexpected("a record is not in canonical form");
  try {
    Record record = record_of(json::parse(text), text);
    if (canonical_text(record) != text) return std::unexpected("a record has a key that no record has");
    return record;
  } catch (const json::exception&) {
    return std::unexpected("a record lacks a key, or has a value of another type than it should");
  } catch (const std::invalid_argument& error) {
    return std::unexpected(fmt::format("a record cannot be read: {}", error.what()));
  }
}

}  // namespace firstdraw::store
