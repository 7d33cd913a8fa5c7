#include "watch/log_import.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "units/number.hpp"
#include "watch/log_clock.hpp"
#include "watch/log_stuck.hpp"
#include "watch/log_table.hpp"

namespace firstdraw::watch {
namespace {

constexpr std::size_t most_oddities = 200;  // of one kind in one series, told one by one

int year_of(std::int64_t ms) {
  const std::chrono::sys_days day{std::chrono::days(static_cast<int>(ms / 86'400'000))};
  return static_cast<int>(std::chrono::year_month_day(day).year());
}

/// Moments of the rows, in UTC.
std::expected<Clocked, std::string> moments_of(const LogTable& table, const LogFormat& format) {
  if (table.in_utc) return Clocked{table.clock_ms, {}};
  const auto [first, last] = std::ranges::minmax(table.clock_ms);
  const auto zone = week::read_zone(format.zone, year_of(first), year_of(last));
  if (!zone) return std::unexpected(zone.error());
  return in_zone(table, *zone);
}

/// Rows that stay, as samples of one column; what cannot be is left out by the caller.
std::vector<store::Sample> samples_of(const std::vector<double>& values, const std::vector<std::size_t>& rows,
                                      const std::vector<std::int64_t>& at_ms) {
  std::vector<store::Sample> samples;
  samples.reserve(rows.size());
  for (const std::size_t row : rows) {
    if (!std::isnan(values[row])) samples.push_back({at_ms[row], values[row]});
  }
  return samples;
}

/// Stretches without rows, so that a gap of a series is news only where the file as a whole has none.
class Empty {
 public:
  explicit Empty(const std::vector<Oddity>& of_file) {
    for (const Oddity& oddity : of_file) {
      if (oddity.kind == Oddity::Kind::gap || oddity.kind == Oddity::Kind::clock_jump)
        spans_.push_back({oddity.from_ms, oddity.to_ms});
    }
    std::ranges::sort(spans_);
  }

  /// The gap but for what is empty anyway, s.
  double own_s(const Oddity& gap) const {
    std::int64_t empty_ms = 0;
    auto span = std::ranges::lower_bound(spans_, std::pair(gap.from_ms, std::int64_t{0}));
    if (span != spans_.begin()) --span;
    for (; span != spans_.end() && span->first < gap.to_ms; ++span)
      empty_ms +=
          std::max<std::int64_t>(0, std::min(gap.to_ms, span->second) - std::max(gap.from_ms, span->first));
    return static_cast<double>(gap.to_ms - gap.from_ms - empty_ms) / 1000;
  }

 private:
  std::vector<std::pair<std::int64_t, std::int64_t>> spans_;
};

Oddity unreadable(const std::string& series, const Unreadable& text, std::int64_t at_ms, std::string said) {
  Oddity oddity;
  oddity.kind = Oddity::Kind::unreadable;
  oddity.series = series;
  oddity.from_ms = oddity.to_ms = at_ms;
  oddity.line = text.line;
  oddity.count = text.count;
  oddity.said = std::move(said);
  return oddity;
}

std::string times_text(std::int64_t count) { return count == 1 ? "once" : fmt::format("{} times", count); }

class Importer {
 public:
  Importer(LogTable table, const LogFormat& format, Clocked clocked, units::System shown)
      : table_(std::move(table)), format_(format), clocked_(std::move(clocked)), shown_(shown) {}

  LogImport import() {
    Sequence sequence = judge_sequence(table_, clocked_.at_ms, format_.clock == ClockKind::fixed);
    result_.interval_s = sequence.interval_s;
    result_.rows = table_.rows;
    result_.oddities = std::move(clocked_.oddities);
    std::ranges::move(sequence.oddities, std::back_inserter(result_.oddities));
    empty_ = Empty(result_.oddities);
    order_rows(sequence.keep);
    for (std::size_t i = 0; i < table_.columns.size(); ++i) add_series(i);
    add_lines_without_time();
    thin_out();
    return std::move(result_);
  }

 private:
  void order_rows(const std::vector<bool>& keep) {
    for (std::size_t row = 0; row < keep.size(); ++row) {
      if (keep[row]) rows_.push_back(row);
    }
    const auto at = [this](std::size_t row) { return clocked_.at_ms[row]; };
    if (!std::ranges::is_sorted(rows_, {}, at)) std::ranges::stable_sort(rows_, {}, at);
  }

