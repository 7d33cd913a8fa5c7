#include "serve/bodies.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "store/rfc3339.hpp"
#include "store/sha256.hpp"
#include "units/clock.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;
using Problems = std::vector<job::Diagnostic>;

/// Reads an object with `fill` and gives it back when nothing is wrong.
template <class T, class Fill>
Read<T> read_body(std::string_view body, const Fill& fill) {
  const auto object = read_object(body);
  if (!object) return std::unexpected(object.error());
  Problems problems;
  T out;
  Fields fields(*object, "", problems);
  fill(fields, out, problems);
  fields.finish();
  if (!problems.empty()) return std::unexpected(std::move(problems));
  return out;
}

std::string required_name(Fields& fields, const char* key, std::size_t longest = 120) {
  std::string text = fields.text(key);
  const bool blank = text.find_first_not_of(' ') == std::string::npos;
  if (blank) fields.complain(key, "must not be empty");
  if (text.size() > longest) fields.complain(key, fmt::format("is longer than {} bytes", longest));
  return text;
}

AskedInstrument instrument_of(const json& object, const std::string& place, Problems& problems) {
  Fields fields(object, place, problems);
  AskedInstrument out{fields.text("name"), fields.text_or("serial", ""),
                      fields.text_or("calibration_due", ""), fields.maybe_number("class_frac", 0, 1)};
  if (!out.calibration_due.empty() && !store::is_date(out.calibration_due))
    fields.complain("calibration_due", "a date was expected", "write it as 2027-03-31");
  fields.finish();
  return out;
}

std::optional<AskedInstrument> maybe_instrument(Fields& fields, Problems& problems) {
  const json* object = fields.maybe_object("instrument");
  if (object == nullptr) return std::nullopt;
  return instrument_of(*object, "instrument", problems);
}

std::vector<Cells> readings_of(Fields& fields, bool required, Problems& problems) {
  constexpr std::size_t most = 500;
  std::vector<Cells> rows;
  for (const json* row : fields.objects("readings", required, most))
    rows.push_back(text_map_of(*row, fmt::format("readings[{}]", rows.size()), problems));
  return rows;
}

void check_moment(Fields& fields, const char* key, const std::string& text) {
  if (!text.empty() && !store::moment_of(text))
    fields.complain(key, fmt::format("\"{}\" is no time with its offset", text),
                    "write it as 2026-11-29T14:05:00-06:00");
}

std::vector<NamedFile> files_of(Fields& fields, Problems& problems) {
  std::vector<NamedFile> files;
  for (const json* object : fields.objects("files", false, 50)) {
    Fields file(*object, fmt::format("files[{}]", files.size()), problems);
    files.push_back({required_name(file, "name", 200), file.text("sha256")});
    if (!store::is_sha256_hex(files.back().sha256))
      file.complain("sha256", "64 hexadecimal digits were expected");
    file.finish();
  }
  return files;
}

std::optional<AskedLook> maybe_look(Fields& fields, Problems& problems) {
  const json* object = fields.maybe_object("looked");
  if (object == nullptr) return std::nullopt;
  Fields look(*object, "looked", problems);
  AskedLook out{look.text("test"), false};
  const auto ok = look.maybe_flag("ok");
  if (!ok && !object->contains("ok")) look.complain("ok", "is missing");
  out.ok = ok.value_or(false);
  look.finish();
  return out;
}

double time_of(Fields& fields, const char* key) {
  const std::string text = fields.text(key);
  const auto time_s = units::parse_time_of_day(text);
  if (!time_s) fields.complain(key, time_s.error());
  return time_s.value_or(0);
}

std::uint8_t days_of(Fields& fields) {
  static const std::vector<std::string> names{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  std::uint8_t days = 0;
  for (const std::string& day : fields.texts("days", true)) {
    const auto found = std::ranges::find(names, day);
    if (found == names.end())
      fields.complain("days", fmt::format("\"{}\" is not one of mon, tue, wed, thu, fri, sat, sun", day));
    else
      days = static_cast<std::uint8_t>(days | (1U << static_cast<unsigned>(found - names.begin())));
  }
  return days;
}

AskedPeriod period_of(const json& object, std::size_t number, Problems& problems) {
  Fields fields(object, fmt::format("periods[{}]", number), problems);
  AskedPeriod period;
  period.weekdays = days_of(fields);
  period.begin_s = time_of(fields, "start");
  period.end_s = time_of(fields, "end");
  period.hold = fields.word("hold", {"maintain", "setback", "off", "temperature"});
  period.temperature_c = fields.maybe_number("temperature_c", 0, 95);
  if (period.hold == "temperature" && !period.temperature_c) fields.complain("temperature_c", "is missing");
  fields.finish();
  return period;
}

void check_kind(Fields& fields, const NewRecord& record) {
  const auto needs = [&](const std::string& value, const char* key, bool needed) {
    const bool blank = value.find_first_not_of(' ') == std::string::npos;
    if (needed && blank) fields.complain(key, fmt::format("a {} must have it", record.kind));
    if (!needed && !blank) fields.complain(key, fmt::format("it does not go with a {}", record.kind));
  };
  const bool signs = record.kind == "sign-off";
  needs(record.role, "role", signs);
  needs(record.statement, "statement", signs);
  if (record.kind == "note" || record.kind == "photo") needs(record.note, "note", true);
  if (record.kind == "photo" && record.files.empty()) fields.complain("files", "a photo must have one");
  if (record.kind == "test" && record.readings.empty())
    fields.complain("readings", "a test must have readings");
  if (record.kind != "test" && !record.readings.empty())
    fields.complain("readings", fmt::format("they do not go with a {}", record.kind));
  if (record.kind == "test" && !record.place.empty()) fields.complain("place", "readings name their own");
  if (record.looked && record.kind != "note") fields.complain("looked", "it goes with a note");
  if (record.looked && record.place.empty()) fields.complain("place", "a look must name its circuit");
  if (!record.corrects && !record.why.empty()) fields.complain("why", "it goes with corrects");
}

}  // namespace

