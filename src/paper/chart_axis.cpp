#include "paper/chart_axis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "paper/naming.hpp"

namespace firstdraw::paper {
namespace {

constexpr double minute_s = 60, hour_s = 3600, day_s = 86400;

/// What one shown unit is worth, where zero is, and its name.
struct Shown {
  std::string unit;
  double scale = 1, zero = 0;  // shown = value * scale + zero
  std::span<const double> steps;
  double value(double shown) const { return (shown - zero) / scale; }
  double shown(double value) const { return value * scale + zero; }
};

constexpr std::array<double, 12> clock_steps{1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 1800};
constexpr std::array<double, 8> hour_steps{0.5, 1, 2, 3, 6, 12, 24, 48};

Shown shown_elapsed(double span_s) {
  if (span_s <= 180) return {"s", 1, 0, clock_steps};
  if (span_s <= 3 * hour_s) return {"min", 1 / minute_s, 0, clock_steps};
  if (span_s <= 3 * day_s) return {"h", 1 / hour_s, 0, hour_steps};
  return {"days", 1 / day_s, 0, {}};
}

Shown shown_in(const Axis& axis, double span) {
  if (axis.scale == Axis::Scale::elapsed) return shown_elapsed(span);
  if (!axis.kind) return {axis.unit, 1, 0, {}};
  const std::string unit(units::display_unit(*axis.kind, axis.system));
  const double zero = units::from_si(0, unit, *axis.kind);
  return {unit, units::from_si(1, unit, *axis.kind) - zero, zero, {}};
}

double step_of(const Shown& shown, double span, int most) {
  for (const double step : shown.steps)
    if (span / step <= most) return step;
  return nice_step(span, most);
}

std::string titled(const std::string& title, const std::string& unit) {
  if (unit.empty()) return title;
  return title.empty() ? unit : title + " (" + unit + ")";
}

SettledAxis settle_numbers(const Axis& axis, double low, double high, int most) {
  const Shown shown = shown_in(axis, high - low);
  double first = shown.shown(low), last = shown.shown(high);
  const double step = axis.step > 0 ? axis.step : step_of(shown, last - first, most);
  constexpr double slack = 1e-9;
  if (std::isnan(axis.low)) first = std::floor(first / step + slack) * step;
  if (std::isnan(axis.high)) last = std::ceil(last / step - slack) * step;
  SettledAxis settled{shown.value(first), shown.value(last), titled(axis.title, shown.unit), {}, false};
  for (double number = std::ceil(first / step - slack); number * step <= last + step * 1e-6; ++number)
    settled.ticks.push_back(
        {shown.value(number * step), tick_text(number * step, step), shown.value(number * step)});
  return settled;
}

// Names of days under the middle of the day; times of the day when there are only one or two.
SettledAxis settle_week(const Axis& axis, double low, double high, int most) {
  static constexpr std::array<const char*, 7> names{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  SettledAxis settled{low, high, axis.title, {}, false};
  const double days = (high - low) / day_s;
  const auto day_name = [](double day) {
    return names[static_cast<std::size_t>(((static_cast<long>(day) % 7) + 7) % 7)];
  };
  if (days > 2) {
    const double step = std::max(1.0, std::ceil(days / most));
    for (double day = std::floor(low / day_s); day * day_s <= high; day += step) {
      const double middle_s = (day + 0.5) * day_s;
      const bool named = middle_s > low && middle_s < high;
      const std::string name = days > 7.5 ? fmt::format("{} {}", day_name(day), day + 1) : day_name(day);
      settled.ticks.push_back({day * day_s, named ? name : "", middle_s});
    }
    return settled;
  }
  double step_s = 24 * hour_s;
  for (const double hours : {12.0, 6.0, 3.0, 2.0, 1.0, 0.5})
    if ((high - low) / (hours * hour_s) <= most) step_s = hours * hour_s;
  for (double at_s = std::ceil(low / step_s) * step_s; at_s <= high + 1; at_s += step_s) {
    const double of_day_s = at_s - std::floor(at_s / day_s) * day_s;
    const auto minutes = static_cast<int>(std::lround(of_day_s / minute_s));
    const std::string time = fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
    settled.ticks.push_back(
        {at_s, minutes == 0 ? std::string(day_name(at_s / day_s)) + " " + time : time, at_s});
  }
  return settled;
}

struct Moment {
  double at_s;
  const char* text;
};
constexpr std::array<Moment, 15> log_moments{{{0.1, "0.1 s"},
                                              {1, "1 s"},
                                              {3, "3 s"},
                                              {10, "10 s"},
                                              {30, "30 s"},
                                              {60, "1 min"},
                                              {120, "2 min"},
                                              {300, "5 min"},
                                              {900, "15 min"},
                                              {1800, "30 min"},
                                              {3600, "1 h"},
                                              {7200, "2 h"},
                                              {14400, "4 h"},
                                              {43200, "12 h"},
                                              {86400, "1 d"}}};

SettledAxis settle_log(const Axis& axis, double low, double high) {
  constexpr double least_s = 1e-3;
  SettledAxis settled{std::max(low, least_s), std::max({high, 10 * low, 10 * least_s}), axis.title, {}, true};
  for (const Moment& moment : log_moments)
    if (moment.at_s >= settled.low * (1 - 1e-9) && moment.at_s <= settled.high * (1 + 1e-9))
      settled.ticks.push_back({moment.at_s, moment.text, moment.at_s});
  return settled;
}

}  // namespace

double SettledAxis::share(double value) const {
  return logarithmic ? std::log(value / low) / std::log(high / low) : (value - low) / (high - low);
}

std::string tick_text(double shown, double step) {
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  const double rounded = std::abs(shown) < step * 1e-6 ? 0 : shown;  // no "-0"
  return count(rounded, decimals);
}

double nice_step(double span, int most) {
  const double least = span / std::max(most, 1);
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power >= least * (1 - 1e-9)) return factor * power;
  return 10 * power;
}

SettledAxis settle(const Axis& axis, double low, double high, int most) {
  if (!std::isnan(axis.low)) low = axis.low;
  if (!std::isnan(axis.high)) high = axis.high;
  if (!std::isfinite(low)) low = std::isfinite(high) ? high - 1 : 0;
  if (!std::isfinite(high)) high = low + 1;
  if (high - low < 1e-9 * std::max(std::abs(low), 1.0)) {
    low -= std::isnan(axis.low) ? 0.5 : 0;
    high += std::isnan(axis.high) || !std::isnan(axis.low) ? 0.5 : 0;
  }
  if (axis.scale == Axis::Scale::log_elapsed) return settle_log(axis, low, high);
  return axis.scale == Axis::Scale::week ? settle_week(axis, low, high, most)
                                         : settle_numbers(axis, low, high, most);
}

}  // namespace firstdraw::paper
