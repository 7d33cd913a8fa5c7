#include "store/rfc3339.hpp"

#include <fmt/format.h>

namespace firstdraw::store {
namespace {

using std::chrono::microseconds;

/// Takes fixed-width pieces from the front of a text; once one is wrong, all are.
class Taker {
 public:
  explicit Taker(std::string_view text) : rest_(text) {}

  int digits(std::size_t count, int least, int most) {
    int value = 0;
    if (rest_.size() < count) good_ = false;
    for (std::size_t i = 0; good_ && i < count; ++i) {
      good_ = rest_[i] >= '0' && rest_[i] <= '9';
      value = value * 10 + (rest_[i] - '0');
    }
    if (good_) rest_.remove_prefix(count);
    good_ = good_ && value >= least && value <= most;
    return good_ ? value : least;
  }
  void exactly(char c) { good_ = maybe(c) && good_; }
  bool maybe(char c) {
    if (rest_.empty() || rest_.front() != c) return false;
    rest_.remove_prefix(1);
    return true;
  }
  /// What follows the point of a fraction of a second; at least one digit, none counts beyond the sixth.
  microseconds fraction() {
    std::int64_t value = 0, unit = 100'000;
    const std::size_t before = rest_.size();
    while (!rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9') {
      value += unit * (rest_.front() - '0');
      unit /= 10;
      rest_.remove_prefix(1);
    }
    good_ = good_ && rest_.size() < before;
    return microseconds(value);
  }
  bool done() const { return good_ && rest_.empty(); }
  bool good() const { return good_; }

 private:
  std::string_view rest_;
  bool good_ = true;
};

std::chrono::year_month_day take_date(Taker& taker) {
  const int year = taker.digits(4, 1, 9999);
  taker.exactly('-');
  const int month = taker.digits(2, 1, 12);
  taker.exactly('-');
  const int day = taker.digits(2, 1, 31);
  return {std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
          std::chrono::day(static_cast<unsigned>(day))};
}

microseconds take_time(Taker& taker) {
  const std::chrono::hours hours(taker.digits(2, 0, 23));
  taker.exactly(':');
  const std::chrono::minutes minutes(taker.digits(2, 0, 59));
  taker.exactly(':');
  const std::chrono::seconds seconds(taker.digits(2, 0, 59));
  return hours + minutes + seconds + (taker.maybe('.') ? taker.fraction() : microseconds(0));
}

std::chrono::minutes take_offset(Taker& taker) {
  if (taker.maybe('Z')) return {};
  const bool behind = taker.maybe('-');
  if (!behind) taker.exactly('+');
  const std::chrono::hours hours(taker.digits(2, 0, 23));
  taker.exactly(':');
  const std::chrono::minutes minutes = hours + std::chrono::minutes(taker.digits(2, 0, 59));
  return behind ? -minutes : minutes;
}

}  // namespace

std::optional<std::chrono::sys_time<microseconds>> moment_of(std::string_view text) {
  Taker taker(text);
  const std::chrono::year_month_day date = take_date(taker);
  taker.exactly('T');
  const microseconds time = take_time(taker);
  const std::chrono::minutes offset = take_offset(taker);
  if (!taker.done() || !date.ok()) return std::nullopt;
  return std::chrono::sys_days(date) + time - offset;
}

bool is_date(std::string_view text) {
  Taker taker(text);
  const std::chrono::year_month_day date = take_date(taker);
  return taker.done() && date.ok();
}

std::string utc_text(std::chrono::sys_time<microseconds> moment) {
  const auto day = std::chrono::floor<std::chrono::days>(moment);
  const std::chrono::year_month_day date(day);
  const std::chrono::hh_mm_ss<microseconds> time(moment - day);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:06}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     time.hours().count(), time.minutes().count(), time.seconds().count(),
                     time.subseconds().count());
}

}  // namespace firstdraw::store
