// The format of a log as a TOML text, and back.
#include "watch/log_format.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <map>

#include "job/toml_reader.hpp"
#include "job/writers.hpp"
#include "units/unit_table.hpp"
#include "watch/log_bytes.hpp"
#include "watch/log_places.hpp"
#include "watch/log_stamp.hpp"
#include "watch/log_words.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {
namespace {

using job::blank;
using job::Named;
using job::needed;
using job::Range;
using job::TomlReader;

constexpr std::array<Named<char>, 5> delimiters{
    {{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}, {'|', "bar"}, {' ', "blank"}}};
constexpr std::array<Named<char>, 2> decimals{{{'.', "point"}, {',', "comma"}}};
constexpr std::array<Named<DateOrder>, 3> orders{{{DateOrder::year_month_day, "year-month-day"},
                                                  {DateOrder::day_month_year, "day-month-year"},
                                                  {DateOrder::month_day_year, "month-day-year"}}};
constexpr std::array<Named<ClockKind>, 6> clocks{{{ClockKind::local, "local"},
                                                  {ClockKind::fixed, "fixed"},
                                                  {ClockKind::unix_s, "unix-seconds"},
                                                  {ClockKind::unix_ms, "unix-milliseconds"},
                                                  {ClockKind::spreadsheet, "spreadsheet-days"},
                                                  {ClockKind::with_offset, "with-offset"}}};
constexpr Range line_range{0, 1e6, false, "between 0 (no header) and 1000000"};
constexpr Range first_range{1, 1e6, false, "between 1 and 1000000"};
constexpr Range column_range{1, 1000, false, "between 1 and 1000"};

bool needs_zone(ClockKind clock) { return clock == ClockKind::local || clock == ClockKind::spreadsheet; }
bool needs_order(ClockKind clock) {
  return clock == ClockKind::local || clock == ClockKind::fixed || clock == ClockKind::with_offset;
}

template <class E, std::size_t n>
std::string quoted_name(E value, const std::array<Named<E>, n>& choices) {
  return job::toml_text(job::name_of(value, choices));
}

std::string list_text(const std::vector<std::string>& texts) {
  std::string list;
  for (const std::string& text : texts) list += (list.empty() ? "" : ", ") + job::toml_text(text);
  return "[" + list + "]";
}

std::string time_text(const LogFormat& format) {
  std::string text = fmt::format("\n[time]\ncolumn = {}\n", format.time_column);
  if (format.clock_column)
    text += fmt::format("clock_column = {}               # the time of the day stands apart\n",
                        *format.clock_column);
  text += fmt::format("clock = {}\n", quoted_name(format.clock, clocks));
  if (needs_order(format.clock)) text += fmt::format("order = {}\n", quoted_name(format.order, orders));
  if (needs_zone(format.clock)) text += fmt::format("zone = {}\n", job::toml_text(format.zone));
  if (format.clock == ClockKind::fixed)
    text += fmt::format("utc_offset = {}\n", job::toml_text(utc_offset_text(format.utc_offset_s)));
  return text;
}

std::string column_text(const LogColumn& column) {
  std::string text = fmt::format("\n[[column]]\nheader = {}\n", job::toml_text(column.header));
  if (column.series.empty()) return text + "series = \"\"                    # not read\n";
  text += fmt::format("series = {}\nquantity = {}\n", job::toml_text(column.series),
                      job::toml_text(column.quantity));
  text += fmt::format("place = {}\n", job::toml_text(column.place));
  if (!column.unit.empty()) text += fmt::format("unit = {}\n", job::toml_text(column.unit));
  return text;
}

class FormatReader {
 public:
  FormatReader(std::string_view file, const job::Job& job, std::span<const std::string> circuits)
      : file_(file), job_(job), circuits_(circuits) {}

  std::expected<LogFormat, std::vector<job::Diagnostic>> read(std::string_view text) {
    try {
      toml::table root = toml::parse(text);
      read_root(root);
    } catch (const toml::parse_error& error) {
      const auto& begin = error.source().begin;
      context_.problem({file_, static_cast<int>(begin.line), static_cast<int>(begin.column)}, "",
                       fmt::format("is not TOML here: {}", error.description()),
                       "the rest of the file was not read");
    }
    if (!context_.problems.empty()) return std::unexpected(context_.problems);
    return std::move(format_);
  }

 private:
  /// The tables are moved out of the root, so that its reader knows all keys that are left.
  void read_root(toml::table& root) {
    if (auto* time = root.get_as<toml::table>("time")) {
      read_time(*time);
      root.erase("time");
    } else if (!root.contains("time")) {
      context_.problem({file_}, "time", "is missing", "write [time] with column and clock");
    }
    auto* columns = root.get_as<toml::array>("column");
    if (columns != nullptr && columns->is_array_of_tables()) {
      for (const auto& column : *columns) read_column(*column.as_table());
      root.erase("column");
    } else if (!root.contains("column")) {
      context_.problem({file_}, "column", "is missing", "write [[column]] for each but those of the time");
    }
    TomlReader reader(root, file_, "", context_);
    read_shape(reader);
    reader.finish();
    if (context_.problems.empty() &&
        std::ranges::all_of(format_.columns, [](const LogColumn& one) { return one.series.empty(); }))
      context_.problem({file_}, "column", "no column is read", "name the series of at least one");
  }

