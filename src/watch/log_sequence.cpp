// Leaps of a log's clock: what is a gap, what a clock that was set, what a block that was sent twice.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numeric>

#include "watch/log_clock.hpp"

namespace firstdraw::watch {
namespace {

constexpr std::int64_t hour_ms = 3'600'000, day_ms = 86'400'000;
constexpr std::int64_t gap_steps = 3;
constexpr std::size_t most_judged = 100;  // of a kind, one by one: more of them are disorder

/// How the values of one column change over `lag` rows: mean of the amount; 0: too few to tell.
double mean_change(const std::vector<double>& values, std::size_t lag) {
  double sum = 0;
  std::size_t count = 0;
  constexpr std::size_t least = 30, most_looks = 5000;
  const std::size_t stride = std::max<std::size_t>(1, values.size() / most_looks);
  for (std::size_t i = lag; i < values.size(); i += stride) {
    const double change = std::abs(values[i] - values[i - lag]);
    if (std::isnan(change)) continue;
    sum += change;
    ++count;
  }
  return count < least ? 0 : sum / static_cast<double>(count);
}

class SequenceJudge {
 public:
  SequenceJudge(const LogTable& table, const std::vector<std::int64_t>& at_ms, bool claims_fixed)
      : table_(table), at_(at_ms), claims_fixed_(claims_fixed), order_(at_ms.size()), jumped_(at_ms.size()) {
    std::iota(order_.begin(), order_.end(), 0U);
    if (newest_first(at_)) std::ranges::reverse(order_);
    step_ms_ = usual_step_ms(at_);
    result_.keep.assign(at_.size(), true);
    result_.interval_s = static_cast<double>(step_ms_) / 1000;
  }

  Sequence judge() {
    leave_out_wrong_clocks();
    judge_back_steps();
    leave_out_twice();
    judge_leaps();
    return std::move(result_);
  }

 private:
  std::int64_t time(std::size_t i) const { return at_[order_[i]]; }
  bool kept(std::size_t i) const { return result_.keep[order_[i]]; }
  std::string shown(std::size_t i) const { return clock_text(table_.shown_ms(order_[i])); }

  Oddity& add(Oddity::Kind kind, std::size_t before, std::size_t at, std::int64_t count, std::string said) {
    Oddity oddity;
    oddity.kind = kind;
    oddity.from_ms = std::min(time(before), time(at));
    oddity.to_ms = std::max(time(before), time(at));
    oddity.line = table_.line[order_[at]];
    oddity.count = count;
    oddity.said = std::move(said);
    return result_.oddities.emplace_back(std::move(oddity));
  }

  void judge_back_steps() {
    std::vector<std::size_t> back;
    for (std::size_t i = 1; i < order_.size(); ++i) {
      if (kept(i) && kept(i - 1) && time(i) < time(i - 1)) back.push_back(i);
    }
    if (back.size() <= most_judged) {
      earlier_.clear();
      for (const std::size_t i : back) judge_back(i);
    } else {
      add(Oddity::Kind::clock_jump, back.front() - 1, back.front(), static_cast<std::int64_t>(back.size()),
          fmt::format("the rows are in no order of time: {} of them are earlier than the one before",
                      back.size()));
    }
  }

  /// A stretch with a clock that lost its time, and found it again: 2000-01-01 after a flat battery.
  void leave_out_wrong_clocks() {
    const std::int64_t far = std::max(day_ms, 50 * step_ms_);
    for (std::size_t i = 1; i < order_.size(); ++i) last_back_ = time(i) < time(i - 1) ? i : last_back_;
    std::size_t looks = 0;
    for (std::size_t i = 1; i < order_.size(); ++i) {
      const std::int64_t leap = time(i) - time(i - 1);
      if (std::abs(leap) < far || ++looks > most_judged) continue;
      const std::size_t end = end_of_island(i, leap < 0);
      if (end == 0) continue;
      add(Oddity::Kind::clock_jump, i, i, static_cast<std::int64_t>(end - i),
          fmt::format("{} {} by a clock that showed {} after {}: left out", end - i,
                      end - i == 1 ? "row is stamped" : "rows are stamped", shown(i), shown(i - 1)));
      for (std::size_t k = i; k < end; ++k) result_.keep[order_[k]] = false;
      i = end;
    }
  }

