// What electricity costs: energy by period and tier, demand by period and by month, fixed and least charges.
// A value; amounts are in its currency. Terms as in the open utility-rate schema (docs/week.md).
#pragma once

#include <array>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "week/calendar.hpp"

namespace firstdraw::week {

inline constexpr int months_a_year = 12, hours_a_day = 24;

/// What is used up to `up_to` (kWh or kW, of the month and period) above the tier before costs `price` a
/// unit.
struct Tier {
  double up_to = std::numeric_limits<double>::infinity();  // of the last tier always
  double price = 0;                                        // per kWh or per kW; may be below zero for energy
};

struct Period {
  std::string name;
  std::vector<Tier> tiers;
};

/// Index of a period for each month and hour of the clock; hour 0 begins at midnight.
using Grid = std::array<std::array<int, hours_a_day>, months_a_year>;

/// Prices by the time of use.
struct TimeOfUse {
  std::vector<Period> periods;
  Grid weekday{}, weekend{};
  bool daily = false;  // energy: tiers are so much a day; demand: prices are so much a day
};

/// Price of a month's highest demand.
struct FlatDemand {
  std::vector<Period> periods;
  std::array<int, months_a_year> period_of_month{};
  bool daily = false;
};

struct Tariff {
  std::string name;
  std::string currency;  // "USD"
  TimeOfUse energy;
  std::optional<TimeOfUse> demand;        // the highest of each period is charged by itself, and summed
  std::optional<FlatDemand> flat_demand;  // the highest of the month
  double demand_window_s = 900;           // demand is the mean over so long; divides an hour
  /// Least flat demand billed in a month, as a fraction of the highest of the months before it.
  std::array<double, months_a_year> ratchet_frac{};
  int ratchet_months = 11;  // how many months before are looked at
  double fixed_per_month = 0, fixed_per_day = 0;
  double minimum_per_month = 0, minimum_per_year = 0;  // of the whole bill
  bool holidays_as_weekend = false;
};

/// What is wrong with a tariff, each with the place in it ("energy.weekday[0][7]"); none when it can be used.
std::vector<job::Diagnostic> problems_of(const Tariff& tariff);

/// The period of a local hour: weekends, and holidays where the tariff says so, have a grid of their own.
int period_at(const TimeOfUse& prices, const Tariff& tariff, const Calendar& calendar,
              const LocalTime& local);

/// Price of the next kWh at a moment, when `used_kwh` of the month have been used in its period before.
/// A tariff with problems, or a moment outside the calendar, throws.
double price_per_kwh(const Tariff& tariff, const Calendar& calendar, std::int64_t unix_s,
                     double used_kwh = 0);

}  // namespace firstdraw::week
