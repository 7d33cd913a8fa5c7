#include "watch/log_clock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>

namespace firstdraw::watch {
namespace {

constexpr std::int64_t day_s = 86'400;

std::int64_t floor_div(std::int64_t value, std::int64_t by) { return value / by - (value % by < 0 ? 1 : 0); }

/// Moments at which a clock shows a time: one, two (rising), or none where the clock skips it.
struct Passes {
  std::int64_t first = 0, second = 0;
  int count = 0;
};

/// Moments of a local clock in a zone; most rows lie far from any change.
class LocalClock {
 public:
  explicit LocalClock(const week::Zone& zone) : zone_(zone) {}

  Passes passes(std::int64_t clock_ms) {
    if (clock_ms >= sure_from_ms_ && clock_ms < sure_to_ms_) return {clock_ms - offset_ms_, 0, 1};
    const std::int64_t second = floor_div(clock_ms, 1000), days = floor_div(second, day_s);
    const week::Date date = std::chrono::sys_days(std::chrono::days(static_cast<int>(days)));
    const auto moments = week::moments_of(zone_, date, static_cast<int>(second - days * day_s));
    const std::int64_t part_ms = clock_ms - second * 1000;
    if (moments.empty()) return {};
    if (moments.size() == 1) remember(moments.front());
    return {moments.front() * 1000 + part_ms, moments.back() * 1000 + part_ms, moments.size() > 1 ? 2 : 1};
  }
  /// By the offset that held before the change that skipped this time.
  std::int64_t by_offset_before(std::int64_t clock_ms) const {
    const std::int64_t day_before = floor_div(clock_ms, 1000) - day_s;
    return clock_ms - week::utc_offset_s(zone_, day_before) * 1000LL;
  }

 private:
  void remember(std::int64_t unix_s) {
    const std::int64_t next = week::next_change_unix_s(zone_, unix_s);
    const auto span = std::ranges::upper_bound(zone_.spans, unix_s, {}, &week::ZoneSpan::from_unix_s) - 1;
    offset_ms_ = span->utc_offset_s * 1000LL;
    sure_from_ms_ = (span->from_unix_s + day_s) * 1000 + offset_ms_;
    sure_to_ms_ = (next - day_s) * 1000 + offset_ms_;
  }

  const week::Zone& zone_;
  std::int64_t sure_from_ms_ = 0, sure_to_ms_ = 0, offset_ms_ = 0;
};

/// Of two passes the one that follows the row before by nearest to the usual step.
std::int64_t nearer(const Passes& passes, std::int64_t before_ms, std::int64_t step_ms) {
  const auto off = [=](std::int64_t at) {
    const std::int64_t step = at - before_ms;
    // Going back within the hour is the second pass for certain.
    return std::abs(step - step_ms) + (step < 0 ? 7'200'000 : 0);
  };
  return off(passes.second) < off(passes.first) ? passes.second : passes.first;
}

/// The file begins within the hour that comes twice: its first pass when the second comes later, else the
/// second.
std::int64_t first_pass(const std::vector<Passes>& passes, std::int64_t step_ms) {
  std::int64_t last = passes.front().first;
  for (std::size_t i = 1; i < passes.size() && passes[i].count == 2; ++i) {
    if (passes[i].first < last || (passes[i].first == last && step_ms >= 1'800'000))
      return passes.front().first;
    last = passes[i].first;
  }
  return passes.front().second;
}

}  // namespace

bool newest_first(const std::vector<std::int64_t>& clock_ms) {
  std::int64_t up = 0, down = 0;
  for (std::size_t i = 1; i < clock_ms.size(); ++i) {
    up += clock_ms[i] > clock_ms[i - 1] ? 1 : 0;
    down += clock_ms[i] < clock_ms[i - 1] ? 1 : 0;
  }
  return down > up;
}

namespace {

Oddity skipped_time(const LogTable& table, std::size_t row, std::int64_t at_ms, std::int64_t count,
                    const std::string& zone) {
  Oddity oddity;
  oddity.kind = Oddity::Kind::clock_jump;
  oddity.from_ms = oddity.to_ms = at_ms;
  oddity.line = table.line[row];
  oddity.count = count;
  oddity.said = fmt::format(
      "{}: the clock of {} never showed this time, it was put forward over it; read as by the "
      "offset before",
      clock_text(table.shown_ms(row)), zone);
  return oddity;
}

}  // namespace

std::string clock_text(std::int64_t clock_ms) {
  const std::int64_t second = floor_div(clock_ms, 1000), days = floor_div(second, day_s);
  const std::chrono::year_month_day date = std::chrono::sys_days(std::chrono::days(static_cast<int>(days)));
  const std::int64_t of_day = second - days * day_s;
  return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}:{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), of_day / 3600,
                     of_day / 60 % 60, of_day % 60);
}

std::string length_text(std::int64_t ms) {
  const std::int64_t s = std::abs(ms) / 1000, min = s / 60, h = min / 60, d = h / 24;
  if (d >= 4) return fmt::format("{} d{}", d, h % 24 > 0 && d < 60 ? fmt::format(" {} h", h % 24) : "");
  if (h > 0) return fmt::format("{} h{}", h, min % 60 > 0 ? fmt::format(" {} min", min % 60) : "");
  if (min > 0) return fmt::format("{} min{}", min, s % 60 > 0 ? fmt::format(" {} s", s % 60) : "");
  return std::abs(ms) % 1000 > 0 ? fmt::format("{:.3g} s", static_cast<double>(std::abs(ms)) / 1000)
                                 : fmt::format("{} s", s);
}

std::int64_t usual_step_ms(const std::vector<std::int64_t>& at_ms) {
  std::vector<std::int64_t> steps;
  steps.reserve(at_ms.size());
  for (std::size_t i = 1; i < at_ms.size(); ++i) {
    if (at_ms[i] != at_ms[i - 1]) steps.push_back(std::abs(at_ms[i] - at_ms[i - 1]));
  }
  if (steps.empty()) return 0;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::ranges::nth_element(steps, middle);
  return *middle;
}

std::expected<Clocked, std::string> in_zone(const LogTable& table, const week::Zone& zone) {
  LocalClock clock(zone);
  Clocked clocked;
  const std::size_t rows = table.clock_ms.size();
  const bool falls = newest_first(table.clock_ms);
  const std::int64_t step_ms = usual_step_ms(table.clock_ms);
  std::vector<Passes> passes(rows);
  const auto row_of = [&](std::size_t i) { return falls ? rows - 1 - i : i; };
  for (std::size_t i = 0; i < rows; ++i) passes[i] = clock.passes(table.clock_ms[row_of(i)]);
  clocked.at_ms.resize(rows);
  std::int64_t before = 0;
  for (std::size_t i = 0; i < rows; ++i) {
    const std::size_t row = row_of(i);
    std::int64_t at = 0;
    if (passes[i].count == 1) {
      at = passes[i].first;
    } else if (passes[i].count == 2) {
      at = i == 0 ? first_pass(passes, step_ms) : nearer(passes[i], before, step_ms);
    } else {
      at = clock.by_offset_before(table.clock_ms[row]);
      const bool goes_on = i > 0 && passes[i - 1].count == 0 && !clocked.oddities.empty();
      if (goes_on) {
        clocked.oddities.back().to_ms = at;
        ++clocked.oddities.back().count;
      } else {
        clocked.oddities.push_back(skipped_time(table, row, at, 1, zone.name));
      }
    }
    before = at;
    clocked.at_ms[row] = at;
  }
  return clocked;
}

}  // namespace firstdraw::watch
