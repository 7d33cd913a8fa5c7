// The invented tariffs of the examples are read as they are meant.
#include <gtest/gtest.h>

#include "job/folder.hpp"
#include "places.hpp"
#include "week/tariff_csv.hpp"
#include "week/tariff_json.hpp"

namespace firstdraw {
namespace {

job::Job example(const std::string& name) {
  const auto job = job::read_job(std::filesystem::path(places::sources()) / "examples" / name);
  EXPECT_TRUE(job) << job.error().front().text();
  return job.value_or(job::Job{});
}

week::TariffAsked asked_by(const job::Job& job) {
  return {job.economics.currency, job.tariff.holidays_as_weekend, job.tariff.demand_window_s,
          job.tariff.ratchet_months};
}

/// Price of the next kWh in an hour of a month, both from zero.
double price(const week::Tariff& tariff, std::size_t month, std::size_t hour, bool weekend) {
  const week::Grid& grid = weekend ? tariff.energy.weekend : tariff.energy.weekday;
  return tariff.energy.periods.at(static_cast<std::size_t>(grid.at(month).at(hour))).tiers.front().price;
}

constexpr std::size_t january = 0, may = 4, june = 5, october = 9;

TEST(ExampleTariffs, OfTheHotelIsDearOnSummerAfternoonsAndWinterMornings) {
  const job::Job job = example("hotel");
  const auto import = week::read_tariff_csv(job.tariff.text, job.tariff.file, asked_by(job));
  ASSERT_TRUE(import) << import.error().front().text();
  const week::Tariff& tariff = import->tariff;
  EXPECT_EQ(price(tariff, june, 13, false), 0.095);
  EXPECT_EQ(price(tariff, june, 14, false), 0.235);
  EXPECT_EQ(price(tariff, june, 20, false), 0.095);
  EXPECT_EQ(price(tariff, june, 15, true), 0.095);
  EXPECT_EQ(price(tariff, may, 6, false), 0.155);
  EXPECT_EQ(price(tariff, october, 10, false), 0.085);
  EXPECT_EQ(price(tariff, january, 7, true), 0.085);
  ASSERT_TRUE(tariff.demand);
  const auto summer = static_cast<std::size_t>(tariff.demand->weekday.at(june).at(15));
  EXPECT_EQ(tariff.demand->periods.at(summer).tiers.front().price, 9.80);
  EXPECT_EQ(tariff.fixed_per_month, 45);
  EXPECT_EQ(tariff.demand_window_s, 900);
}

TEST(ExampleTariffs, OfTheCareHomeHasDayAndNightAndADemandPrice) {
  const job::Job job = example("care-home");
  const auto import = week::read_tariff_json(job.tariff.text, job.tariff.file, asked_by(job));
  ASSERT_TRUE(import) << import.error().front().text();
  const week::Tariff& tariff = import->tariff;
  EXPECT_EQ(price(tariff, january, 6, false), 0.17);
  EXPECT_EQ(price(tariff, january, 7, false), 0.26);
  EXPECT_EQ(price(tariff, june, 20, false), 0.17);
  EXPECT_EQ(price(tariff, june, 12, true), 0.17);
  ASSERT_TRUE(tariff.flat_demand);
  EXPECT_EQ(tariff.flat_demand->periods.at(0).tiers.front().price, 3.2);
  EXPECT_EQ(tariff.demand_window_s, 900);
  EXPECT_EQ(tariff.currency, "EUR");
}

TEST(ExampleTariffs, OfTheClinicIsOnePrice) {
  const job::Job job = example("clinic");
  EXPECT_TRUE(job.tariff.file.empty());
  EXPECT_EQ(job.tariff.zone, "America/New_York");
  EXPECT_EQ(job.controller.clock, job::ControllerLimits::Clock::on_off);
}

}  // namespace
}  // namespace firstdraw
