// Prices of the typical week and the year's bill are made by different code, and must say the same wherever
// the bill is a sum over steps: without tiers, ratchets and least charges.
#include <gtest/gtest.h>

#include <numeric>
#include <random>

#include "settings/prices.hpp"
#include "settings/test_prices.hpp"

namespace firstdraw::settings {
namespace {

class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  int below(int end) { return std::uniform_int_distribution(0, end - 1)(engine_); }
  double between(double low, double high) { return std::uniform_real_distribution(low, high)(engine_); }

 private:
  std::mt19937 engine_;
};

week::Grid any_grid(Dice& dice) {
  week::Grid grid{};
  for (auto& month : grid) {
    const int night = dice.below(3), day = dice.below(3);
    const auto from = static_cast<std::size_t>(dice.below(24));
    for (std::size_t hour = 0; hour < month.size(); ++hour) month.at(hour) = hour < from ? night : day;
  }
  return grid;
}

week::Period one_price(double price) { return {"", {{.price = price}}}; }

week::TimeOfUse any_prices(Dice& dice, double lowest, double highest) {
  week::TimeOfUse prices;
  for (int period = 0; period < 3; ++period)
    prices.periods.push_back(one_price(dice.between(lowest, highest)));
  prices.weekday = any_grid(dice);
  prices.weekend = any_grid(dice);
  return prices;
}

/// Energy may cost less than nothing at times.
week::Tariff any_tariff(Dice& dice) {
  week::Tariff tariff;
  tariff.currency = "USD";
  tariff.energy = any_prices(dice, -0.02, 0.5);
  tariff.demand = any_prices(dice, 0, 12);
  tariff.demand->daily = dice.below(2) == 0;
  tariff.flat_demand.emplace();
  for (int period = 0; period < 2; ++period)
    tariff.flat_demand->periods.push_back(one_price(dice.between(0, 12)));
  for (int& period : tariff.flat_demand->period_of_month) period = dice.below(2);
  tariff.flat_demand->daily = dice.below(2) == 0;
  tariff.fixed_per_month = 10;
  tariff.holidays_as_weekend = dice.below(2) == 0;
  return tariff;
}

/// Months that lie in two seasons are the one case in which the search's demand is not the bill's.
job::Job any_job(Dice& dice, bool seasons_begin_with_a_month) {
  const std::vector<std::string> zones{"America/Chicago", "Europe/Berlin",     "Australia/Lord_Howe",
                                       "Asia/Kathmandu",  "America/Sao_Paulo", "Pacific/Auckland"};
  job::Job job = priced_job(zones[static_cast<std::size_t>(dice.below(6))]);
  job.tariff.year = 2016 + dice.below(15);
  job.tariff.other_load_w = dice.below(2) == 0 ? 0 : dice.between(0, 50'000);
  for (int holiday = 0; holiday < 4; ++holiday)
    job.tariff.holidays.push_back(std::to_string(job.tariff.year) + (dice.below(2) == 0 ? "-05-" : "-12-") +
                                  std::to_string(10 + dice.below(20)));
  for (const int month : {2, 6, 11})
    if (dice.below(2) == 0)
      job.tariff.seasons.push_back(
          {"from " + std::to_string(month), month, seasons_begin_with_a_month ? 1 : 1 + dice.below(28)});
  return job;
}

struct Case {
  job::Job job;
  Inputs inputs;
  std::vector<SeasonOfYear> seasons;
  std::vector<std::vector<double>> week_w;

  Case(unsigned seed, bool seasons_begin_with_a_month) {
    Dice dice(seed);
    job = any_job(dice, seasons_begin_with_a_month);
    inputs = inputs_of(job);
    inputs.tariff = any_tariff(dice);
    seasons = seasons_of(inputs, job, 900);
    for (std::size_t season = 0; season < seasons.size(); ++season) {
      auto& week = week_w.emplace_back();
      for (std::size_t k = 0; k < quarter_hours; ++k)
        week.push_back(dice.below(3) == 0 ? 0 : dice.between(0, 8000));
    }
  }

  week::Cost by_week() const {
    week::Cost sum;
    const std::vector<double> other_w(quarter_hours, job.tariff.other_load_w);
    for (std::size_t season = 0; season < seasons.size(); ++season) {
      const auto cost = week::cost_of(seasons[season].prices, week_w[season], 900, other_w);
      sum.energy += cost.energy;
      sum.demand += cost.demand;
    }
    return sum;
  }
};

class SameMoney : public testing::TestWithParam<unsigned> {};

TEST_P(SameMoney, EnergyOfTheWeeksIsThatOfTheBill) {
  const Case made(GetParam(), false);
  const YearCost year = year_cost(made.inputs, made.job, made.week_w);
  EXPECT_NEAR(made.by_week().energy, year.energy, 1e-9 * std::abs(year.energy));
  EXPECT_GT(year.kwh, 0);
}

TEST_P(SameMoney, DemandOfTheWeeksIsThatOfTheBillWhereMonthsAreWhole) {
  const Case made(GetParam(), true);
  const YearCost year = year_cost(made.inputs, made.job, made.week_w);
  EXPECT_NEAR(made.by_week().demand, year.demand, 1e-9 * year.demand);
  EXPECT_GT(year.demand, 0);
}

TEST_P(SameMoney, DaysAndSharesOfMonthsAddUpToTheYear) {
  const Case made(GetParam(), false);
  double days = 0;
  for (const SeasonOfYear& season : made.seasons) days += season.days;
  EXPECT_EQ(days, std::chrono::year(made.inputs.year).is_leap() ? 366 : 365);
  EXPECT_LE(made.seasons.front().prices.demand.size(), 48u);
}

INSTANTIATE_TEST_SUITE_P(Random, SameMoney, testing::Range(1u, 41u));

}  // namespace
}  // namespace firstdraw::settings