  /// Where the clock has come back behind the row before `begin`, without the stretch touching what was
  /// logged before; 0: it does not come back.
  std::size_t end_of_island(std::size_t begin, bool back) const {
    const std::int64_t before = time(begin - 1), first = time(0);
    for (std::size_t i = begin; i < order_.size(); ++i) {
      if (!back && i > last_back_ && time(i) >= time(begin)) return 0;  // times only rise from here on
      const std::int64_t passed = static_cast<std::int64_t>(i - begin + 1) * step_ms_;
      const bool came_back =
          back ? time(i) > before
               : time(i) > before && time(i) < before + 3 * passed + day_ms && time(i) < time(begin);
      if (came_back) return i;
      if (back && time(i) >= first) return 0;
    }
    return 0;
  }

  /// Rows before `i` into earlier_, by time: those that are new are merged in, which touches only what they
  /// overlap, so that a long log with few steps back stays quick.
  void gather_earlier(std::size_t i) {
    const auto by_time = [this](std::size_t row) { return at_[row]; };
    const auto old = static_cast<std::ptrdiff_t>(earlier_.size());
    earlier_.insert(earlier_.end(), order_.begin() + old, order_.begin() + static_cast<std::ptrdiff_t>(i));
    const auto middle = earlier_.begin() + old;
    if (!std::is_sorted(middle, earlier_.end(), [&](auto a, auto b) { return at_[a] < at_[b]; }))
      std::ranges::stable_sort(middle, earlier_.end(), {}, by_time);
    const auto first = std::ranges::upper_bound(earlier_.begin(), middle, at_[*middle], {}, by_time);
    std::ranges::inplace_merge(first, middle, earlier_.end(), {}, by_time);
  }

  /// Rows from `i` on go over time that has been logged already.
  void judge_back(std::size_t i) {
    gather_earlier(i);
    std::size_t same = 0, late = 0, over = 0;
    for (std::size_t k = i; k < order_.size() && time(k) <= time(i - 1); ++k) {
      if (k > i && time(k) < time(k - 1)) break;
      ++over;
      same += is_there(order_[k]) ? 1 : 0;
      late += fills_a_hole(time(k)) ? 1 : 0;
    }
    if (same * 2 > over || late == over) return;  // sent twice, or sent late: the sorting sees to both
    const std::int64_t back = time(i - 1) + step_ms_ - time(i);
    add(Oddity::Kind::clock_jump, i - 1, i, static_cast<std::int64_t>(over),
        is_daylight_night(i, -back)
            ? fmt::format(
                  "the clock went back by {} after {}, as at the end of daylight saving, though the format "
                  "says that it has a fixed offset",
                  length_text(back), shown(i - 1))
            : fmt::format(
                  "the clock was set back by {} after {}: {} rows stand in time that was logged already",
                  length_text(back), shown(i - 1), over));
    for (std::size_t k = i; k < i + over; ++k) jumped_[order_[k]] = true;
  }

  bool is_there(std::size_t row) const {
    const auto at =
        std::ranges::lower_bound(earlier_, at_[row], {}, [this](std::size_t r) { return at_[r]; });
    return at != earlier_.end() && at_[*at] == at_[row] && same_values(*at, row);
  }

  bool same_values(std::size_t a, std::size_t b) const {
    return std::ranges::all_of(table_.columns, [a, b](const std::vector<double>& values) {
      return values[a] == values[b] || (std::isnan(values[a]) && std::isnan(values[b]));
    });
  }

  bool fills_a_hole(std::int64_t at_ms) const {
    const auto after =
        std::ranges::upper_bound(earlier_, at_ms, {}, [this](std::size_t r) { return at_[r]; });
    if (after == earlier_.begin() || after == earlier_.end()) return true;
    return at_[*after] - at_[*(after - 1)] >= step_ms_ * 3 / 2 && at_[*(after - 1)] != at_ms;
  }