bool is_plain_id(std::string_view text) {
  return !text.empty() && text.size() <= 64 && std::ranges::all_of(text, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
  });
}

Read<NewJob> read_new_job(std::string_view body) {
  return read_body<NewJob>(body, [](Fields& fields, NewJob& out, Problems&) {
    out.id = fields.text("id");
    if (!is_plain_id(out.id))
      fields.complain("id", fmt::format("\"{}\" is no name for a job", out.id),
                      "letters, digits, - and _, at most 64");
    out.start = fields.word("start", {"blank", "clinic"});
    out.name = fields.text_or("name", "");
    if (out.name.find_first_of("\n\r") != std::string::npos) fields.complain("name", "one line was expected");
    out.units = fields.maybe_text("units");
    if (out.units && *out.units != "us" && *out.units != "metric")
      fields.complain("units", fmt::format("\"{}\" is not one of us, metric", *out.units));
  });
}

Read<NewTask> read_new_task(std::string_view body) {
  return read_body<NewTask>(body, [](Fields& fields, NewTask& out, Problems&) {
    out.what = fields.word("what", {"simulate", "week", "pack"});
    out.days = fields.maybe_number("days", 0.05, 366).value_or(7);
    out.seed = static_cast<std::uint64_t>(fields.maybe_integer("seed", 0, INT64_MAX).value_or(1));
    out.faults = fields.texts("faults", false);
    out.season = fields.text_or("season", "");
    out.week = fields.maybe_flag("week");
    if (out.what != "simulate" && !out.faults.empty()) fields.complain("faults", "they go with simulate");
    if (out.what != "week" && !out.season.empty()) fields.complain("season", "it goes with week");
    if (out.what != "pack" && out.week) fields.complain("week", "it goes with pack");
  });
}

Read<TrySchedule> read_try_schedule(std::string_view body) {
  return read_body<TrySchedule>(body, [](Fields& fields, TrySchedule& out, Problems& problems) {
    out.group = fields.text("group");
    for (const json* period : fields.objects("periods", true, 200))
      out.periods.push_back(period_of(*period, out.periods.size(), problems));
  });
}

Read<Readings> read_readings(std::string_view body) {
  return read_body<Readings>(body, [](Fields& fields, Readings& out, Problems& problems) {
    out.readings = readings_of(fields, true, problems);
    out.instrument = maybe_instrument(fields, problems);
    out.at = fields.text_or("at", "");
    check_moment(fields, "at", out.at);
  });
}

Read<NewRecord> read_new_record(std::string_view body) {
  return read_body<NewRecord>(body, [](Fields& fields, NewRecord& out, Problems& problems) {
    out.entry = fields.text("entry");
    if (!is_plain_id(out.entry)) fields.complain("entry", "1 to 64 letters, digits, - and _ were expected");
    out.kind = fields.word("kind", {"test", "photo", "sign-off", "note"});
    out.who = required_name(fields, "who");
    out.at = fields.text("at");
    if (!store::moment_of(out.at))
      fields.complain("at", "a time with its offset was expected", "2026-11-29T14:05:00-06:00");
    out.instrument = maybe_instrument(fields, problems);
    out.readings = readings_of(fields, false, problems);
    out.note = fields.text_or("note", "");
    out.files = files_of(fields, problems);
    out.corrects = fields.maybe_integer("corrects", 1, INT64_MAX);
    out.why = fields.text_or("why", "");
    out.role = fields.text_or("role", "");
    out.statement = fields.text_or("statement", "");
    out.place = fields.text_or("place", "");
    out.looked = maybe_look(fields, problems);
    check_kind(fields, out);
  });
}

Read<Pair> read_pair(std::string_view body) {
  return read_body<Pair>(body, [](Fields& fields, Pair& out, Problems&) {
    out.code = fields.text("code");
    out.name = required_name(fields, "name", 60);
  });
}

Read<NewShare> read_new_share(std::string_view body) {
  return read_body<NewShare>(body, [](Fields& fields, NewShare& out, Problems&) {
    out.days = fields.integer("days", 1, 365);
    out.name = required_name(fields, "name", 60);
  });
}

}  // namespace firstdraw::serve
