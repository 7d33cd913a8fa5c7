#include "watch/log_stamp.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>

namespace firstdraw::watch {
namespace {

constexpr std::int64_t day_ms = 86'400'000;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Reads on from the front of a text.
struct Eater {
  std::string_view text;

  bool done() const { return text.empty(); }
  char front() const { return text.empty() ? '\0' : text.front(); }
  void blanks() {
    while (front() == ' ' || front() == '\t') text.remove_prefix(1);
    constexpr std::string_view narrow = "\u202f";
    while (text.starts_with(narrow)) text.remove_prefix(narrow.size());
  }
  bool eat(char c) {
    if (front() != c || text.empty()) return false;
    text.remove_prefix(1);
    return true;
  }
  /// A number of `least` to `most` digits; -1: there is none.
  int number(int least, int most, int* digits = nullptr) {
    int value = 0, count = 0;
    while (count < most && is_digit(front())) {
      value = value * 10 + (front() - '0');
      text.remove_prefix(1);
      ++count;
    }
    if (digits != nullptr) *digits = count;
    return count < least ? -1 : value;
  }
  std::string word() {
    std::string letters;
    while (is_letter(front())) {
      letters += lower(front());
      text.remove_prefix(1);
    }
    return letters;
  }
};

int month_of(std::string_view word) {
  constexpr std::array<std::string_view, 12> names{"january",   "february", "march",    "april",
                                                   "may",       "june",     "july",     "august",
                                                   "september", "october",  "november", "december"};
  if (word.size() < 3) return 0;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (names.at(i).starts_with(word) || (i == 8 && word == "sept")) return static_cast<int>(i) + 1;
  }
  return 0;
}

bool is_weekday(std::string_view word) {
  constexpr std::array<std::string_view, 7> names{"monday", "tuesday",  "wednesday", "thursday",
                                                  "friday", "saturday", "sunday"};
  return word.size() >= 3 && std::ranges::any_of(names, [word](auto name) { return name.starts_with(word); });
}

/// "Wed, " in front of a date.
void eat_weekday(Eater& eater) {
  Eater trial = eater;
  if (!is_weekday(trial.word())) return;
  trial.eat('.');
  trial.eat(',');
  trial.blanks();
  eater = trial;
}

bool is_date_sign(char c) { return c == '-' || c == '/' || c == '.' || c == ' '; }

/// "2026-03-04" or "4 Mar 2026" at the front; nullopt: no date.
std::optional<DateParts> eat_date(Eater& eater) {
  eat_weekday(eater);
  DateParts parts;
  for (std::size_t i = 0; i < 3; ++i) {
    if (is_letter(eater.front())) {
      const int month = month_of(eater.word());
      if (month == 0 || parts.named) return std::nullopt;
      parts.named = true;
      parts.number.at(i) = month;
    } else {
      parts.number.at(i) = eater.number(1, 4, &parts.digits.at(i));
    }
    if (parts.number.at(i) < 0) return std::nullopt;
    if (i == 2) break;
    const bool next_named = is_letter(eater.front());
    eater.eat(',');
    if (!next_named && !is_letter(eater.front()) && !(is_date_sign(eater.front()) || parts.named))
      return std::nullopt;
    if (is_date_sign(eater.front())) eater.text.remove_prefix(1);
    eater.blanks();
  }
  if (is_digit(eater.front())) return std::nullopt;
  return parts;
}

/// A date without signs: 8 digits, and those of the time right behind it or after a T or blank.
std::optional<std::int64_t> eat_compact_date(Eater& eater) {
  const auto digits =
      static_cast<std::size_t>(std::ranges::find_if_not(eater.text, is_digit) - eater.text.begin());
  if (digits != 8 && digits != 12 && digits != 14) return std::nullopt;
  const int year = eater.number(4, 4), month = eater.number(2, 2), day = eater.number(2, 2);
  if (year < 1970 || year > 2099) return std::nullopt;
  return days_of(year, month, day);
}

int full_year(int year, int digits) { return digits > 2 ? year : year + (year < 70 ? 2000 : 1900); }

/// Whose place in the text is whose.
std::optional<std::int64_t> days_in_order(const DateParts& parts, DateOrder order) {
  std::size_t y = 0, m = 1, d = 2;
  if (parts.named) {
    m = static_cast<std::size_t>(std::ranges::find(parts.digits, 0) - parts.digits.begin());
    if (m > 1) return std::nullopt;
    const bool year_first = m == 1 && parts.digits[0] == 4;
    y = year_first ? 0 : 2;
    d = m == 0 ? 1 : year_first ? 2 : 0;
  } else if (order == DateOrder::day_month_year) {
    y = 2, d = 0;
  } else if (order == DateOrder::month_day_year) {
    y = 2, m = 0, d = 1;
  }
  const int digits = parts.digits.at(y);
  if ((digits != 2 && digits != 4) || parts.digits.at(d) > 2 || parts.digits.at(m) > 2) return std::nullopt;
  return days_of(full_year(parts.number.at(y), digits), parts.number.at(m), parts.number.at(d));
}

/// "AM", "pm", "p.m.", "P. M.", "a": 0 morning, 1 afternoon; nullopt: neither.
std::optional<int> eat_half_day(Eater& eater) {
  Eater trial = eater;
  const char first = lower(trial.front());
  if (first != 'a' && first != 'p') return std::nullopt;
  trial.text.remove_prefix(1);
  trial.eat('.');
  trial.blanks();
  if (lower(trial.front()) == 'm') {
    trial.text.remove_prefix(1);
    trial.eat('.');
  }
  if (is_letter(trial.front())) return std::nullopt;
  eater = trial;
  return first == 'p' ? 1 : 0;
}

/// Offset of a short zone name that loggers write; US and European ones.
std::optional<int> named_offset_s(std::string_view word) {
  struct Named {
    std::string_view name;
    int hours;
  };
  constexpr std::array<Named, 14> names{{{"est", -5},
                                         {"edt", -4},
                                         {"cst", -6},
                                         {"cdt", -5},
                                         {"mst", -7},
                                         {"mdt", -6},
                                         {"pst", -8},
                                         {"pdt", -7},
                                         {"cet", 1},
                                         {"cest", 2},
                                         {"wet", 0},
                                         {"west", 1},
                                         {"eet", 2},
                                         {"eest", 3}}};
  const auto* found = std::ranges::find(names, word, &Named::name);
  return found == names.end() ? std::nullopt : std::optional(found->hours * 3600);
}

/// "+01:00", "-5"; the sign is the front.
std::optional<int> eat_signed_offset(Eater& eater) {
  const bool west = eater.front() == '-';
  eater.text.remove_prefix(1);
  int digits = 0;
  int hours = eater.number(1, 4, &digits), minutes = 0;
  if (hours < 0) return std::nullopt;
  if (digits > 2) {
    minutes = hours % 100;
    hours /= 100;
  } else if (eater.eat(':')) {
    minutes = eater.number(2, 2);
  }
  if (hours > 14 || minutes < 0 || minutes > 59) return std::nullopt;
  return (west ? -1 : 1) * (hours * 3600 + minutes * 60);
}

/// What may stand behind a time. false: something else does.
bool eat_zone(Eater& eater, Stamp& stamp) {
  eater.blanks();
  if (eater.done()) return true;
  const bool bracket = eater.eat('(');
  const std::string word = eater.word();
  if (word == "z" || word == "utc" || word == "gmt") {
    stamp.utc_offset_s = 0;
  } else if (const auto named = named_offset_s(word)) {
    stamp.utc_offset_s = named;
    stamp.by_zone_name = true;
  } else if (!word.empty()) {
    return false;
  }
  eater.blanks();
  if (eater.front() == '+' || eater.front() == '-') {
    stamp.utc_offset_s = eat_signed_offset(eater);
    if (!stamp.utc_offset_s) return false;
  }
  if (bracket && !eater.eat(')')) return false;
  eater.blanks();
  return eater.done();
}

/// Hours, minutes, seconds and their fraction, a half of the day: milliseconds after midnight.
std::optional<std::int64_t> eat_clock(Eater& eater) {
  int digits = 0;
  int hour = eater.number(1, 2, &digits), minute = 0, second = 0;
  if (hour < 0) return std::nullopt;
  std::int64_t ms = 0;
  const char sign = eater.front();
  const bool compact = digits == 2 && is_digit(sign);
  const bool parted = sign == ':' || ((sign == '.' || lower(sign) == 'h') && eater.text.size() > 2);
  if (!compact && !parted) return std::nullopt;
  if (!compact) eater.text.remove_prefix(1);
  minute = eater.number(2, 2);
  if (compact ? is_digit(eater.front()) : eater.front() == ':' || eater.front() == sign) {
    if (!compact) eater.text.remove_prefix(1);
    second = eater.number(2, 2);
    if (eater.front() == '.' || eater.front() == ',' || eater.front() == ':') {
      eater.text.remove_prefix(1);
      std::int64_t scale = 1000;
      if (!is_digit(eater.front())) return std::nullopt;
      for (; is_digit(eater.front()); eater.text.remove_prefix(1)) {
        scale /= 10;
        ms += scale * (eater.front() - '0');
      }
    }
  }
  eater.blanks();
  if (const auto half = eat_half_day(eater)) {
    if ((hour > 12 && *half == 0) || hour > 23) return std::nullopt;
    if (hour <= 12) hour = hour % 12 + 12 * *half;
  }
  const bool last_moment = hour == 24 && minute == 0 && second == 0;
  if (minute < 0 || second < 0 || (hour > 23 && !last_moment) || minute > 59 || second > 60)
    return std::nullopt;
  return (hour * 3600LL + minute * 60LL + second) * 1000 + ms;
}

bool finish_clock(Eater& eater, Stamp& stamp) {
  const auto clock = eat_clock(eater);
  if (!clock || !eat_zone(eater, stamp)) return false;
  stamp.clock_ms += *clock;
  return true;
}

std::optional<std::int64_t> eat_days(Eater& eater, DateOrder order) {
  if (const auto compact = eat_compact_date(eater))
    return order == DateOrder::year_month_day ? compact : std::nullopt;
  const auto parts = eat_date(eater);
  return parts ? days_in_order(*parts, order) : std::nullopt;
}

}  // namespace

