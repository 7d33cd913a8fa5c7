#include "cli/watch_import_answer.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>

#include "cli/findings_text.hpp"
#include "store/rfc3339.hpp"
#include "watch/log_stamp.hpp"
#include "watch/log_words.hpp"

namespace firstdraw::cli {
namespace {

using nlohmann::json;

std::string moment_text(std::int64_t ms) {
  const std::chrono::sys_time<std::chrono::microseconds> at{std::chrono::milliseconds(ms)};
  std::string text = store::utc_text(at);
  const std::size_t point = text.find(".000000");
  if (point != std::string::npos) text.erase(point, 7);
  return text;
}

std::string delimiter_text(char delimiter) {
  switch (delimiter) {
    case ',':
      return "commas";
    case ';':
      return "semicolons";
    case '\t':
      return "tabs";
    case '|':
      return "bars";
    default:
      return "blanks";
  }
}

std::string order_text(watch::DateOrder order) {
  if (order == watch::DateOrder::year_month_day) return "year, month, day";
  return order == watch::DateOrder::day_month_year ? "day, month, year" : "month, day, year";
}

std::string clock_of(const watch::LogFormat& format) {
  switch (format.clock) {
    case watch::ClockKind::local:
      return fmt::format("local time of {}; {}", format.zone, order_text(format.order));
    case watch::ClockKind::fixed:
      return fmt::format("UTC{} all year; {}", watch::utc_offset_text(format.utc_offset_s),
                         order_text(format.order));
    case watch::ClockKind::unix_s:
      return "seconds since 1970";
    case watch::ClockKind::unix_ms:
      return "milliseconds since 1970";
    case watch::ClockKind::spreadsheet:
      return fmt::format("days of a spreadsheet, local time of {}", format.zone);
    case watch::ClockKind::with_offset:
      return fmt::format("each with its offset from UTC; {}", order_text(format.order));
  }
  return {};
}

std::string cells_text(const watch::LogFormat& format) {
  return fmt::format("{} between cells, decimal {}, {}, readings from line {}",
                     delimiter_text(format.delimiter), format.decimal == '.' ? "points" : "commas",
                     format.encoding, format.first_line);
}

TextTable columns_table(const ImportAnswer& answer, units::System system) {
  TextTable table({{"Column", "", Column::Kind::wrapping_text},
                   {"Series", "", Column::Kind::wrapping_text},
                   {"Quantity", "", Column::Kind::text},
                   {"Readings", "", Column::Kind::number},
                   {"Least", "", Column::Kind::number},
                   {"Most", "", Column::Kind::number}});
  for (const watch::LogColumn& column : answer.format.columns) {
    if (column.series.empty()) table.add_row({{column.header}, {"not read"}, {""}, {""}, {""}, {""}});
    const auto read =
        std::ranges::find_if(answer.read.series, [&column](const auto& one) { return one.column == column; });
    if (column.series.empty() || read == answer.read.series.end()) continue;
    const units::Kind kind = watch::kind_of_quantity(column.quantity);
    const auto& samples = read->samples;
    const auto shown = [&](double value) { return units::show(value, kind, system); };
    std::string least, most;
    if (!samples.empty()) {
      const auto [low, high] = std::ranges::minmax_element(samples, {}, &store::Sample::value);
      least = shown(low->value), most = shown(high->value);
    }
    const std::string unit = column.unit.empty() ? "" : fmt::format(", {}", column.unit);
    table.add_row({{column.header},
                   {column.series},
                   {column.quantity + unit},
                   {fmt::format("{}", samples.size())},
                   {least},
                   {most}});
  }
  return table;
}

void add_oddities(Page& page, const ImportAnswer& answer) {
  constexpr std::size_t most_shown = 20;
  if (answer.read.oddities.empty()) return page.paragraph("Nothing odd was found in it.");
  page.heading("Odd in this log");
  std::size_t shown = 0;
  for (const watch::Oddity& oddity : answer.read.oddities) {
    if (++shown > most_shown) break;
    const std::string where = oddity.line > 0 ? fmt::format("line {}", oddity.line) : "";
    const std::string series = oddity.series.empty() ? "" : fmt::format(" · {}", oddity.series);
    page.paragraph(oddity.said, fmt::format("  {} · {}{}: ", where, name_of(oddity.kind), series));
  }
  if (answer.read.oddities.size() > most_shown)
    page.paragraph(fmt::format("  and {} more; --json lists all", answer.read.oddities.size() - most_shown));
}

void add_preview(Page& page, const ImportAnswer& answer) {
  if (answer.preview.empty()) return;
  std::vector<Column> columns{{"UTC", "", Column::Kind::text}};
  for (const auto& series : answer.read.series)
    columns.push_back({series.column.series, "SI", Column::Kind::number});
  TextTable table(columns);
  for (const auto& row : answer.preview) {
    std::vector<Cell> cells;
    for (const std::string& text : row) cells.push_back({text});
    cells.resize(columns.size());
    table.add_row(std::move(cells));
  }
  page.heading("First rows, as they would be read");
  page.table(table);
}

void add_doubts(Page& page, const ImportAnswer& answer) {
  if (answer.doubts.empty()) return;
  page.heading("Not sure");
  for (const std::string& doubt : answer.doubts) page.paragraph(doubt + ".", "  ");
}

void add_outcome(Page& page, const ImportAnswer& answer, const std::string& folder) {
  page.blank();
  if (answer.held_back) {
    page.paragraph("nothing was stored: the format is guessed, and the points above are not sure.",
                   "Held back: ", Style::yellow);
    page.paragraph("Where the guess is right, say so:");
    page.verbatim(fmt::format("  firstdraw watch import {} --log {} --yes", folder, answer.log));
    page.paragraph("Else correct it and read the log by that:");
    page.verbatim(fmt::format("  firstdraw watch import {} --log {} --dry-run --save-format logger.toml",
                              folder, answer.log));
    page.verbatim(
        fmt::format("  firstdraw watch import {} --log {} --format logger.toml", folder, answer.log));
  } else if (!answer.known_since.empty()) {
    page.paragraph(fmt::format("this very file was imported on {} (record {} of {}); nothing was changed.",
                               answer.known_since, answer.record, answer.book),
                   "Known: ", Style::bold);
  } else if (answer.stored) {
    std::int64_t added = 0, replaced = 0, same = 0;
    for (const StoredSeries& series : answer.series) {
      added += series.count.added;
      replaced += series.count.replaced;
      same += series.count.same;
    }
    page.paragraph(fmt::format("{} in {}, record {} of {}: {} new, {} replaced, {} there already.",
                               plural(answer.series.size(), "series", "series"), answer.store, answer.record,
                               answer.book, added, replaced, same),
                   "Stored: ", Style::green);
  } else {
    page.paragraph("a dry run stores nothing.", "Not stored: ", Style::bold);
  }
}

json format_json(const watch::LogFormat& format) {
  json columns = json::array();
  for (const watch::LogColumn& column : format.columns)
    columns.push_back({{"header", column.header},
                       {"series", column.series},
                       {"quantity", column.quantity},
                       {"place", column.place},
                       {"unit", column.unit}});
  return {{"toml", watch::format_text(format)}, {"columns", columns}};
}

json oddities_json(const watch::LogImport& read) {
  json list = json::array();
  for (const watch::Oddity& oddity : read.oddities)
    list.push_back({{"kind", name_of(oddity.kind)},
                    {"series", oddity.series},
                    {"from", moment_text(oddity.from_ms)},
                    {"to", moment_text(oddity.to_ms)},
                    {"line", oddity.line},
                    {"count", oddity.count},
                    {"said", oddity.said}});
  return list;
}

json series_json(const ImportAnswer& answer) {
  json list = json::array();
  for (const watch::LogSeries& series : answer.read.series) {
    json one{{"name", series.column.series},
             {"quantity", series.column.quantity},
             {"place", series.column.place},
             {"unit", series.column.unit},
             {"readings", series.samples.size()}};
    if (!series.samples.empty()) {
      const auto [low, high] = std::ranges::minmax_element(series.samples, {}, &store::Sample::value);
      one["first"] = moment_text(series.samples.front().at_ms);
      one["last"] = moment_text(series.samples.back().at_ms);
      one["least_si"] = low->value;
      one["most_si"] = high->value;
    }
    const auto stored = std::ranges::find(answer.series, series.column.series, &StoredSeries::name);
    if (stored != answer.series.end())
      one["stored"] = {
          {"added", stored->count.added}, {"replaced", stored->count.replaced}, {"same", stored->count.same}};
    list.push_back(std::move(one));
  }
  return list;
}

}  // namespace

void add_answer(Page& page, const ImportAnswer& answer, const std::string& folder, units::System system) {
  page.facts({{"Log", fmt::format("{}: {} rows, {} left out, a reading every {}", answer.log,
                                  answer.read.rows, answer.read.bad_rows,
                                  units::show(answer.read.interval_s, units::Kind::duration, system))},
              {"Read by", answer.format_from},
              {"Cells", cells_text(answer.format)},
              {"Times", clock_of(answer.format)}});
  page.blank();
  page.table(columns_table(answer, system));
  if (!answer.stored) add_preview(page, answer);
  page.blank();
  add_oddities(page, answer);
  add_doubts(page, answer);
  add_outcome(page, answer, folder);
}

json to_json(const ImportAnswer& answer) {
  json result{{"log", answer.log},
              {"sha256", answer.sha256},
              {"format_from", answer.format_from},
              {"format", format_json(answer.format)},
              {"sure_frac", answer.sure_frac},
              {"doubts", answer.doubts},
              {"preview", answer.preview},
              {"rows", answer.read.rows},
              {"bad_rows", answer.read.bad_rows},
              {"interval_s", answer.read.interval_s},
              {"series", series_json(answer)},
              {"oddities", oddities_json(answer.read)},
              {"held_back", answer.held_back},
              {"stored", answer.stored},
              {"record", answer.record},
              {"known_since", answer.known_since}};
  return result;
}

json record_body(const ImportAnswer& answer) {
  return {{"file", answer.log},
          {"sha256", answer.sha256},
          {"format_from", answer.format_from},
          {"format", watch::format_text(answer.format)},
          {"doubts", answer.doubts},
          {"rows", answer.read.rows},
          {"bad_rows", answer.read.bad_rows},
          {"interval_s", answer.read.interval_s},
          {"series", series_json(answer)},
          {"oddities", oddities_json(answer.read)}};
}

}  // namespace firstdraw::cli
