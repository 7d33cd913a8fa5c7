#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdlib>

#include "units/number.hpp"
#include "watch/log_clock.hpp"
#include "watch/log_guess.hpp"
#include "watch/log_stamp.hpp"
#include "watch/log_words.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {
namespace {

constexpr std::int64_t day_ms = 86'400'000;
constexpr std::array orders{DateOrder::year_month_day, DateOrder::day_month_year, DateOrder::month_day_year};

std::string lowered(std::string_view text) {
  std::string out;
  for (const char letter : text) out += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  return out;
}

std::optional<Stamp> stamp_of(const Shape& shape, std::size_t row, DateOrder order) {
  const auto& cells = shape.sheet.rows[row];
  if (shape.clock_cell) return read_stamp(cells[shape.time_cell], cells[*shape.clock_cell], order);
  return read_stamp(cells[shape.time_cell], order);
}

/// How well the dates fit one order.
struct Trial {
  DateOrder order{};
  std::size_t read = 0;  // rows that are dates
  double cost = 0;       // leaps and steps back
  std::vector<std::int64_t> clock_ms;
};

Trial try_order(const Shape& shape, DateOrder order) {
  Trial trial;
  trial.order = order;
  for (const std::size_t row : shape.data) {
    const auto stamp = stamp_of(shape, row, order);
    if (!stamp) continue;
    ++trial.read;
    trial.clock_ms.push_back(stamp->clock_ms);
  }
  const std::int64_t step = usual_step_ms(trial.clock_ms);
  const bool falls = newest_first(trial.clock_ms);
  for (std::size_t i = 1; i < trial.clock_ms.size(); ++i) {
    const std::int64_t leap = (trial.clock_ms[i] - trial.clock_ms[i - 1]) * (falls ? -1 : 1);
    if (leap < -7'200'000) trial.cost += 2;
    if (leap > std::max<std::int64_t>(3 * step, 7'200'000)) trial.cost += 1;
  }
  // No logger waits longer than a day for the next reading.
  if (step > day_ms + 7'200'000) trial.cost += static_cast<double>(trial.read);
  return trial;
}

std::string order_text(DateOrder order) {
  if (order == DateOrder::year_month_day) return "year, month, day";
  return order == DateOrder::day_month_year ? "day, month, year" : "month, day, year";
}

/// What people usually mean where the rows do not tell.
DateOrder usual_order(const Shape& shape, const Guess& guess, const job::Job& job) {
  const std::string& text = shape.sheet.rows[shape.data.front()][shape.time_cell];
  const std::string clock = shape.clock_cell ? shape.sheet.rows[shape.data.front()][*shape.clock_cell] : text;
  const std::string small = lowered(clock);
  const bool half_days = small.find('m') != std::string::npos && small.find(':') != std::string::npos;
  if (text.find('.') != std::string::npos && text.find('/') == std::string::npos)
    return DateOrder::day_month_year;
  if (half_days || job.tariff.zone.starts_with("America/")) return DateOrder::month_day_year;
  if (guess.format.delimiter == ';') return DateOrder::day_month_year;
  return job.units == units::System::us ? DateOrder::month_day_year : DateOrder::day_month_year;
}

std::string ambiguous(const Shape& shape, DateOrder a, DateOrder b) {
  const std::size_t row = shape.data.front();
  const std::string& text = shape.sheet.rows[row][shape.time_cell];
  const auto day = [&](DateOrder order) {
    const auto stamp = stamp_of(shape, row, order);
    return stamp ? clock_text(stamp->clock_ms).substr(0, 10) : std::string("no date");
  };
  return fmt::format("day and month cannot be told apart: \"{}\" on line {} could be {} or {}", text,
                     shape.sheet.line[row], day(a), day(b));
}

/// The order that all rows agree on; a doubt where two do about as well.
std::vector<std::int64_t> guess_order(const Shape& shape, const job::Job& job, Guess& guess) {
  std::vector<Trial> trials;
  std::size_t most_read = 0;
  for (const DateOrder order : orders) {
    trials.push_back(try_order(shape, order));
    most_read = std::max(most_read, trials.back().read);
  }
  // A date with its month as a word, or its year first, reads the same in every order it can be read in.
  std::erase_if(trials, [most_read](const Trial& trial) { return trial.read * 200 < most_read * 199; });
  std::ranges::stable_sort(trials, {}, &Trial::cost);
  std::size_t best = 0;
  const bool alike = trials.size() > 1 && trials[0].clock_ms == trials[1].clock_ms;
  if (trials.size() > 1 && !alike && trials[1].cost < 2 * trials[0].cost + 1) {
    const DateOrder usual = usual_order(shape, guess, job);
    for (std::size_t i = 1; i < trials.size(); ++i) {
      const bool close = trials[i].cost < 2 * trials[0].cost + 1;
      if (trials[i].order == usual && close) best = i;
    }
    guess.doubts.push_back(ambiguous(shape, trials[best].order, trials[best == 0 ? 1 : 0].order) +
                           "; taken as " + order_text(trials[best].order));
  }
  guess.format.order = trials[best].order;
  return trials[best].clock_ms;
}

/// "Date Time, GMT-05:00", "time (UTC)": the offset that a text names.
std::optional<int> offset_in(std::string_view text) {
  const std::string small = lowered(text);
  for (const std::string_view word : {"utc", "gmt"}) {
    const std::size_t at = small.find(word);
    if (at == std::string::npos) continue;
    if (at > 0 && std::isalpha(static_cast<unsigned char>(small[at - 1])) != 0) continue;
    std::size_t end = at + 3;
    while (end < text.size() && (std::isdigit(static_cast<unsigned char>(text[end])) != 0 ||
                                 text[end] == ':' || text[end] == '+' || text[end] == '-'))
      ++end;
    if (end < text.size() && std::isalpha(static_cast<unsigned char>(text[end])) != 0) continue;
    if (const auto offset_s = read_utc_offset(text.substr(at, end - at))) return offset_s;
  }
  return std::nullopt;
}

/// A zone that a line above the header names: "Time zone: Europe/Berlin".
std::string zone_in(const std::vector<std::string>& row) {
  constexpr int any_year = 2026;
  for (const std::string& cell : row) {
    std::size_t slash = cell.find('/');
    if (slash == std::string::npos) continue;
    std::size_t begin = slash, end = slash + 1;
    const auto is_name = [](char c) {
      return std::isalpha(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '/';
    };
    while (begin > 0 && is_name(cell[begin - 1])) --begin;
    while (end < cell.size() && is_name(cell[end])) ++end;
    const std::string name = cell.substr(begin, end - begin);
    if (week::read_zone(name, any_year, any_year)) return name;
  }
  return {};
}

/// What the header or the lines above it say of the clock. true: something.
bool told_by_text(const Shape& shape, LogFormat& format) {
  const auto fix = [&format](int offset_s) {
    format.clock = ClockKind::fixed;
    format.utc_offset_s = offset_s;
    return true;
  };
  if (shape.header) {
    const auto& names = shape.sheet.rows[*shape.header];
    for (const std::size_t cell : {shape.time_cell, shape.clock_cell.value_or(shape.time_cell)}) {
      if (cell >= names.size()) continue;
      if (const auto offset_s = offset_in(names[cell])) return fix(*offset_s);
    }
  }
  for (std::size_t row = 0; row < shape.data.front(); ++row) {
    if (row == shape.header) continue;
    const auto& cells = shape.sheet.rows[row];
    const bool of_zone = std::ranges::any_of(cells, [](const std::string& cell) {
      const std::string small = lowered(cell);
      return small.find("zone") != std::string::npos || small.find("utc") != std::string::npos;
    });
    if (!of_zone) continue;
    if (const std::string zone = zone_in(cells); !zone.empty()) {
      format.clock = ClockKind::local;
      format.zone = zone;
      return true;
    }
    for (const std::string& cell : cells) {
      if (const auto offset_s = offset_in(cell)) return fix(*offset_s);
    }
  }
  return false;
}

/// Stamps that carry their offset from UTC: all, none, or a doubt.
bool told_by_stamps(const Shape& shape, Guess& guess) {
  std::size_t with = 0, named = 0;
  for (const std::size_t row : shape.data) {
    const auto stamp = stamp_of(shape, row, guess.format.order);
    with += stamp && stamp->utc_offset_s ? 1U : 0U;
    named += stamp && stamp->by_zone_name ? 1U : 0U;
  }
  if (with == 0) return false;
  if (with * 100 < shape.data.size() * 99) {
    guess.doubts.push_back(
        fmt::format("only {} of {} times carry their offset from UTC; the others would be left out", with,
                    shape.data.size()));
  }
  if (named > 0) {
    const auto& cells = shape.sheet.rows[shape.data.front()];
    guess.doubts.push_back(
        fmt::format("the zone is a short name that several countries use: \"{}\" on line {} is "
                    "read as the one of North America or Europe",
                    cells[shape.clock_cell.value_or(shape.time_cell)], shape.sheet.line[shape.data.front()]));
  }
  guess.format.clock = ClockKind::with_offset;
  return true;
}

/// Does the clock follow daylight saving? Told where the log holds a change.
void check_daylight(const std::vector<std::int64_t>& clock_ms, Guess& guess) {
  constexpr int first_year = 1970, last_year = 2037;
  const auto zone = week::read_zone(guess.format.zone, first_year, last_year);
  if (!zone) return;
  std::vector<std::int64_t> sorted = clock_ms;
  std::ranges::sort(sorted);
  const std::int64_t step_s = usual_step_ms(sorted) / 1000;
  for (std::size_t i = 1; i < zone->spans.size(); ++i) {
    const auto& span = zone->spans[i];
    const std::int64_t was_s = zone->spans[i - 1].utc_offset_s, is_s = span.utc_offset_s;
    if (is_s <= was_s) continue;
    const std::int64_t begin_ms = (span.from_unix_s + was_s) * 1000,
                       end_ms = (span.from_unix_s + is_s) * 1000;
    const auto inside = std::ranges::lower_bound(sorted, end_ms) - std::ranges::lower_bound(sorted, begin_ms);
    if (inside < 2 || inside * step_s * 2 < is_s - was_s) continue;
    guess.format.clock = ClockKind::fixed;
    guess.format.utc_offset_s = static_cast<int>(was_s);
    guess.doubts.push_back(
        fmt::format("{} readings are stamped between {} and {}, which the clocks of {} skipped: the logger "
                    "seems to stay on UTC{}",
                    inside, clock_text(begin_ms), clock_text(end_ms), guess.format.zone,
                    utc_offset_text(guess.format.utc_offset_s)));
    guess.format.zone.clear();
    return;
  }
}

void take_zone(const job::Job& job, Guess& guess) {
  if (guess.format.zone.empty()) guess.format.zone = job.tariff.zone;
  if (!guess.format.zone.empty()) return;
  if (guess.format.clock == ClockKind::spreadsheet) {
    guess.format.zone = "Etc/UTC";
  } else {
    guess.format.clock = ClockKind::fixed;
  }
  guess.doubts.emplace_back(
      "neither the log nor the job says which clock the times follow; they are taken as UTC (tariff.zone of "
      "job.toml, or zone or utc_offset of the format, would say)");
}

}  // namespace

void guess_time(const Shape& shape, const job::Job& job, Guess& guess) {
  LogFormat& format = guess.format;
  format.time_column = static_cast<int>(shape.time_cell) + 1;
  if (shape.clock_cell) format.clock_column = static_cast<int>(*shape.clock_cell) + 1;
  format.clock = shape.number_clock;
  if (shape.times_are_numbers()) {
    if (format.clock == ClockKind::spreadsheet) take_zone(job, guess);
    return;
  }
  const auto clock_ms = guess_order(shape, job, guess);
  if (told_by_stamps(shape, guess)) return;
  if (told_by_text(shape, format)) return;
  take_zone(job, guess);
  if (format.clock == ClockKind::local) check_daylight(clock_ms, guess);
}

}  // namespace firstdraw::watch