  void add_series(std::size_t i) {
    LogSeries series{format_.columns[table_.column_of[i]],
                     samples_of(table_.columns[i], rows_, clocked_.at_ms)};
    table_.columns[i] = {};  // a long log is not held twice
    const double interval_s = own_interval_s(series);
    for (Oddity& oddity : oddities_of(series.column, series.samples, shown_)) {
      if (oddity.kind == Oddity::Kind::gap && empty_.own_s(oddity) <= 3 * interval_s) continue;
      oddity.line = line_at(oddity.from_ms);
      result_.oddities.push_back(std::move(oddity));
    }
    std::erase_if(series.samples, [&series](const store::Sample& sample) {
      return !is_possible(series.column.quantity, sample.value);
    });
    for (const Unreadable& text : table_.no_number[i]) {
      const auto row = static_cast<std::size_t>(text.row);
      result_.oddities.push_back(
          unreadable(series.column.series, text, row < clocked_.at_ms.size() ? clocked_.at_ms[row] : 0,
                     fmt::format("{} is no reading ({})", units::quoted(text.text), times_text(text.count))));
    }
    result_.series.push_back(std::move(series));
  }

  double own_interval_s(const LogSeries& series) const {
    std::vector<std::int64_t> at_ms;
    for (const auto& sample : series.samples) at_ms.push_back(sample.at_ms);
    return static_cast<double>(usual_step_ms(at_ms)) / 1000;
  }

  std::int64_t line_at(std::int64_t at_ms) const {
    const auto row =
        std::ranges::lower_bound(rows_, at_ms, {}, [this](std::size_t r) { return clocked_.at_ms[r]; });
    return row == rows_.end() ? 0 : table_.line[*row];
  }

  void add_lines_without_time() {
    for (const Unreadable& text : table_.no_time) {
      result_.bad_rows += text.count;
      const std::size_t row = std::min(static_cast<std::size_t>(text.row), clocked_.at_ms.size() - 1);
      result_.oddities.push_back(
          unreadable("", text, clocked_.at_ms[row],
                     fmt::format("{} is no time of this log: the line is left out ({})",
                                 units::quoted(text.text), times_text(text.count))));
    }
  }

  /// Of many alike the first stay, the last of them counts the others.
  void thin_out() {
    std::vector<Oddity> kept;
    std::vector<std::pair<std::pair<Oddity::Kind, std::string>, std::size_t>> seen;
    for (Oddity& oddity : result_.oddities) {
      const auto key = std::pair(oddity.kind, oddity.series);
      auto known = std::ranges::find(seen, key, [](const auto& one) { return one.first; });
      if (known == seen.end()) known = seen.insert(seen.end(), {key, 0});
      if (++known->second <= most_oddities) kept.push_back(std::move(oddity));
    }
    for (const auto& [key, count] : seen) {
      if (count <= most_oddities) continue;
      Oddity rest;
      rest.kind = key.first;
      rest.series = key.second;
      rest.from_ms = clocked_.at_ms[rows_.empty() ? 0 : rows_.front()];
      rest.to_ms = clocked_.at_ms[rows_.empty() ? 0 : rows_.back()];
      rest.count = static_cast<std::int64_t>(count - most_oddities);
      rest.said = fmt::format("{} more of this kind are not listed", rest.count);
      kept.push_back(std::move(rest));
    }
    result_.oddities = std::move(kept);
  }

  LogTable table_;
  const LogFormat& format_;
  Clocked clocked_;
  units::System shown_;
  LogImport result_;
  Empty empty_{{}};
  std::vector<std::size_t> rows_;  // that stay, by time
};

}  // namespace

std::expected<LogImport, std::vector<job::Diagnostic>> import_log(const ReadBytes& read,
                                                                  std::string_view file_name,
                                                                  const LogFormat& format,
                                                                  units::System shown) {
  if (std::ranges::all_of(format.columns, [](const LogColumn& one) { return one.series.empty(); }))
    return std::unexpected(
        std::vector{job::Diagnostic{std::string(file_name), 0, 0, "column", "the format reads no column",
                                    "name the series and the quantity of at least one"}});
  auto table = read_table(read, file_name, format);
  if (!table) return std::unexpected(table.error());
  auto clocked = moments_of(*table, format);
  if (!clocked)
    return std::unexpected(std::vector{job::Diagnostic{std::string(file_name), 0, 0, "time.zone",
                                                       clocked.error(), "name the zone in the format"}});
  return Importer(*std::move(table), format, *std::move(clocked), shown).import();
}

std::expected<LogImport, std::vector<job::Diagnostic>> import_log(std::string_view text,
                                                                  std::string_view file_name,
                                                                  const LogFormat& format,
                                                                  units::System shown) {
  return import_log(bytes_of(text), file_name, format, shown);
}

}  // namespace firstdraw::watch