std::optional<std::int64_t> days_of(int year, int month, int day) {
  if (year < 1 || month < 1 || day < 1) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days(date).time_since_epoch().count();
}

std::optional<Stamp> read_stamp(std::string_view text, DateOrder order) {
  Eater eater{text};
  eater.blanks();
  const auto days = eat_days(eater, order);
  if (!days) return std::nullopt;
  Stamp stamp{*days * day_ms, {}, false, false};
  eater.blanks();
  if (eater.front() == 'T' || eater.front() == ',' || eater.front() == '_' || eater.front() == ':')
    eater.text.remove_prefix(1);
  eater.blanks();
  if (eater.done()) {
    stamp.date_only = true;
    return stamp;
  }
  return finish_clock(eater, stamp) ? std::optional(stamp) : std::nullopt;
}

std::optional<Stamp> read_stamp(std::string_view date, std::string_view clock, DateOrder order) {
  auto stamp = read_stamp(date, order);
  if (!stamp || !stamp->date_only) return std::nullopt;
  Eater eater{clock};
  eater.blanks();
  stamp->date_only = false;
  return finish_clock(eater, *stamp) ? stamp : std::nullopt;
}

bool is_clock(std::string_view text) {
  Eater eater{text};
  eater.blanks();
  Stamp stamp;
  return text.find(':') != std::string_view::npos && finish_clock(eater, stamp);
}

