#include "watch/log_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "job/context.hpp"
#include "units/number.hpp"
#include "units/unit_table.hpp"
#include "watch/log_number.hpp"
#include "watch/log_stamp.hpp"
#include "watch/log_words.hpp"

namespace firstdraw::watch {
namespace {

constexpr double no_reading = std::numeric_limits<double>::quiet_NaN();
constexpr double day_ms = 86'400'000;
constexpr double spreadsheet_zero_days = 25569;  // 1970-01-01 as days since 1899-12-30
// Years with time zone data, less a day at either end for the offset.
constexpr std::int64_t first_known_ms = 86'400'000, last_known_ms = 2'145'830'400'000;
constexpr std::size_t most_texts = 100;  // kept apart of one column

bool is_number_clock(ClockKind kind) {
  return kind == ClockKind::unix_s || kind == ClockKind::unix_ms || kind == ClockKind::spreadsheet;
}

void note(std::vector<Unreadable>& texts, std::string_view text, std::int64_t line, std::size_t row) {
  const auto known = std::ranges::find(texts, text, &Unreadable::text);
  if (known != texts.end()) {
    ++known->count;
  } else if (texts.size() < most_texts) {
    texts.push_back({line, 1, static_cast<std::int64_t>(row), std::string(text)});
  } else {
    ++texts.back().count;
  }
}

/// How one column's cells become SI.
struct ColumnReader {
  std::size_t cell = 0;
  const units::Unit* unit = nullptr;  // null: SI already
  bool switched = false;              // "on" and "off" are numbers too
  std::string unit_seen;              // the spelling behind the last number
  bool unit_fits = true;
};

/// What stands behind the number is the column's unit, however it is spelled.
bool fits_unit(ColumnReader& reader, std::string_view rest, units::Kind kind) {
  if (rest.empty()) return true;
  if (rest == reader.unit_seen) return reader.unit_fits;
  reader.unit_seen = rest;
  const units::Unit* behind = units::find_unit(clean_unit(rest), kind);
  reader.unit_fits =
      behind != nullptr && behind == (reader.unit == nullptr ? &units::si_unit(kind) : reader.unit);
  return reader.unit_fits;
}

class TableReader {
 public:
  TableReader(const ReadBytes& read, std::string_view file, const LogFormat& format)
      : format_(format),
        file_(file),
        rows_(read, format.encoding, format.delimiter),
        stamps_(format.order),
        time_cell_(static_cast<std::size_t>(format.time_column - 1)) {
    if (format.clock_column) clock_cell_ = static_cast<std::size_t>(*format.clock_column - 1);
    table_.in_utc = format.clock != ClockKind::local && format.clock != ClockKind::spreadsheet;
    if (format.clock == ClockKind::fixed) table_.shown_offset_ms = format.utc_offset_s * 1000LL;
    add_columns();
  }

  std::expected<LogTable, std::vector<job::Diagnostic>> read() {
    rows_.keep_comments_to(format_.header_line);
    while (rows_.next()) {
      if (rows_.line() < format_.first_line) {
        if (rows_.line() == format_.header_line && !check_header()) return std::unexpected(problems_);
        continue;
      }
      ++table_.rows;
      take_row();
    }
    if (!rows_.trouble().empty()) return fail(rows_.line(), "", rows_.trouble());
    if (table_.clock_ms.empty()) return nothing_read();
    return std::move(table_);
  }

 private:
  void add_columns() {
    const auto cells = value_cells(format_);
    for (std::size_t i = 0; i < format_.columns.size(); ++i) {
      const LogColumn& column = format_.columns[i];
      if (column.series.empty()) continue;
      const units::Kind kind = kind_of_quantity(column.quantity);
      const units::Unit* unit = column.unit.empty() ? nullptr : units::find_unit(column.unit, kind);
      readers_.push_back({cells[i], unit, column.quantity == "on", {}, true});
      kinds_.push_back(kind);
      table_.column_of.push_back(i);
    }
    table_.columns.resize(readers_.size());
    table_.no_number.resize(readers_.size());
  }

  std::unexpected<std::vector<job::Diagnostic>> fail(std::int64_t line, std::string field, std::string what,
                                                     std::string hint = {}) {
    problems_.push_back(
        {file_, static_cast<int>(line), 0, std::move(field), std::move(what), std::move(hint)});
    return std::unexpected(problems_);
  }

  std::unexpected<std::vector<job::Diagnostic>> nothing_read() {
    if (table_.no_time.empty()) return fail(0, "", "holds no row of readings below its header");
    const Unreadable& first = table_.no_time.front();
    return fail(
        first.line, fmt::format("column {}", format_.time_column),
        fmt::format("no line has a time that can be read; this one has {}", units::quoted(first.text)),
        "check time.column, time.order and time.clock of the format");
  }

