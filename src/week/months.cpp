#include "week/months.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "units/number.hpp"
#include "units/quantity.hpp"

namespace firstdraw::week {
namespace {

constexpr std::array<std::string_view, 12> names{"January",   "February", "March",    "April",
                                                 "May",       "June",     "July",     "August",
                                                 "September", "October",  "November", "December"};

std::string lowered(std::string_view text) {
  std::string out(units::trim(text));
  for (char& c : out) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

std::vector<std::string> known_names() {
  std::vector<std::string> known{"all"};
  for (const auto name : names) known.push_back(lowered(name));
  return known;
}

/// Three letters or more of a name.
std::optional<std::size_t> read_month(std::string_view text) {
  const std::string word = lowered(text);
  if (word.size() < 3) return std::nullopt;
  for (std::size_t month = 0; month < names.size(); ++month) {
    if (lowered(names.at(month)).starts_with(word)) return month;
  }
  return std::nullopt;
}

std::unexpected<std::string> unknown(std::string_view text) {
  const auto near = units::nearest(lowered(text), known_names());
  return std::unexpected(fmt::format(
      "{} is no month{}; expected \"all\", or months such as \"nov-mar\" or \"jan,jul\"", units::quoted(text),
      near ? fmt::format(" (did you mean \"{}\"?)", near->substr(0, 3)) : ""));
}

/// "jan", or "nov-mar" with all months from the first to the last, over the turn of the year where they must.
std::expected<void, std::string> add_stretch(std::string_view text, MonthSet& months) {
  const auto dash = text.find('-');
  const std::string_view from = text.substr(0, dash);
  const std::string_view to = dash == std::string_view::npos ? from : text.substr(dash + 1);
  const auto first = read_month(from), last = read_month(to);
  if (!first || !last) return unknown(units::trim(first ? to : from));
  for (std::size_t month = *first;; month = (month + 1) % names.size()) {
    months.at(month) = true;
    if (month == *last) return {};
  }
}

}  // namespace

std::expected<MonthSet, std::string> parse_months(std::string_view text) {
  MonthSet months{};
  if (lowered(text) == "all") {
    months.fill(true);
    return months;
  }
  for (std::size_t begin = 0; begin <= text.size();) {
    const auto end = std::min(text.find(',', begin), text.size());
    if (auto added = add_stretch(text.substr(begin, end - begin), months); !added)
      return std::unexpected(added.error());
    begin = end + 1;
  }
  return months;
}

std::string_view month_name(std::size_t month) { return names.at(month); }

}  // namespace firstdraw::week