  /// An hour, on a Sunday night of spring or autumn.
  bool is_daylight_night(std::size_t i, std::int64_t leap_ms) const {
    if (!claims_fixed_ ||
        std::abs(std::abs(leap_ms) - hour_ms) > std::max<std::int64_t>(step_ms_ / 2, 60'000))
      return false;
    const std::int64_t shown_ms = table_.shown_ms(order_[i - 1]), days = shown_ms / day_ms;
    const std::chrono::sys_days day{std::chrono::days(static_cast<int>(days))};
    const auto month = static_cast<unsigned>(std::chrono::year_month_day(day).month());
    const bool season = month == 3 || month == 4 || (month >= 9 && month <= 11);
    const bool sunday = std::chrono::weekday(day) == std::chrono::Sunday ||
                        std::chrono::weekday(day + std::chrono::days(1)) == std::chrono::Sunday;
    return season && sunday;
  }

  /// Of rows of one moment the first in the file stays.
  void leave_out_twice() {
    std::ranges::stable_sort(order_, {}, [this](std::size_t row) { return at_[row]; });
    std::erase_if(order_, [this](std::size_t row) { return !result_.keep[row]; });
    std::size_t stays = 0, begin = 0, count = 0, other = 0, last = 0;
    const auto say = [&] {
      if (count == 0) return;
      add(Oddity::Kind::duplicate, begin, last, static_cast<std::int64_t>(count),
          fmt::format(
              "{} from {} on {} twice{}", count == 1 ? "a moment" : fmt::format("{} moments", count),
              shown(begin), count == 1 ? "comes" : "come",
              other == 0 ? ", with the same readings"
                         : fmt::format("; {} with other readings: those that stand first are taken", other)));
      result_.oddities.back().line = table_.line[order_[begin]];
      count = other = 0;
    };
    for (std::size_t i = 1; i < order_.size(); ++i) {
      if (time(i) != time(stays)) {
        if (count > 0 && time(i) - time(last) > gap_steps * step_ms_) say();
        stays = i;
        continue;
      }
      result_.keep[order_[i]] = false;
      if (jumped_[order_[i]]) continue;
      if (count == 0) begin = i;
      ++count;
      last = i;
      other += same_values(order_[stays], order_[i]) ? 0U : 1U;
    }
    say();
    std::erase_if(order_, [this](std::size_t row) { return !result_.keep[row]; });
  }

  void judge_leaps() {
    if (step_ms_ == 0) return;
    for (std::size_t i = 1; i < order_.size(); ++i) {
      const std::int64_t leap = time(i) - time(i - 1);
      if (leap <= gap_steps * step_ms_) continue;
      const std::int64_t set = leap - step_ms_;
      const double clock = clock_log_odds(i, leap);
      if (is_daylight_night(i, set) && clock > -2) {
        add(Oddity::Kind::clock_jump, i - 1, i, 1,
            fmt::format("the clock went forward by {} after {}, as at the begin of daylight saving, though "
                        "the format "
                        "says that it has a fixed offset",
                        length_text(set), shown(i - 1)));
      } else if (clock > std::log(20.0)) {
        add(Oddity::Kind::clock_jump, i - 1, i, 1,
            fmt::format(
                "the clock was set forward by about {} after {}: the readings go on as if no time had passed",
                length_text(set), shown(i - 1)));
      } else {
        add(Oddity::Kind::gap, i - 1, i, std::max<std::int64_t>(1, leap / step_ms_ - 1),
            fmt::format("no readings for {}, from {} to {}", length_text(leap), shown(i - 1), shown(i)));
      }
    }
  }

  /// Log of the odds that the values between two rows changed as over one step rather than as over the leap.
  /// Columns that change no more over the leap than over a step tell nothing.
  double clock_log_odds(std::size_t i, std::int64_t leap_ms) {
    const auto lag = static_cast<std::size_t>(leap_ms / step_ms_);
    if (lag > at_.size() / 4 || ++leaps_judged_ > most_judged) return 0;
    double odds = 0;
    for (const auto& values : table_.columns) {
      const double change = std::abs(values[order_[i]] - values[order_[i - 1]]);
      const double short_k = mean_change(values, 1), long_k = mean_change(values, lag);
      if (std::isnan(change) || short_k <= 0 || long_k < 3 * short_k) continue;
      // Two-sided exponentials: their mean amounts are their scales.
      odds += std::log(long_k / short_k) - change / short_k + change / long_k;
    }
    return odds;
  }

  const LogTable& table_;
  const std::vector<std::int64_t>& at_;
  bool claims_fixed_;
  std::vector<std::size_t> order_;    // rows as they follow each other in time
  std::vector<std::size_t> earlier_;  // those before the step back that is judged, by time
  std::vector<bool> jumped_;
  std::int64_t step_ms_ = 0;
  std::size_t leaps_judged_ = 0, last_back_ = 0;  // row of the last step back
  Sequence result_;
};

}  // namespace

Sequence judge_sequence(const LogTable& table, const std::vector<std::int64_t>& at_ms, bool claims_fixed) {
  return SequenceJudge(table, at_ms, claims_fixed).judge();
}

}  // namespace firstdraw::watch
