#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "watch/daily.hpp"
#include "watch/estimate.hpp"
#include "watch/log_words.hpp"
#include "watch/segments.hpp"

namespace firstdraw::watch {
namespace {

using units::Kind;

constexpr std::size_t least_days = 3, fewest_days = 10;
constexpr int simulated_rows = 2000;
constexpr double between_share = 0.9;

std::string date_of(std::int64_t at_ms, const week::Zone* zone) {
  const std::int64_t at_s = at_ms / 1000;
  const bool covered = zone && at_s >= zone->from_unix_s && at_s < zone->to_unix_s;
  const std::chrono::sys_days day{std::chrono::floor<std::chrono::days>(std::chrono::sys_seconds{
      std::chrono::seconds{at_s + (covered ? week::utc_offset_s(*zone, at_s) : 0)}})};
  const std::chrono::year_month_day date{day};
  return fmt::format("{}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

struct Words {
  const week::Zone* zone;
  units::System system;
};

std::string cooling_text(const Change& change, units::System system) {
  const std::string_view unit = units::display_unit(Kind::temperature_difference, system);
  const auto rate = [unit](double k_per_h) {
    return units::from_si(k_per_h, unit, Kind::temperature_difference);
  };
  return fmt::format("{:.2g} instead of {:.2g} {}/h", rate(change.after), rate(change.before), unit);
}

std::string said_of(const store::SeriesInfo& series, DailyRow::Figure figure, const Change& change,
                    const Words& words) {
  const bool up = change.after > change.before;
  const std::string& name = series.name;
  const std::string when =
      change.earliest_ms == change.latest_ms
          ? "on " + date_of(change.at_ms, words.zone)
          : fmt::format("on {} (between {} and {})", date_of(change.at_ms, words.zone),
                        date_of(change.earliest_ms, words.zone), date_of(change.latest_ms, words.zone));
  switch (figure) {
    case DailyRow::Figure::on_share:
      return fmt::format("{}: {} is on for {:.0f} % of the day instead of {:.0f} %.", when, name,
                         100 * change.after, 100 * change.before);
    case DailyRow::Figure::night_cooling:
      return fmt::format("{}: {} cools {} at night, {}.", when, name, up ? "faster" : "slower",
                         cooling_text(change, words.system));
    case DailyRow::Figure::mean:
      break;
  }
  const Kind kind = kind_of_quantity(series.quantity);
  return fmt::format("{}: the daily mean of {} {} from {} to {}.", when, name, up ? "rose" : "fell",
                     units::show(change.before, kind, words.system),
                     units::show(change.after, kind, words.system));
}

double mean_between(const std::vector<double>& values, std::size_t from, std::size_t to) {
  double sum = 0;
  for (std::size_t i = from; i < to; ++i) sum += values[i];
  return sum / static_cast<double>(to - from);
}

/// What cutting here gains when its neighbours stand.
double gain_of(std::span<const double> white, std::size_t from, std::size_t at, std::size_t to) {
  const auto n = static_cast<double>(at - from), m = static_cast<double>(to - at);
  double before = 0, after = 0;
  for (std::size_t i = from; i < at; ++i) before += white[i] / n;
  for (std::size_t i = at; i < to; ++i) after += white[i] / m;
  return n * m / (n + m) * (after - before) * (after - before);
}

void changes_of(const store::SeriesInfo& series, const DailyRow& row, double false_alarm_frac,
                const Words& words, std::vector<Change>& all) {
  if (row.values.size() < fewest_days) return;
  const Memory memory = memory_of(row.values);
  if (!(memory.sd > 0)) return;
  const std::vector<double> white = whitened(row.values, memory);
  const std::vector<double> gains =
      gains_without_change(row.values.size(), memory.correlation, least_days, simulated_rows);
  std::vector<std::size_t> begins = pelt(white, penalty_for(gains, false_alarm_frac), least_days);
  for (std::size_t c = 0; c < begins.size(); ++c) {
    const std::size_t from = c == 0 ? 0 : begins[c - 1], at = begins[c];
    const std::size_t to = c + 1 < begins.size() ? begins[c + 1] : row.values.size();
    const Between between = change_between(white, from, at, to, between_share);
    Change change;
    change.series = series.name;
    change.at_ms = row.begin_ms[at];
    change.earliest_ms = row.begin_ms[between.first];
    change.latest_ms = row.begin_ms[between.last];
    change.before = mean_between(row.values, from, at);
    change.after = mean_between(row.values, at, to);
    const double gain = gain_of(white, from, at, to);
    const auto larger = std::ranges::count_if(gains, [gain](double other) { return other >= gain; });
    change.false_alarm_prob = static_cast<double>(larger + 1) / static_cast<double>(gains.size() + 1);
    change.said = said_of(series, row.figure, change, words);
    all.push_back(change);
  }
}

}  // namespace

std::vector<Change> changes(const Logged& logged, units::System system, double false_alarm_frac,
                            const week::Zone* zone) {
  std::vector<Change> all;
  for (const LoggedSeries& series : logged.series) {
    const std::vector<DailyRow> rows = daily_rows(series, zone);
    for (const DailyRow& row : rows)
      changes_of(series.info, row, false_alarm_frac / static_cast<double>(rows.size()), {zone, system}, all);
  }
  return all;
}

}  // namespace firstdraw::watch
