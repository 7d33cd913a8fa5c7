// Dates and times of day as loggers write them.
#include <fmt/format.h>

#include <array>
#include <charconv>
#include <chrono>
#include <cmath>

#include "forecast/replay_columns.hpp"

namespace firstdraw::forecast {

namespace {

/// Takes numbers and the signs between them off the front of a text.
class Pieces {
 public:
  explicit Pieces(std::string_view text) : text_(text) {}

  int whole(std::size_t digits) {
    int value = 0;
    const std::string_view part = text_.substr(0, digits);
    const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), value);
    good_ &=
        part.size() == digits && error == std::errc() && end == part.data() + digits && part.front() != '-';
    if (good_) text_.remove_prefix(digits);
    return value;
  }
  void sign(std::string_view either) {
    good_ &= !text_.empty() && either.contains(text_.front());
    if (good_) text_.remove_prefix(1);
  }
  double fraction() {
    if (!good_ || !text_.starts_with(".")) return 0;
    double value = 0;
    const auto read =
        std::from_chars(text_.data(), text_.data() + text_.size(), value, std::chars_format::fixed);
    text_.remove_prefix(static_cast<std::size_t>(read.ptr - text_.data()));
    return value;
  }
  bool starts(char c) const { return good_ && text_.starts_with(c); }
  bool complete() const { return good_ && text_.empty(); }

 private:
  std::string_view text_;
  bool good_ = true;
};

}  // namespace

std::optional<double> date_time_s(std::string_view text) {
  if (text.ends_with('Z')) text.remove_suffix(1);
  Pieces pieces(text);
  const int year = pieces.whole(4);
  pieces.sign("-");
  const int month = pieces.whole(2);
  pieces.sign("-");
  const int day = pieces.whole(2);
  pieces.sign("T ");
  const int hour = pieces.whole(2);
  pieces.sign(":");
  const int minute = pieces.whole(2);
  double second = 0;
  if (pieces.starts(':')) {
    pieces.sign(":");
    second = pieces.whole(2);
    second += pieces.fraction();
  }
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!pieces.complete() || !date.ok() || hour > 23 || minute > 59 || second >= 60) return std::nullopt;
  const double days = static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count());
  return days * draw::day_s + hour * draw::hour_s + minute * draw::minute_s + second;
}

double week_begin_s(double date_s) {
  constexpr double first_monday_s = 4 * draw::day_s;  // 1970-01-05
  return first_monday_s + std::floor((date_s - first_monday_s) / draw::week_s) * draw::week_s;
}

std::string time_text(const RecordedLog& log, double time_s) {
  if (!log.dated) return fmt::format("{:.5g} s", time_s);
  constexpr std::array<const char*, 7> names{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  const auto whole = static_cast<long>(std::floor(time_s));
  const long of_day = whole % static_cast<long>(draw::day_s);
  const auto weekday = static_cast<std::size_t>(draw::weekday_of(time_s));
  return fmt::format("{} {:02}:{:02}:{:02}", names.at(weekday), of_day / 3600, of_day / 60 % 60, of_day % 60);
}

}  // namespace firstdraw::forecast
