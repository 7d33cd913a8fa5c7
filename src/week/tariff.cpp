#include "week/tariff.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace firstdraw::week {
namespace {

class Judge {
 public:
  std::vector<job::Diagnostic> problems;

  void problem(std::string field, std::string message) {
    problems.push_back({{}, 0, 0, std::move(field), std::move(message), {}});
  }
  void money(const char* field, double value) {
    if (!(value >= 0) || !std::isfinite(value)) problem(field, "must be zero or more");
  }
  void time_of_use(const std::string& field, const TimeOfUse& prices, bool may_be_negative) {
    periods(field + ".periods", prices.periods, may_be_negative);
    grid(field + ".weekday", prices.weekday, prices.periods.size());
    grid(field + ".weekend", prices.weekend, prices.periods.size());
  }
  void flat(const FlatDemand& prices) {
    periods("flat_demand.periods", prices.periods, false);
    for (std::size_t month = 0; month < prices.period_of_month.size(); ++month) {
      index(fmt::format("flat_demand.period_of_month[{}]", month), prices.period_of_month.at(month),
            prices.periods.size());
    }
  }
  void ratchet(const Tariff& tariff) {
    bool any = false;
    for (std::size_t month = 0; month < tariff.ratchet_frac.size(); ++month) {
      const double frac = tariff.ratchet_frac.at(month);
      any |= frac != 0;
      if (!(frac >= 0 && frac <= 1))
        problem(fmt::format("ratchet_frac[{}]", month), "must be between 0 and 1");
    }
    if (any && !tariff.flat_demand) problem("ratchet_frac", "a ratchet needs a flat demand price to act on");
    if (tariff.ratchet_months < 1) problem("ratchet_months", "must be 1 or more");
  }
  void window(const Tariff& tariff) {
    const double window_s = tariff.demand_window_s;
    const bool whole = window_s >= 1 && window_s <= 3600 && window_s == std::trunc(window_s);
    if (!whole || std::fmod(3600, window_s) != 0)
      problem("demand_window_s", "must be whole seconds that divide an hour, such as 900");
  }

 private:
  void periods(const std::string& field, const std::vector<Period>& all, bool may_be_negative) {
    if (all.empty()) problem(field, "one period or more was expected");
    for (std::size_t i = 0; i < all.size(); ++i) {
      tiers(fmt::format("{}[{}].tiers", field, i), all[i].tiers, may_be_negative);
    }
  }
  void tiers(const std::string& field, const std::vector<Tier>& all, bool may_be_negative) {
    if (all.empty()) return problem(field, "one tier or more was expected");
    double before = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const std::string here = fmt::format("{}[{}]", field, i);
      const auto& [up_to, price] = all[i];
      if (!std::isfinite(price)) problem(here + ".price", "a number was expected");
      if (price < 0 && !may_be_negative) problem(here + ".price", "must be zero or more");
      if (!(up_to > before)) problem(here + ".up_to", "must be more than the tier before and than zero");
      if (std::isfinite(up_to) == (i + 1 == all.size()))
        problem(here + ".up_to", "the last tier, and only the last, has no end");
      before = up_to;
    }
  }
  void grid(const std::string& field, const Grid& grid, std::size_t periods) {
    for (std::size_t month = 0; month < grid.size(); ++month) {
      for (std::size_t hour = 0; hour < grid.at(month).size(); ++hour) {
        index(fmt::format("{}[{}][{}]", field, month, hour), grid.at(month).at(hour), periods);
      }
    }
  }
  void index(const std::string& field, int value, std::size_t periods) {
    if (value < 0 || static_cast<std::size_t>(value) >= periods)
      problem(field, fmt::format("there is no period {}; there are {}, counted from 0", value, periods));
  }
};

}  // namespace

std::vector<job::Diagnostic> problems_of(const Tariff& tariff) {
  Judge judge;
  judge.time_of_use("energy", tariff.energy, true);
  if (tariff.demand) judge.time_of_use("demand", *tariff.demand, false);
  if (tariff.flat_demand) judge.flat(*tariff.flat_demand);
  judge.ratchet(tariff);
  judge.window(tariff);
  judge.money("fixed_per_month", tariff.fixed_per_month);
  judge.money("fixed_per_day", tariff.fixed_per_day);
  judge.money("minimum_per_month", tariff.minimum_per_month);
  judge.money("minimum_per_year", tariff.minimum_per_year);
  return std::move(judge.problems);
}

int period_at(const TimeOfUse& prices, const Tariff& tariff, const Calendar& calendar,
              const LocalTime& local) {
  const bool free_day =
      is_weekend(local.date) || (tariff.holidays_as_weekend && is_holiday(calendar, local.date));
  const Grid& grid = free_day ? prices.weekend : prices.weekday;
  return grid.at(static_cast<std::size_t>(local.month() - 1)).at(static_cast<std::size_t>(local.hour()));
}

double price_per_kwh(const Tariff& tariff, const Calendar& calendar, std::int64_t unix_s, double used_kwh) {
  const LocalTime local = local_time(calendar.zone, unix_s);
  const int period = period_at(tariff.energy, tariff, calendar, local);
  const int year = static_cast<int>(local.date.year());
  const double days = tariff.energy.daily ? days_in_month(year, local.month()) : 1;
  for (const Tier& tier : tariff.energy.periods.at(static_cast<std::size_t>(period)).tiers) {
    if (used_kwh < days * tier.up_to) return tier.price;
  }
  throw std::logic_error("price_per_kwh: the last tier of a period has an end");
}

}  // namespace firstdraw::week
