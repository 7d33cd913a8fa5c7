#include "job/describe_week.hpp"

#include <fmt/format.h>

#include <charconv>
#include <chrono>

namespace firstdraw::job {

namespace {

/// So many digits and nothing else.
std::optional<int> digits(std::string_view text, std::size_t count) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  if (text.size() != count || !std::ranges::all_of(text, is_digit)) return std::nullopt;
  int value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

std::optional<std::chrono::month_day> month_and_day(std::string_view text) {
  if (text.size() != 5 || text[2] != '-') return std::nullopt;
  const auto month = digits(text.substr(0, 2), 2), day = digits(text.substr(3), 2);
  if (!month || !day) return std::nullopt;
  return std::chrono::month_day(std::chrono::month(static_cast<unsigned>(*month)),
                                std::chrono::day(static_cast<unsigned>(*day)));
}

Read<MonthDay> read_month_day(std::string_view text) {
  const auto date = month_and_day(text);
  if (!date)
    return std::unexpected(
        fmt::format("\"{}\" is no day of the year: write month and day such as \"06-01\"", text));
  if (!date->ok()) return std::unexpected(fmt::format("there is no \"{}\" in a year", text));
  const MonthDay read{static_cast<int>(unsigned{date->month()}), static_cast<int>(unsigned{date->day()})};
  if (read.month == 2 && read.day == 29)
    return std::unexpected("29 February is not in every year: take 03-01");
  return read;
}

std::string month_day_text(const MonthDay& date, System) {
  return fmt::format("{:02}-{:02}", date.month, date.day);
}

Read<std::string> read_date(std::string_view text) {
  const auto year = text.size() == 10 && text[4] == '-' ? digits(text.substr(0, 4), 4) : std::nullopt;
  const auto within = year ? month_and_day(text.substr(5)) : std::nullopt;
  if (!within)
    return std::unexpected(
        fmt::format("\"{}\" is no date: write year, month and day such as \"2026-12-25\"", text));
  const std::chrono::year_month_day date(std::chrono::year(*year), within->month(), within->day());
  if (!date.ok()) return std::unexpected(fmt::format("there is no \"{}\"", text));
  if (auto wrong = out_of_range(*year, range::calendar_year)) return std::unexpected(*wrong);
  return std::string(text);
}

/// A plain number of hours is taken as it is, so that writing and reading is exact.
Read<double> read_hours(std::string_view text) {
  const auto time_s = read_quantity(text, Kind::duration, std::nullopt, range::in_a_week);
  if (!time_s) return std::unexpected(time_s.error());
  if (text.ends_with("h"))
    if (const auto plain = read_number(text.substr(0, text.size() - 1), range::positive)) return *plain;
  return *time_s / 3600;
}

}  // namespace

const Spelling<MonthDay> month_day{read_month_day, month_day_text};
const Spelling<std::string> calendar_date{read_date, [](const std::string& date, System) { return date; }};
const Spelling<double> hours{
    read_hours, [](const double& time_h, System) { return fmt::format("{} h", exact_number(time_h)); }};

const std::vector<std::string>& known_comfort_fixtures() {
  static const std::vector<std::string> names = [] {
    auto all = known_fixtures();
    all.emplace_back("*");
    return all;
  }();
  return names;
}

ControllerLimits usual_controller(System system) {
  ControllerLimits usual;
  if (system == System::metric) return usual;
  usual.step_k = 1 / 1.8;
  usual.least_setback_k = 4 / 1.8;
  usual.lowest_c = fahrenheit_in_c(95);
  usual.highest_c = fahrenheit_in_c(160);
  return usual;
}

}  // namespace firstdraw::job
