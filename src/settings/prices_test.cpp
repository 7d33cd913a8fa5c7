// What a step of the typical week costs and what a year does, against sums by hand. Days of 2026 by the
// calendar: 1 January is a Thursday, so 53 Thursdays and 52 of every other day.
#include "settings/prices.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "settings/test_prices.hpp"

namespace firstdraw::settings {
namespace {

constexpr std::size_t monday = 0, thursday = 3, sunday = 6;

using Week = std::vector<double>;

/// How often each quarter hour of the week comes up: the price of a kWh where it is 1.
Week times_in_year(const job::Job& job) {
  job::Job at_one = job;
  at_one.economics.energy_price_per_kwh = 1;
  return seasons_of(inputs_of(at_one), at_one, 900).front().prices.per_kwh;
}

// Energy Policy Act of 2005, section 110 (read): the clock is put forward on the second Sunday of March, here
// the 8th, at 2 h, and back on the first Sunday of November, here the 1st, at 2 h of summer time.
TEST(Seasons, UnitedStatesSummerTime) {
  const Week times = times_in_year(priced_job());
  EXPECT_EQ(times[quarter(thursday, 12)], 53);
  EXPECT_EQ(times[quarter(monday, 12)], 52);
  for (std::size_t q = 0; q < 4; ++q) {
    EXPECT_EQ(times[quarter(sunday, 0, q)], 52);
    EXPECT_EQ(times[quarter(sunday, 1, q)], 53) << "doubled in November";
    EXPECT_EQ(times[quarter(sunday, 2, q)], 51) << "skipped in March";
    EXPECT_EQ(times[quarter(sunday, 3, q)], 52);
  }
  EXPECT_EQ(std::accumulate(times.begin(), times.end(), 0.0), 365 * 96);
}

// Directive 2000/84/EC (read): last Sunday of March and of October, at 1 h UTC: 2 h in Berlin skipped on 29
// March, and on 25 October back from 3 h to 2 h. 26 Sundays in either half of 2026.
TEST(Seasons, EuropeanSummerTime) {
  job::Job job = priced_job("Europe/Berlin");
  job.economics.energy_price_per_kwh = 1;
  job.tariff.seasons = {{"second half", 7, 1}, {"first half", 1, 1}};
  const auto halves = seasons_of(inputs_of(job), job, 900);
  ASSERT_EQ(halves.size(), 2u);
  EXPECT_EQ(halves[0].name, "first half");
  EXPECT_EQ(halves[1].from_month, 7);
  EXPECT_EQ(halves[0].days, 181);
  EXPECT_EQ(halves[1].days, 184);
  EXPECT_EQ(halves[0].prices.per_kwh[quarter(sunday, 2)], 25);
  EXPECT_EQ(halves[0].prices.per_kwh[quarter(sunday, 3)], 26);
  EXPECT_EQ(halves[1].prices.per_kwh[quarter(sunday, 2)], 27);
  EXPECT_EQ(halves[1].prices.per_kwh[quarter(sunday, 1)], 26);
}

// Half an hour on Lord Howe Island (from memory): back from 2:00 to 1:30 on the first Sunday of April,
// forward from 2:00 to 2:30 on that of October. An hour's step keeps half of what is cut.
TEST(Seasons, AStepThatTheClockCutsCountsWithWhatIsLeft) {
  job::Job job = priced_job("Australia/Lord_Howe");
  job.economics.energy_price_per_kwh = 1;
  const Week times = seasons_of(inputs_of(job), job, 3600).front().prices.per_kwh;
  EXPECT_EQ(times[sunday * 24 + 1], 52.5);
  EXPECT_EQ(times[sunday * 24 + 2], 51.5);
  EXPECT_EQ(times[sunday * 24 + 3], 52);
  EXPECT_EQ(year_cost(inputs_of(job), job, {Week(168, 1000)}).kwh, 8760);
}

// Christmas of 2026 is a Friday and New Year's Day a Thursday: both as weekend, where the tariff says so.
TEST(Seasons, HolidaysHaveTheWeekendsPrice) {
  job::Job job = table_job(day_night_csv);
  job.tariff.holidays = {"2026-12-25", "2026-01-01"};
  constexpr std::size_t friday = 4;
  const Week priced = seasons_of(inputs_of(job), job, 900).front().prices.per_kwh;
  EXPECT_NEAR(priced[quarter(friday, 12)], 51 * 0.20 + 1 * 0.10, 1e-12);
  EXPECT_NEAR(priced[quarter(thursday, 12)], 52 * 0.20 + 1 * 0.10, 1e-12);
  EXPECT_NEAR(priced[quarter(monday, 12)], 52 * 0.20, 1e-12);
  job.tariff.holidays_as_weekend = false;
  const Week plain = seasons_of(inputs_of(job), job, 900).front().prices.per_kwh;
  EXPECT_NEAR(plain[quarter(friday, 12)], 52 * 0.20, 1e-12);
}

TEST(Seasons, APriceIsThatOfTheNextKilowattHour) {
  const job::Job job = table_job(
      "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
      "energy,all,all,00:00,24:00,all,300,0.20,,\n"
      "energy,all,,,,,,0.30,,\n");
  const auto at = [&](double used_kwh) {
    return seasons_of(inputs_of(job), job, 900, used_kwh).front().prices.per_kwh[quarter(monday, 0)];
  };
  EXPECT_NEAR(at(0), 52 * 0.20, 1e-12);
  EXPECT_NEAR(at(299), 52 * 0.20, 1e-12);
  EXPECT_NEAR(at(300), 52 * 0.30, 1e-12);
}

const char* const demand_csv =
    "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
    "energy,day,mon-fri,06:00,22:00,all,,0.20,4.00,\n"
    "energy,night,mon-fri,22:00,06:00,all,,0.10,0,\n"
    "energy,free,sat-sun,00:00,24:00,all,,0.10,0,\n"
    "flat_demand,all,,,,all,,5.00,,\n";

TEST(Seasons, MonthsOfOneWindowAreOneDemandPrice) {
  const job::Job job = table_job(demand_csv);
  const auto season = seasons_of(inputs_of(job), job, 900).front();
  ASSERT_EQ(season.prices.demand.size(), 2u);
  const auto& flat = season.prices.demand[0];
  const auto& day = season.prices.demand[1];
  EXPECT_NEAR(flat.per_kw, 12 * 5.0, 1e-12);
  EXPECT_NEAR(day.per_kw, 12 * 4.0, 1e-12);
  EXPECT_EQ(std::accumulate(flat.in_window.begin(), flat.in_window.end(), 0), 672);
  EXPECT_EQ(std::accumulate(day.in_window.begin(), day.in_window.end(), 0), 5 * 16 * 4);
  EXPECT_TRUE(day.in_window[quarter(monday, 6)]);
  EXPECT_FALSE(day.in_window[quarter(monday, 22)]);
}

// The second season begins on 16 April: half of that month's 30 days belong to each.
TEST(Seasons, AMonthsDemandIsSharedByDays) {
  job::Job job = table_job(demand_csv);
  job.tariff.seasons = {{"cold", 1, 1}, {"warm", 4, 16}};
  const auto seasons = seasons_of(inputs_of(job), job, 900);
  EXPECT_NEAR(seasons[0].prices.demand[0].per_kw, 3.5 * 5.0, 1e-12);
  EXPECT_NEAR(seasons[1].prices.demand[0].per_kw, 8.5 * 5.0, 1e-12);
  EXPECT_EQ(seasons[0].days, 31 + 28 + 31 + 15);
}

// A kW beside 40 kW that the meter carries anyway is one of the second tier.
TEST(Seasons, DemandIsPricedAboveWhatTheMeterCarriesAnyway) {
  job::Job job = table_job(
      "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
      "energy,all,all,00:00,24:00,all,,0.10,,\n"
      "flat_demand,all,,,,all,30,5.00,,\n"
      "flat_demand,all,,,,,,8.00,,\n");
  const auto per_kw = [&] {
    return seasons_of(inputs_of(job), job, 900).front().prices.demand.front().per_kw;
  };
  EXPECT_NEAR(per_kw(), 12 * 5.0, 1e-12);
  job.tariff.other_load_w = 40'000;
  EXPECT_NEAR(per_kw(), 12 * 8.0, 1e-12);
}

TEST(Seasons, StepsThatDoNotDivideAnHourAreRefused) {
  const job::Job job = priced_job();
  const Inputs inputs = inputs_of(job);
  for (const double step_s : {0.0, 7.0, 5400.0, 900.5, -900.0, std::nan("")})
    EXPECT_THROW(seasons_of(inputs, job, step_s), std::invalid_argument) << step_s;
}

// 1 kW at all hours. Working days 261 (52 weeks of 5, and a Thursday), less two holidays: 259 days of 16 h at
// 0.20 = 4144 h; the other 8760 - 4144 = 4616 h at 0.10. 828.80 + 461.60 = 1290.40.
TEST(YearCost, AConstantLoadByHand) {
  job::Job job = table_job(day_night_csv);
  job.tariff.holidays = {"2026-12-25", "2026-01-01"};
  const YearCost cost = year_cost(inputs_of(job), job, {Week(quarter_hours, 1000)});
  EXPECT_NEAR(cost.kwh, 8760, 1e-9);
  EXPECT_NEAR(cost.energy, 1290.40, 1e-9);
  EXPECT_EQ(cost.demand, 0);
  EXPECT_EQ(cost.least, 0);
}

// 2 kW in one hour of Sunday's night: 1 h comes 53 times, 2 h comes 51 times. 0.10 a kWh.
TEST(YearCost, NightsOfTheChangeOfTheClock) {
  const job::Job job = table_job(day_night_csv);
  const auto in_hour = [&](std::size_t hour) {
    Week week(quarter_hours, 0);
    for (std::size_t q = 0; q < 4; ++q) week[quarter(sunday, hour, q)] = 2000;
    return year_cost(inputs_of(job), job, {week});
  };
  EXPECT_NEAR(in_hour(1).kwh, 106, 1e-9);
  EXPECT_NEAR(in_hour(1).energy, 10.6, 1e-9);
  EXPECT_NEAR(in_hour(2).kwh, 102, 1e-9);
  EXPECT_NEAR(in_hour(2).energy, 10.2, 1e-9);
}

// 3 kW from Monday 12:00 to 12:15, else 1 kW: each month 3 kW at 4.00 in the day and at 5.00 at all hours,
// 12 * 3 * 9 = 324. What else the meter carries adds nothing to that. Kwh: 8760 + 52 * 2 / 4 = 8786.
TEST(YearCost, DemandByHand) {
  job::Job job = table_job(demand_csv);
  Week week(quarter_hours, 1000);
  week[quarter(monday, 12)] = 3000;
  for (const double other_w : {0.0, 20'000.0}) {
    job.tariff.other_load_w = other_w;
    const YearCost cost = year_cost(inputs_of(job), job, {week});
    EXPECT_NEAR(cost.demand, 324, 1e-9);
    EXPECT_NEAR(cost.kwh, 8786, 1e-9);
  }
}

// 3 kW from October to March, 1 kW from April to September; at least 80 % of the highest of 11 months before
// is billed: 6 * 3 * 5 + 6 * 2.4 * 5 = 162, the year before being the same.
TEST(YearCost, ARatchetLooksBackAtTheSameYear) {
  job::Job job = table_job(
      "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
      "energy,all,all,00:00,24:00,all,,0.10,,\n"
      "flat_demand,all,,,,all,,5.00,,80 %\n");
  job.tariff.seasons = {{"summer", 4, 1}, {"winter", 10, 1}};
  const YearCost cost =
      year_cost(inputs_of(job), job, {Week(quarter_hours, 1000), Week(quarter_hours, 3000)});
  EXPECT_NEAR(cost.demand, 162, 1e-9);
  EXPECT_TRUE(cost.bill.notes.empty());
  // 182 days of winter and 183 of summer; the two changes of the clock (8 March, 1 November) are both in
  // winter.
  EXPECT_NEAR(cost.kwh, 3.0 * 24 * 182 + 1.0 * 24 * 183, 1e-9);
}

// Kilowatt-hours below what must be paid anyway cost nothing: 8760 at 0.10 = 876, less than 12 times 100.
TEST(YearCost, ALeastChargeTakesWhatIsPaidAnyway) {
  const job::Job job = table_job(
      "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
      "energy,all,all,00:00,24:00,all,,0.10,,\n"
      "minimum_per_month,,,,,,,100,,\n");
  const YearCost cost = year_cost(inputs_of(job), job, {Week(quarter_hours, 1000)});
  EXPECT_NEAR(cost.energy, 876, 1e-9);
  EXPECT_NEAR(cost.least, -876, 1e-9);
  EXPECT_NEAR(cost.total(), 0, 1e-9);
}

TEST(YearCost, CoarseStepsAreTakenAsEvenAndSaySoWithDemand) {
  const job::Job job = table_job(demand_csv);
  Week week(336, 1000);
  week[24] = 3000;  // Monday 12:00 to 12:30
  const YearCost cost = year_cost(inputs_of(job), job, {week});
  EXPECT_NEAR(cost.demand, 324, 1e-9);
  EXPECT_NEAR(cost.kwh, 8760 + 52 * 2 / 2.0, 1e-9);
  ASSERT_FALSE(cost.bill.notes.empty());
}

TEST(YearCost, WeeksThatDoNotFitAreRefused) {
  job::Job job = priced_job();
  const Inputs inputs = inputs_of(job);
  EXPECT_THROW(year_cost(inputs, job, {}), std::invalid_argument);
  EXPECT_THROW(year_cost(inputs, job, {{}}), std::invalid_argument);
  EXPECT_THROW(year_cost(inputs, job, {Week(100, 1)}), std::invalid_argument);
  EXPECT_THROW(year_cost(inputs, job, {Week(672, 1), Week(672, 1)}), std::invalid_argument);
  EXPECT_THROW(year_cost(inputs, job, {Week(672, -1)}), std::invalid_argument);
}

}  // namespace
}  // namespace firstdraw::settings