  /// The columns are those that the format was made for.
  bool check_header() {
    const auto cells = value_cells(format_);
    std::vector<std::string> there;
    for (const auto cell : rows_.cells()) there.emplace_back(clean_header(cell));
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string& name = format_.columns[i].header;
      if (format_.columns[i].series.empty() || (cells[i] < there.size() && there[cells[i]] == name)) continue;
      const std::string found = cells[i] < there.size()
                                    ? fmt::format("is called {}", units::quoted(there[cells[i]]))
                                    : "is not there";
      problems_.push_back(
          job::Diagnostic{file_, format_.header_line, 0, fmt::format("column {}", cells[i] + 1),
                          fmt::format("{}; the format calls it {}", found, units::quoted(name)),
                          job::did_you_mean(name, there)});
    }
    return problems_.empty();
  }

  void take_row() {
    const auto& cells = rows_.cells();
    const auto clock_ms = time_of(cells);
    if (!clock_ms) {
      const std::string_view text = time_cell_ < cells.size() ? cells[time_cell_] : rows_.text();
      return note(table_.no_time, text.substr(0, 60), rows_.line(), table_.clock_ms.size());
    }
    if (*clock_ms < first_known_ms || *clock_ms >= last_known_ms) {
      const std::string_view text = cells[time_cell_];
      return note(table_.no_time, text.substr(0, 60), rows_.line(), table_.clock_ms.size());
    }
    table_.clock_ms.push_back(*clock_ms);
    table_.line.push_back(rows_.line());
    for (std::size_t i = 0; i < readers_.size(); ++i)
      table_.columns[i].push_back(readers_[i].cell < cells.size() ? value_of(i, cells[readers_[i].cell])
                                                                  : no_reading);
  }

  std::optional<std::int64_t> time_of(const std::vector<std::string_view>& cells) {
    if (time_cell_ >= cells.size() || cells[time_cell_].empty()) return std::nullopt;
    if (is_number_clock(format_.clock)) return number_time(cells[time_cell_]);
    std::optional<Stamp> stamp;
    if (clock_cell_) {
      if (*clock_cell_ >= cells.size()) return std::nullopt;
      joined_ = cells[time_cell_];
      joined_ += ' ';
      joined_ += cells[*clock_cell_];
      stamp = stamps_.read(joined_);
    } else {
      stamp = stamps_.read(cells[time_cell_]);
    }
    if (!stamp) return std::nullopt;
    return in_clock(*stamp);
  }

  std::optional<std::int64_t> in_clock(const Stamp& stamp) {
    if (format_.clock == ClockKind::with_offset) {
      if (!stamp.utc_offset_s) return std::nullopt;
      return stamp.clock_ms - *stamp.utc_offset_s * 1000LL;
    }
    if (format_.clock == ClockKind::fixed) return stamp.clock_ms - format_.utc_offset_s * 1000LL;
    return stamp.clock_ms;
  }

  std::optional<std::int64_t> number_time(std::string_view cell) const {
    const auto number = log_number(cell, format_.decimal);
    constexpr double last_ms = 2.5e12;
    if (!number || !number->rest.empty()) return std::nullopt;
    const double ms = format_.clock == ClockKind::unix_ms  ? number->value
                      : format_.clock == ClockKind::unix_s ? number->value * 1000
                                                           : (number->value - spreadsheet_zero_days) * day_ms;
    if (!(ms >= 0 && ms < last_ms)) return std::nullopt;
    return std::llround(ms);
  }

  double value_of(std::size_t i, std::string_view cell) {
    ColumnReader& reader = readers_[i];
    if (std::ranges::find(format_.missing, cell) != format_.missing.end()) return no_reading;
    if (const auto number = log_number(cell, format_.decimal)) {
      if (fits_unit(reader, number->rest, kinds_[i]))
        return reader.unit == nullptr ? number->value : reader.unit->to_si(number->value);
    } else if (reader.switched) {
      if (const auto on = switched_word(cell)) return *on ? 1 : 0;
    }
    note(table_.no_number[i], cell.substr(0, 60), rows_.line(), table_.clock_ms.size() - 1);
    return no_reading;
  }

  const LogFormat& format_;
  std::string file_;
  LogRows rows_;
  StampReader stamps_;
  std::size_t time_cell_;
  std::optional<std::size_t> clock_cell_;
  std::vector<ColumnReader> readers_;
  std::vector<units::Kind> kinds_;
  std::string joined_;
  LogTable table_;
  std::vector<job::Diagnostic> problems_;
};

}  // namespace

std::vector<std::size_t> value_cells(const LogFormat& format) {
  std::vector<std::size_t> cells;
  for (int cell = 1; cells.size() < format.columns.size(); ++cell) {
    if (cell != format.time_column && cell != format.clock_column)
      cells.push_back(static_cast<std::size_t>(cell - 1));
  }
  return cells;
}

std::expected<LogTable, std::vector<job::Diagnostic>> read_table(const ReadBytes& read,
                                                                 std::string_view file_name,
                                                                 const LogFormat& format) {
  return TableReader(read, file_name, format).read();
}

}  // namespace firstdraw::watch
