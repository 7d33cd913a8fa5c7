#include "settings/local_year.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace firstdraw::settings {
namespace {

constexpr std::int64_t hour_s = 3600, day_s = 86400;

std::size_t season_at(const week::Calendar& calendar, const std::vector<week::Season>& order,
                      const week::Date& date) {
  const auto found = std::ranges::find(order, week::season_of(calendar, date), &week::Season::name);
  return static_cast<std::size_t>(found - order.begin());
}

}  // namespace

std::int64_t whole_step_s(double step_s) {
  const auto whole = step_s >= 1 && step_s <= 3600 ? std::llround(step_s) : 0;
  if (whole < 1 || static_cast<double>(whole) != step_s || hour_s % whole != 0)
    throw std::invalid_argument("prices: a step must be of whole seconds that divide an hour");
  return whole;
}

std::vector<week::Season> season_order(const week::Calendar& calendar) {
  if (calendar.seasons.empty()) return {{"", std::chrono::January / 1}};
  return calendar.seasons;  // make_calendar sorted them
}

void walk_year(const Inputs& inputs, double step_s, const std::function<void(const LocalPiece&)>& each) {
  const std::int64_t whole_s = whole_step_s(step_s);
  const week::Zone& zone = inputs.calendar.zone;
  const std::vector<week::Season> order = season_order(inputs.calendar);
  const std::int64_t end = week::day_begin(zone, week::first_of_month(inputs.year, 13));
  for (std::int64_t at = week::day_begin(zone, week::first_of_month(inputs.year, 1)); at < end;) {
    LocalPiece piece{at, 0, week::local_time(zone, at), 0, 0};
    const std::int64_t of_week_s =
        week::weekday_of(piece.local.date) * day_s + std::int64_t{piece.local.second_of_day};
    piece.step = static_cast<std::size_t>(of_week_s / whole_s);
    piece.season = season_at(inputs.calendar, order, piece.local.date);
    piece.length_s =
        std::min({whole_s - of_week_s % whole_s, week::next_change_unix_s(zone, at) - at, end - at});
    each(piece);
    at += piece.length_s;
  }
}

}  // namespace firstdraw::settings
