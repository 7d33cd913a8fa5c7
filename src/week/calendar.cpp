#include "week/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>

#include "units/number.hpp"

namespace firstdraw::week {
namespace {

std::optional<int> whole(std::string_view digits) {
  int value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const bool good = error == std::errc() && end == digits.data() + digits.size() && !digits.starts_with('-');
  return good ? std::optional(value) : std::nullopt;
}

std::string day_text(const std::chrono::month_day& day) {
  return fmt::format("{:02}-{:02}", static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

/// Collects what is wrong with the lists.
class Judge {
 public:
  explicit Judge(std::string_view file) : file_(file) {}

  void holidays(const Zone& zone, const std::vector<Date>& dates) {
    for (std::size_t i = 0; i < dates.size(); ++i) {
      const std::string field = fmt::format("holidays[{}]", i);
      if (!dates[i].ok()) problem(field, fmt::format("there is no day {}", date_text(dates[i])));
      const int year = static_cast<int>(dates[i].year());
      if (dates[i].ok() && (year < zone.first_year || year > zone.last_year))
        problem(field, fmt::format("{} is outside the years {} to {} of the calendar", date_text(dates[i]),
                                   zone.first_year, zone.last_year));
    }
  }
  void seasons(const std::vector<Season>& seasons) {
    for (std::size_t i = 0; i < seasons.size(); ++i) {
      const std::string field = fmt::format("seasons[{}]", i);
      const auto& [name, from] = seasons[i];
      const bool leap = from == std::chrono::February / 29;
      if (!from.ok() || leap)
        problem(field, fmt::format("a season begins on a day of every year, not on {}", day_text(from)));
      if (name.empty()) problem(field, "a season needs a name");
      for (std::size_t k = 0; k < i; ++k) {
        if (seasons[k].name == name) problem(field, fmt::format("the season \"{}\" is there twice", name));
        if (seasons[k].from == from) problem(field, fmt::format("two seasons begin on {}", day_text(from)));
      }
    }
  }
  std::vector<job::Diagnostic> problems;

 private:
  void problem(std::string field, std::string message) {
    problems.push_back({std::string(file_), 0, 0, std::move(field), std::move(message), {}});
  }
  std::string_view file_;
};

}  // namespace

job::Result<Calendar> make_calendar(Zone zone, std::vector<Date> holidays, std::vector<Season> seasons,
                                    std::string_view file) {
  Judge judge(file);
  judge.holidays(zone, holidays);
  judge.seasons(seasons);
  if (!judge.problems.empty()) return std::unexpected(std::move(judge.problems));
  std::ranges::sort(holidays);
  std::ranges::sort(seasons, {}, &Season::from);
  return Calendar{std::move(zone), std::move(holidays), std::move(seasons)};
}

std::expected<Date, std::string> parse_date(std::string_view text) {
  const std::string_view word = units::trim(text);
  const bool shaped = word.size() == 10 && word[4] == '-' && word[7] == '-';
  const auto year = shaped ? whole(word.substr(0, 4)) : std::nullopt;
  const auto month = shaped ? whole(word.substr(5, 2)) : std::nullopt;
  const auto day = shaped ? whole(word.substr(8, 2)) : std::nullopt;
  if (year && month && day) {
    const Date date{std::chrono::year(*year), std::chrono::month(static_cast<unsigned>(*month)),
                    std::chrono::day(static_cast<unsigned>(*day))};
    if (date.ok()) return date;
  }
  return std::unexpected(
      fmt::format("{} is no date; write year, month and day as \"2025-12-25\"", units::quoted(text)));
}

std::string date_text(const Date& date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

std::string moment_text(const Zone& zone, std::int64_t unix_s) {
  const LocalTime local = local_time(zone, unix_s);
  const int offset_min = std::abs(local.utc_offset_s) / 60;
  return fmt::format("{} {:02}:{:02} {}{:02}:{:02}", date_text(local.date), local.hour(),
                     local.second_of_day / 60 % 60, local.utc_offset_s < 0 ? '-' : '+', offset_min / 60,
                     offset_min % 60);
}

int weekday_of(const Date& date) {
  return static_cast<int>(std::chrono::weekday(std::chrono::sys_days(date)).iso_encoding()) - 1;
}

bool is_weekend(const Date& date) { return weekday_of(date) >= 5; }

bool is_holiday(const Calendar& calendar, const Date& date) {
  return std::ranges::binary_search(calendar.holidays, date);
}

std::string_view season_of(const Calendar& calendar, const Date& date) {
  if (calendar.seasons.empty()) return {};
  const auto after = std::ranges::upper_bound(
      calendar.seasons, std::chrono::month_day(date.month(), date.day()), {}, &Season::from);
  return after == calendar.seasons.begin() ? calendar.seasons.back().name : std::prev(after)->name;
}

}  // namespace firstdraw::week
