#include "watch/daily.hpp"

#include <algorithm>
#include <cmath>

#include "watch/log_grid.hpp"

namespace firstdraw::watch {
namespace {

constexpr std::int64_t day_s = 86400;
constexpr double night_h = 5;

struct Day {
  std::int64_t begin_ms = 0;
  std::size_t first = 0, last = 0;  // samples
};

std::int64_t day_of(std::int64_t at_ms, const week::Zone* zone) {
  const std::int64_t at_s = at_ms >= 0 ? at_ms / 1000 : -((-at_ms + 999) / 1000);
  const bool covered = zone && at_s >= zone->from_unix_s && at_s < zone->to_unix_s;
  const std::int64_t local_s = covered ? at_s + week::utc_offset_s(*zone, at_s) : at_s;
  return local_s >= 0 ? local_s / day_s : -((-local_s + day_s - 1) / day_s);
}

std::vector<Day> days_of(const std::vector<store::Sample>& samples, const week::Zone* zone) {
  std::vector<Day> days;
  std::int64_t last = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const std::int64_t day = day_of(samples[i].at_ms, zone);
    if (days.empty() || day != last) days.push_back({samples[i].at_ms, i, i});
    last = day;
    days.back().last = i + 1;
  }
  std::vector<std::size_t> counts;
  for (const Day& day : days) counts.push_back(day.last - day.first);
  if (counts.empty()) return days;
  std::ranges::nth_element(counts, counts.begin() + static_cast<std::ptrdiff_t>(counts.size() / 2));
  const std::size_t least = std::max<std::size_t>(1, counts[counts.size() / 2] / 4);
  std::erase_if(days, [least](const Day& day) { return day.last - day.first < least; });
  return days;
}

double mean_of(const std::vector<store::Sample>& samples, const Day& day) {
  double sum = 0;
  for (std::size_t i = day.first; i < day.last; ++i) sum += samples[i].value;
  return sum / static_cast<double>(day.last - day.first);
}

/// Ninth tenth of how fast half-hours of the night cool; NaN without any.
double night_cooling(const std::vector<store::Sample>& samples, const Day& day) {
  constexpr std::int64_t window_ms = 1'800'000;
  const std::int64_t until = day.begin_ms + static_cast<std::int64_t>(night_h * 3'600'000);
  std::vector<double> rates;
  std::size_t to = day.first;
  for (std::size_t from = day.first; from < day.last; ++from) {
    while (to < day.last && samples[to].at_ms < samples[from].at_ms + window_ms) ++to;
    if (to == day.last || samples[to].at_ms > until) break;
    const double hours = static_cast<double>(samples[to].at_ms - samples[from].at_ms) / 3'600'000;
    if (hours < 0.75) rates.push_back((samples[from].value - samples[to].value) / hours);
  }
  if (rates.size() < 4) return std::numeric_limits<double>::quiet_NaN();
  const auto at = static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(rates.size() - 1));
  std::nth_element(rates.begin(), rates.begin() + at, rates.end());
  return rates[static_cast<std::size_t>(at)];
}

}  // namespace

std::vector<DailyRow> daily_rows(const LoggedSeries& series, const week::Zone* zone) {
  using enum DailyRow::Figure;
  const std::string& quantity = series.info.quantity;
  const bool switched = quantity == "current" || quantity == "on" || quantity == "duty";
  const std::vector<store::Sample> samples = switched ? on_samples(series) : series.samples;
  std::vector<DailyRow> rows{{switched ? on_share : mean, {}, {}}};
  if (quantity == "temperature") rows.push_back({night_cooling, {}, {}});
  for (const Day& day : days_of(samples, zone))
    for (DailyRow& row : rows) {
      const double value =
          row.figure == night_cooling ? watch::night_cooling(samples, day) : mean_of(samples, day);
      if (std::isnan(value)) continue;
      row.values.push_back(value);
      row.begin_ms.push_back(day.begin_ms);
    }
  return rows;
}

}  // namespace firstdraw::watch