std::optional<DateParts> date_parts(std::string_view text) {
  Eater eater{text};
  eater.blanks();
  Eater compact = eater;
  if (eat_compact_date(compact)) return DateParts{{0, 1, 1}, {4, 2, 2}, false};
  return eat_date(eater);
}

std::optional<int> read_utc_offset(std::string_view text) {
  Eater eater{text};
  eater.blanks();
  Stamp stamp;
  if (eater.done() || !eat_zone(eater, stamp) || stamp.by_zone_name) return std::nullopt;
  return stamp.utc_offset_s;
}

std::string utc_offset_text(int offset_s) {
  const int minutes = std::abs(offset_s) / 60;
  return fmt::format("{}{:02}:{:02}", offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
}

std::optional<Stamp> StampReader::read(std::string_view text) {
  // "2026-03-04 05:06": the date ends at the blank or T that a digit stands behind.
  if (!date_.empty() && text.starts_with(date_)) {
    Stamp stamp{day_ms_, {}, false, false};
    Eater eater{text.substr(date_.size())};
    if (finish_clock(eater, stamp)) return stamp;
  }
  const auto stamp = read_stamp(text, order_);
  const std::size_t sign = text.find_first_of(" T");
  if (!stamp || stamp->date_only || sign == std::string_view::npos) return stamp;
  Eater date{text.substr(0, sign)};
  const auto days = eat_days(date, order_);
  if (!days || !date.done()) return stamp;
  date_ = text.substr(0, sign + 1);
  day_ms_ = *days * day_ms;
  return stamp;
}

}  // namespace firstdraw::watch
