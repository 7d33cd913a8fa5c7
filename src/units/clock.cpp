#include "units/clock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <vector>

#include "units/number.hpp"
#include "units/quantity.hpp"

namespace firstdraw::units {

namespace {

constexpr int kDays = 7;
constexpr std::uint8_t kAllDays = 0x7f;
const std::vector<std::string> kLongNames{"monday", "tuesday",  "wednesday", "thursday",
                                          "friday", "saturday", "sunday",    "all"};

std::string lowered(std::string_view text) {
  std::string out(trim(text));
  for (char& c : out) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

std::string short_name(int day) { return kLongNames[static_cast<std::size_t>(day)].substr(0, 3); }

/// Parts between separators, trimmed.
std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  for (std::size_t begin = 0; begin <= text.size();) {
    const auto end = std::min(text.find(separator, begin), text.size());
    parts.push_back(trim(text.substr(begin, end - begin)));
    begin = end + 1;
  }
  return parts;
}

std::optional<int> whole(std::string_view digits) {
  int value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const bool good = error == std::errc() && end == digits.data() + digits.size() && digits.size() <= 2;
  return good && value >= 0 ? std::optional(value) : std::nullopt;
}

/// Takes "am" or "pm" off the end of `text`.
std::optional<bool> take_afternoon(std::string& text) {
  const bool am = text.ends_with("am"), pm = text.ends_with("pm");
  if (!am && !pm) return std::nullopt;
  text = trim(std::string_view(text).substr(0, text.size() - 2));
  return pm;
}

/// Hours, minutes, seconds as written; empty when they are not two or three numbers below 60.
std::optional<std::array<int, 3>> read_parts(std::string_view text, bool hours_alone) {
  const auto parts = split(text, ':');
  if (parts.size() > 3 || (parts.size() < 2 && !hours_alone)) return std::nullopt;
  std::array<int, 3> clock{};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto part = whole(parts[i]);
    if (!part || *part > 59) return std::nullopt;
    clock[i] = *part;
  }
  return clock;
}

/// Monday is 0; "mon", "tues" and "Monday" are the same day.
std::optional<int> read_day(std::string_view text) {
  const std::string name = lowered(text);
  if (name.size() < 3) return std::nullopt;
  for (int day = 0; day < kDays; ++day) {
    if (kLongNames[static_cast<std::size_t>(day)].starts_with(name)) return day;
  }
  return std::nullopt;
}

std::unexpected<std::string> unknown_day(std::string_view text) {
  const auto near = nearest(lowered(text), kLongNames);
  return std::unexpected(
      fmt::format("{} is no day of the week{}; expected \"all\", or days such as \"mon-fri\" or \"sat,sun\"",
                  quoted(text), near ? fmt::format(" (did you mean \"{}\"?)", *near) : ""));
}

/// "mon", or "fri-mon" with all days from the first to the last, over the weekend where they must.
std::expected<std::uint8_t, std::string> read_stretch(std::string_view text) {
  const auto ends = split(text, '-');
  if (ends.size() > 2) return unknown_day(text);
  const auto first = read_day(ends.front()), last = read_day(ends.back());
  if (!first || !last) return unknown_day(first ? ends.back() : ends.front());
  unsigned days = 0;
  for (int day = *first;; day = (day + 1) % kDays) {
    days |= 1u << day;
    if (day == *last) return static_cast<std::uint8_t>(days);
  }
}

}  // namespace

std::expected<double, std::string> parse_time_of_day(std::string_view text) {
  const auto wrong = [&] {
    return std::unexpected(
        fmt::format("{} is no time of the day; write it as \"22:00\" or \"10 pm\"", quoted(text)));
  };
  std::string rest = lowered(text);
  const auto afternoon = take_afternoon(rest);
  auto clock = read_parts(rest, afternoon.has_value());
  if (!clock) return wrong();
  auto& [hours, minutes, seconds] = *clock;
  if (afternoon) {
    if (hours < 1 || hours > 12) return wrong();
    hours = hours % 12 + (*afternoon ? 12 : 0);
  }
  const int time_s = hours * 3600 + minutes * 60 + seconds;
  if (time_s > 86400) return wrong();
  return time_s;
}

std::string time_of_day_text(double time_s) {
  if (!(time_s >= 0 && time_s <= 86400) || time_s != std::trunc(time_s))
    throw std::logic_error("time_of_day_text: not a whole second of a day");
  const int seconds = static_cast<int>(time_s);
  std::string text = fmt::format("{:02}:{:02}", seconds / 3600, seconds / 60 % 60);
  if (seconds % 60 != 0) text += fmt::format(":{:02}", seconds % 60);
  return text;
}

std::expected<std::uint8_t, std::string> parse_weekdays(std::string_view text) {
  if (lowered(text) == "all") return kAllDays;
  unsigned days = 0;
  for (const auto part : split(text, ',')) {
    const auto stretch = read_stretch(part);
    if (!stretch) return std::unexpected(stretch.error());
    days |= *stretch;
  }
  return static_cast<std::uint8_t>(days);
}

std::string weekdays_text(std::uint8_t weekdays) {
  if ((weekdays & kAllDays) == 0) throw std::logic_error("weekdays_text: no day at all");
  if ((weekdays & kAllDays) == kAllDays) return "all";
  const auto on = [weekdays](int day) { return day < kDays && (weekdays >> day & 1) != 0; };
  std::string text;
  for (int first = 0; first < kDays; ++first) {
    if (!on(first)) continue;
    int last = first;
    while (on(last + 1)) ++last;
    const int end = last >= first + 2 ? last : first;  // two days in a row are listed
    text += (text.empty() ? "" : ",") + short_name(first);
    if (end > first) text += "-" + short_name(end);
    first = end;
  }
  return text;
}

}  // namespace firstdraw::units