  void read_shape(TomlReader& reader) {
    reader.choice("delimiter", format_.delimiter, delimiters, needed);
    reader.choice("decimal", format_.decimal, decimals, needed);
    std::vector<std::string> encodings;
    for (const auto name : {utf_8, utf_16le, utf_16be, latin_1}) encodings.emplace_back(name);
    reader.known("encoding", format_.encoding, encodings, needed);
    reader.integer("header_line", format_.header_line, line_range, needed);
    reader.integer("first_line", format_.first_line, first_range, needed);
    if (reader.clean() && format_.first_line <= format_.header_line)
      reader.problem("first_line", "must be below header_line");
    if (const auto* list = reader.list("missing", "a list of texts")) {
      for (const auto& text : *list) {
        if (text.is_string()) {
          format_.missing.push_back(text.as_string()->get());
        } else {
          reader.problem("missing", "every entry must be text in quotes");
        }
      }
    }
  }

  void read_time(const toml::table& table) {
    TomlReader reader(table, file_, "time", context_);
    reader.integer("column", format_.time_column, column_range, needed);
    int clock_column = 0;
    reader.integer("clock_column", clock_column, Range{0, 1000, false, "between 1 and 1000"}, blank);
    if (clock_column > 0) format_.clock_column = clock_column;
    if (clock_column > 0 && clock_column == format_.time_column)
      reader.problem("clock_column", "is the column of the date",
                     "leave it out where both stand in one cell");
    reader.choice("clock", format_.clock, clocks, needed);
    if (needs_order(format_.clock)) reader.choice("order", format_.order, orders, needed);
    if (needs_zone(format_.clock)) read_zone_name(reader);
    if (format_.clock == ClockKind::fixed) read_offset(reader);
    reader.finish();
  }

  void read_zone_name(TomlReader& reader) {
    reader.text("zone", format_.zone, needed);
    if (format_.zone.empty()) return;
    constexpr int any_year = 2026;
    const auto zone = week::read_zone(format_.zone, any_year, any_year);
    if (!zone) reader.problem("zone", zone.error());
  }

  void read_offset(TomlReader& reader) {
    std::string text;
    reader.text("utc_offset", text, needed);
    if (text.empty()) return;
    const auto offset_s = read_utc_offset(text);
    if (!offset_s)
      return reader.problem("utc_offset", fmt::format("\"{}\" is no offset; expected \"+01:00\"", text));
    format_.utc_offset_s = *offset_s;
  }

  void read_column(const toml::table& table) {
    TomlReader reader(table, file_, "column", context_);
    LogColumn column;
    reader.text("header", column.header, blank);
    if (!table.contains("header"))
      reader.problem("header", "is missing", "the text of the file's header line");
    reader.text("series", column.series, blank);
    if (column.series.empty()) {
      reader.finish();
      format_.columns.push_back(std::move(column));
      return;
    }
    if (const auto wrong = job::wrong_id(column.series)) reader.problem("series", *wrong);
    reader.known("quantity", column.quantity, quantity_names(), needed);
    reader.text("place", column.place, blank);
    reader.text("unit", column.unit, blank);
    judge_column(reader, column);
    reader.finish();
    format_.columns.push_back(std::move(column));
  }

  void judge_column(TomlReader& reader, const LogColumn& column) {
    const auto places = log_places(job_, circuits_);
    if (!column.place.empty() && std::ranges::find(places, column.place) == places.end())
      reader.problem("place",
                     fmt::format("there is no group, circuit, run, outlet or space \"{}\"", column.place),
                     job::did_you_mean(column.place, places));
    const auto known_quantity = std::ranges::count(quantity_names(), column.quantity) > 0;
    if (known_quantity && !column.unit.empty()) {
      const auto value = units::to_si(1, column.unit, kind_of_quantity(column.quantity));
      if (!value) reader.problem("unit", value.error());
    }
    const auto [known, added] = series_line_.try_emplace(column.series, reader.where("series").line);
    if (!added)
      reader.problem("series",
                     fmt::format("\"{}\" is there twice, first on line {}", column.series, known->second),
                     "give every column a name of its own");
  }

  std::string_view file_;
  const job::Job& job_;
  std::span<const std::string> circuits_;
  job::Context context_;
  LogFormat format_;
  std::map<std::string, int, std::less<>> series_line_;
};

}  // namespace

std::string format_text(const LogFormat& format) {
  std::string text =
      "# How a logger's file is read. Correct what is wrong and hand it to firstdraw watch import with "
      "--format.\n";
  text += fmt::format("delimiter = {}\n", quoted_name(format.delimiter, delimiters));
  text += fmt::format("decimal = {}\n", quoted_name(format.decimal, decimals));
  text += fmt::format("encoding = {}\n", job::toml_text(format.encoding));
  text += fmt::format("header_line = {}                # 0: none\n", format.header_line);
  text += fmt::format("first_line = {}                 # of readings\n", format.first_line);
  text += fmt::format("missing = {}   # cells that say there is no reading\n", list_text(format.missing));
  text += time_text(format);
  text +=
      "\n# All columns but those of the time, in the file's order. Without a unit: °C, A, V, W, a share.\n";
  for (const LogColumn& column : format.columns) text += column_text(column);
  return text;
}

std::expected<LogFormat, std::vector<job::Diagnostic>> read_format(std::string_view toml,
                                                                   std::string_view file_name,
                                                                   const job::Job& job,
                                                                   std::span<const std::string> circuits) {
  return FormatReader(file_name, job, circuits).read(toml);
}

}  // namespace firstdraw::watch
