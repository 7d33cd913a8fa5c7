#include "week/zone.hpp"

#include <date/tz.h>
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <exception>
#include <optional>
#include <stdexcept>

#include "units/number.hpp"
#include "units/quantity.hpp"

namespace firstdraw::week {
namespace {

constexpr int first_known_year = 1970, last_known_year = 2037;
constexpr std::int64_t day_s = 86400;

std::int64_t utc_midnight_s(const Date& date) {
  return static_cast<std::int64_t>(std::chrono::sys_days(date).time_since_epoch().count()) * day_s;
}

Date date_of_days(std::int64_t days) {
  return std::chrono::sys_days(std::chrono::days(static_cast<std::chrono::days::rep>(days)));
}

std::int64_t floor_div(std::int64_t value, std::int64_t by) { return value / by - (value % by < 0 ? 1 : 0); }

/// "America/New York" and "new_york" are the same to look for.
std::string plain_name(std::string_view text) {
  std::string out;
  for (const char c : units::trim(text)) {
    const bool gap = c == ' ' || c == '-';
    out += gap ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return out;
}

std::string place_of(const std::string& name) { return name.substr(name.rfind('/') + 1); }

/// Where a list of looser names has the nearest, the known name at the same place.
std::optional<std::string> nearest_as(std::string_view word, const std::vector<std::string>& loose,
                                      const std::vector<std::string>& known) {
  const auto near = units::nearest(word, loose);
  if (!near) return std::nullopt;
  return known[static_cast<std::size_t>(std::ranges::find(loose, *near) - loose.begin())];
}

/// The known name nearest to the whole word, or to its last part ("Neu York", "Berlin").
std::optional<std::string> nearest_zone(std::string_view text, const std::vector<std::string>& known) {
  std::vector<std::string> whole, places;
  for (const auto& name : known) {
    whole.push_back(plain_name(name));
    places.push_back(place_of(whole.back()));
  }
  const std::string word = plain_name(text);
  if (auto found = std::ranges::find(whole, word); found != whole.end())
    return known[static_cast<std::size_t>(found - whole.begin())];
  if (auto found = std::ranges::find(places, place_of(word)); found != places.end())
    return known[static_cast<std::size_t>(found - places.begin())];
  if (auto near = nearest_as(word, whole, known)) return near;
  return nearest_as(place_of(word), places, known);
}

std::string unknown_zone(std::string_view text, const date::tzdb& data) {
  std::vector<std::string> known;
  for (const auto& zone : data.zones) known.push_back(zone.name());
  const auto near = nearest_zone(text, known);
  return fmt::format("{} is no time zone{}; expected a name of the IANA list such as \"Europe/Berlin\"",
                     units::quoted(text), near ? fmt::format(" (did you mean \"{}\"?)", *near) : "");
}

Zone table_of(const date::time_zone& source, int first_year, int last_year) {
  Zone zone{source.name(), first_year, last_year, 0, 0, {}};
  zone.from_unix_s = utc_midnight_s(first_of_month(first_year, 1)) - 2 * day_s;
  zone.to_unix_s = utc_midnight_s(first_of_month(last_year, 13)) + 2 * day_s;
  for (std::int64_t at = zone.from_unix_s; at < zone.to_unix_s;) {
    const auto info = source.get_info(date::sys_seconds(std::chrono::seconds(at)));
    const int offset_s = static_cast<int>(info.offset.count());
    // A change of the abbreviation alone is none of the clock.
    if (zone.spans.empty() || zone.spans.back().utc_offset_s != offset_s)
      zone.spans.push_back({at, offset_s});
    at = info.end.time_since_epoch().count();
  }
  return zone;
}

auto span_at(const Zone& zone, std::int64_t unix_s) {
  if (unix_s < zone.from_unix_s || unix_s >= zone.to_unix_s)
    throw std::out_of_range(fmt::format("time zone {} was read for the years {} to {} only", zone.name,
                                        zone.first_year, zone.last_year));
  return std::ranges::upper_bound(zone.spans, unix_s, {}, &ZoneSpan::from_unix_s) - 1;
}

}  // namespace

std::expected<Zone, std::string> read_zone(std::string_view name, int first_year, int last_year) {
  if (first_year < first_known_year || last_year > last_known_year || first_year > last_year)
    return std::unexpected(fmt::format("the years {} to {} are not known; expected years from {} to {}",
                                       first_year, last_year, first_known_year, last_known_year));
  try {
    const date::tzdb& data = date::get_tzdb();
    const auto zone = std::ranges::find(data.zones, name, [](const date::time_zone& z) { return z.name(); });
    if (zone == data.zones.end()) return std::unexpected(unknown_zone(name, data));
    return table_of(*zone, first_year, last_year);
  } catch (const std::exception& trouble) {
    return std::unexpected(
        fmt::format("no time zone data on this machine; install tzdata ({})", trouble.what()));
  }
}

int utc_offset_s(const Zone& zone, std::int64_t unix_s) { return span_at(zone, unix_s)->utc_offset_s; }

std::int64_t next_change_unix_s(const Zone& zone, std::int64_t unix_s) {
  const auto next = span_at(zone, unix_s) + 1;
  return next == zone.spans.end() ? zone.to_unix_s : next->from_unix_s;
}

LocalTime local_time(const Zone& zone, std::int64_t unix_s) {
  const int offset_s = utc_offset_s(zone, unix_s);
  const std::int64_t days = floor_div(unix_s + offset_s, day_s);
  return {date_of_days(days), static_cast<int>(unix_s + offset_s - days * day_s), offset_s};
}

std::vector<std::int64_t> moments_of(const Zone& zone, const Date& date, int second_of_day) {
  const std::int64_t on_clock_s = utc_midnight_s(date) + second_of_day;
  std::vector<std::int64_t> moments;
  for (std::size_t i = 0; i < zone.spans.size(); ++i) {
    const std::int64_t at = on_clock_s - zone.spans[i].utc_offset_s;
    const bool last = i + 1 == zone.spans.size();
    const std::int64_t end = last ? zone.to_unix_s : zone.spans[i + 1].from_unix_s;
    if (at >= zone.spans[i].from_unix_s && at < end) moments.push_back(at);
  }
  return moments;
}

std::int64_t day_begin(const Zone& zone, const Date& date) {
  if (const auto midnights = moments_of(zone, date, 0); !midnights.empty()) return midnights.front();
  // Midnight is skipped, by the change before which the clock had not come to it.
  const std::int64_t on_clock_s = utc_midnight_s(date);
  for (std::size_t i = 1; i < zone.spans.size(); ++i) {
    const std::int64_t change = zone.spans[i].from_unix_s;
    if (change + zone.spans[i - 1].utc_offset_s <= on_clock_s &&
        change + zone.spans[i].utc_offset_s > on_clock_s)
      return change;
  }
  throw std::out_of_range(fmt::format("time zone {} was read for the years {} to {} only", zone.name,
                                      zone.first_year, zone.last_year));
}

std::int64_t day_length_s(const Zone& zone, const Date& date) {
  return day_begin(zone, next_day(date)) - day_begin(zone, date);
}

Date next_day(const Date& date) { return std::chrono::sys_days(date) + std::chrono::days(1); }

Date first_of_month(int year, int month) {
  const int over = (month - 1) / 12;
  return {std::chrono::year(year + over), std::chrono::month(static_cast<unsigned>((month - 1) % 12 + 1)),
          std::chrono::day(1)};
}

int days_in_month(int year, int month) {
  return static_cast<int>(
      (utc_midnight_s(first_of_month(year, month + 1)) - utc_midnight_s(first_of_month(year, month))) /
      day_s);
}

}  // namespace firstdraw::week
