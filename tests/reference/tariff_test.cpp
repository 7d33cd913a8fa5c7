// Bills against the check of a stored public record (URDB record 6776f98328a262f68a0081be, large general
// service, as stored in a public repository; the utility's own sheet was not seen) and against sums worked by
// hand, which stand beside each test. All other tariffs are invented.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <nlohmann/json.hpp>

#include "published.hpp"
#include "week/tariff_bill.hpp"
#include "week/tariff_json.hpp"

namespace firstdraw::week {
namespace {

using Json = nlohmann::json;
using reference::published;
using testing::HasSubstr;

Calendar calendar_of(const char* zone, int first = 2024, int last = 2026, std::vector<Date> holidays = {}) {
  return make_calendar(read_zone(zone, first, last).value(), std::move(holidays), {}).value();
}

/// A load over whole months; the power is asked for at the first moment of each step.
LoadSeries load_of(const Calendar& calendar, std::pair<int, int> month, int months, int step_s,
                   const std::function<double(const LocalTime&)>& power_w) {
  LoadSeries load{day_begin(calendar.zone, first_of_month(month.first, month.second)), step_s, {}};
  const std::int64_t end = day_begin(calendar.zone, first_of_month(month.first, month.second + months));
  for (std::int64_t at = load.begin_unix_s; at < end; at += step_s) {
    load.power_w.push_back(power_w(local_time(calendar.zone, at)));
  }
  return load;
}
double one_kilowatt(const LocalTime&) { return 1000; }

std::string five_decimals(double value) { return fmt::format("{:.5f}", value); }

Grid grid_of(const std::function<int(int, int)>& period) {
  Grid grid{};
  for (int month = 0; month < 12; ++month) {
    for (int hour = 0; hour < 24; ++hour)
      grid.at(static_cast<std::size_t>(month)).at(static_cast<std::size_t>(hour)) = period(month + 1, hour);
  }
  return grid;
}
Grid always(int period) {
  return grid_of([=](int, int) { return period; });
}

/// One price at all times.
Tariff flat_tariff(double price) {
  Tariff tariff;
  tariff.currency = "USD";
  tariff.energy = {{{"all", {{.price = price}}}}, always(0), always(0), false};
  return tariff;
}

/// The record's figures: energy 0.04802 and 0.07159, demand 0.79 + 2.06 at all times and 12.81 + 2.06
/// on-peak, fixed 88.67. How the record splits energy into rate and adj is not in the stored notes.
std::string public_record() {
  Json weekday = Json::array(), weekend = Json::array();
  for (int month = 1; month <= 12; ++month) {
    const bool summer = month >= 4 && month <= 10;
    Json hours = Json::array();
    for (int hour = 0; hour < 24; ++hour) {
      const bool winter_peak = (hour >= 6 && hour < 10) || (hour >= 18 && hour < 22);
      hours.push_back((summer ? hour >= 12 && hour < 21 : winter_peak) ? 1 : 0);
    }
    weekday.push_back(hours);
    weekend.push_back(Json(std::vector<int>(24, 0)));
  }
  const Json record{
      {"label", "6776f98328a262f68a0081be"},
      {"energyratestructure",
       {{{{"rate", 0.04802}, {"unit", "kWh"}}}, {{{"rate", 0.07159}, {"unit", "kWh"}}}}},
      {"energyweekdayschedule", weekday},
      {"energyweekendschedule", weekend},
      {"demandratestructure", {{{{"rate", 0.79}, {"adj", 2.06}}}, {{{"rate", 12.81}, {"adj", 2.06}}}}},
      {"demandweekdayschedule", weekday},
      {"demandweekendschedule", weekend},
      {"demandrateunit", "kW"},
      {"demandwindow", 15},
      {"fixedchargefirstmeter", 88.67},
      {"fixedchargeunits", "$/month"}};
  return record.dump();
}

// The record is on the clock of a zone with daylight saving; January and July have no change of it.
TEST(TariffBill, PublicRecordToThePrintedDigits) {
  const auto import = read_tariff_json(public_record(), "record.json", {"USD", false, {}, 11});
  ASSERT_TRUE(import) << import.error().front().text();
  const Calendar calendar = calendar_of("America/Chicago");
  for (const auto& row : published("tou_bill_check").rows()) {
    const int year = static_cast<int>(row.number("year")), month = static_cast<int>(row.number("month"));
    const auto billed =
        bill(import->tariff, calendar, load_of(calendar, {year, month}, 1, 3600, one_kilowatt));
    ASSERT_TRUE(billed) << billed.error().front().text();
    const MonthBill& sheet = billed->months.at(0);
    ASSERT_EQ(sheet.use.size(), 2u);
    EXPECT_EQ(sheet.use[1].duration_s, 3600 * row.number("on_peak_h"));
    EXPECT_EQ(sheet.use[0].duration_s, 3600 * row.number("off_peak_h"));
    EXPECT_EQ(five_decimals(sheet.lines[1].amount), row.text("on_peak_energy_usd"));
    EXPECT_EQ(five_decimals(sheet.lines[0].amount), row.text("off_peak_energy_usd"));
    EXPECT_EQ(five_decimals(sheet.amount(Charge::energy)), row.text("energy_usd"));
    EXPECT_EQ(five_decimals(sheet.demand_amount()), row.text("demand_usd_(0.79+2.06)+(12.81+2.06)"));
    EXPECT_EQ(five_decimals(sheet.amount(Charge::fixed)), five_decimals(row.number("fixed_usd")));
    EXPECT_EQ(five_decimals(sheet.total()), row.text("total_usd"));
  }
}

// 2 kW from 0:00 to 6:00 on the weekends of the change alone, else nothing. Night price 0.05 from 0 to 3 h,
// day price 0.20. Clock of New York.
//   8 and 9 March 2025: Saturday 6 h = 3 h night + 3 h day. Sunday's clock leaves out 2 to 3 h: 0, 1, 3, 4, 5
//   = 2 h night + 3 h day. Night 5 h * 2 kW = 10 kWh * 0.05 = 0.50; day 6 h * 2 kW = 12 kWh * 0.20
//   = 2.40; 2.90. 1 and 2 November: Saturday 3 + 3 h. Sunday's clock has 1 to 2 h twice: 0, 1, 1, 2 = 4 h
//   night, 3 h day. Night 7 h * 2 kW = 14 kWh * 0.05 = 0.70; day 6 h * 2 kW = 12 kWh * 0.20 = 2.40;
//   together 3.10.
// Hours of March: 31 * 24 - 1 = 743, night 31 * 3 - 1 = 92; of November: 30 * 24 + 1 = 721, night 91.
TEST(TariffBill, WeekendsOfTheChangeByHand) {
  const Calendar calendar = calendar_of("America/New_York");
  Tariff tariff;
  const Grid nights = grid_of([](int, int hour) { return hour < 3 ? 1 : 0; });
  tariff.energy = {{{"day", {{.price = 0.20}}}, {"night", {{.price = 0.05}}}}, nights, nights, false};
  struct Hand {
    int month;
    unsigned saturday;
    double night_kwh, day_kwh, amount;
    std::int64_t night_h, all_h;
  };
  for (const Hand& hand : {Hand{3, 8, 10, 12, 2.90, 92, 743}, Hand{11, 1, 14, 12, 3.10, 91, 721}}) {
    const auto power_w = [&](const LocalTime& local) {
      const auto day = static_cast<unsigned>(local.date.day());
      return local.hour() < 6 && (day == hand.saturday || day == hand.saturday + 1) ? 2000.0 : 0.0;
    };
    const auto billed = bill(tariff, calendar, load_of(calendar, {2025, hand.month}, 1, 1800, power_w));
    ASSERT_TRUE(billed) << billed.error().front().text();
    const MonthBill& sheet = billed->months.at(0);
    EXPECT_NEAR(sheet.use[1].energy_kwh, hand.night_kwh, 1e-9);
    EXPECT_NEAR(sheet.use[0].energy_kwh, hand.day_kwh, 1e-9);
    EXPECT_NEAR(sheet.total(), hand.amount, 1e-9);
    EXPECT_EQ(sheet.use[1].duration_s, 3600 * hand.night_h);
    EXPECT_EQ(sheet.use[0].duration_s + sheet.use[1].duration_s, 3600 * hand.all_h);
  }
}

// January, 1 kW, 744 kWh; 0.10 up to 300, 0.15 up to 600, 0.30 above:
//   300 * 0.10 + 300 * 0.15 + 144 * 0.30 = 30 + 45 + 43.20 = 118.20.
// The same ends a day (10 and 20 kWh, so 310 and 620 in 31 days): 31 + 46.50 + 124 * 0.30 = 114.70.
TEST(TariffBill, TiersByHand) {
  const Calendar calendar = calendar_of("America/Chicago");
  const LoadSeries load = load_of(calendar, {2025, 1}, 1, 3600, one_kilowatt);
  Tariff tariff = flat_tariff(0);
  tariff.energy.periods[0].tiers = {{300, 0.10}, {600, 0.15}, {.price = 0.30}};
  const auto billed = bill(tariff, calendar, load);
  ASSERT_TRUE(billed);
  const auto& lines = billed->months[0].lines;
  ASSERT_EQ(lines.size(), 3u);
  EXPECT_NEAR(lines[0].amount, 30, 1e-9);
  EXPECT_NEAR(lines[1].amount, 45, 1e-9);
  EXPECT_NEAR(lines[2].quantity, 144, 1e-9);
  EXPECT_NEAR(billed->total(), 118.20, 1e-9);
  tariff.energy.periods[0].tiers = {{10, 0.10}, {20, 0.15}, {.price = 0.30}};
  tariff.energy.daily = true;
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 114.70, 1e-9);
}

// 4 kW from 6:05 to 6:25 on one day, 1 kW else, minute by minute. Means over quarters of an hour from 6:00:
// (5 * 1 + 10 * 4) / 15 = 3.0 and (10 * 4 + 5 * 1) / 15 = 3.0; over half an hour (10 * 1 + 20 * 4) / 30
// = 3.0; over an hour (40 * 1 + 20 * 4) / 60 = 2.0; over five minutes 4.0. At 7 a kW.
TEST(TariffBill, WindowByHand) {
  const Calendar calendar = calendar_of("Asia/Kathmandu");  // 5 h 45 min: windows lie on the local clock
  Tariff tariff = flat_tariff(0);
  tariff.flat_demand = FlatDemand{{{"all", {{.price = 7}}}}, {}, false};
  const LoadSeries load = load_of(calendar, {2025, 6}, 1, 60, [](const LocalTime& local) {
    const int minute = local.second_of_day / 60;
    const bool high = static_cast<unsigned>(local.date.day()) == 12 && minute >= 365 && minute < 385;
    return high ? 4000.0 : 1000.0;
  });
  const std::vector<std::pair<double, double>> hand{{300, 4}, {900, 3}, {1800, 3}, {3600, 2}};
  for (const auto& [window_s, demand_kw] : hand) {
    tariff.demand_window_s = window_s;
    const auto billed = bill(tariff, calendar, load);
    ASSERT_TRUE(billed);
    EXPECT_NEAR(billed->months[0].peak_kw, demand_kw, 1e-9) << window_s;
    EXPECT_NEAR(billed->total(), 7 * demand_kw, 1e-9);
  }
  const auto at = bill(tariff, calendar, load)->months[0].lines.back().at_unix_s;
  EXPECT_EQ(moment_text(calendar.zone, at.value()), "2025-06-12 06:00 +05:45");
}

// Peaks of January to April 10, 4, 9 and 2 kW; ratchet 0.8 over the two months before, 5 a kW.
//   January 10; February max(4, 0.8 * 10) = 8; March max(9, 0.8 * 10) = 9; April max(2, 0.8 * 9) = 7.2.
//   With 12 kW in December before: January max(10, 9.6) = 10, February max(4, 0.8 * 12) = 9.6. Sums
//   34.2 * 5 = 171 and 35.8 * 5 = 179.
TEST(TariffBill, RatchetByHand) {
  const Calendar calendar = calendar_of("Europe/Berlin");
  Tariff tariff = flat_tariff(0);
  tariff.flat_demand = FlatDemand{{{"all", {{.price = 5}}}}, {}, false};
  tariff.ratchet_frac.fill(0.8);
  tariff.ratchet_months = 2;
  const LoadSeries load = load_of(calendar, {2025, 1}, 4, 900, [](const LocalTime& local) {
    constexpr std::array peak_w{10000.0, 4000.0, 9000.0, 2000.0};
    const bool high = static_cast<unsigned>(local.date.day()) == 3 && local.hour() == 7;
    return high ? peak_w.at(static_cast<std::size_t>(local.month() - 1)) : 500.0;
  });
  const auto billed = bill(tariff, calendar, load);
  ASSERT_TRUE(billed);
  EXPECT_NEAR(billed->months[1].billed_flat_kw, 8, 1e-9);
  EXPECT_NEAR(billed->months[2].billed_flat_kw, 9, 1e-9);
  EXPECT_NEAR(billed->months[3].billed_flat_kw, 7.2, 1e-9);
  EXPECT_NEAR(billed->total(), 171, 1e-9);
  EXPECT_EQ(billed->months[1].lines.back().why, "0.8 of 10 kW in 2025-01, more than the 4 kW measured");
  EXPECT_EQ(billed->notes.size(), 2u);  // January and February look at months that nobody gave
  const std::vector<PastPeak> past{{2024, 12, 12}, {2024, 11, 30}};
  EXPECT_NEAR(bill(tariff, calendar, load, std::vector<PastPeak>{past[0]})->total(), 179, 1e-9);
  // November's 30 kW counts in January alone, 0.8 * 30 = 24: 24 + 9.6 + 9 + 7.2 = 49.8.
  EXPECT_NEAR(bill(tariff, calendar, load, past)->total(), 5 * 49.8, 1e-9);
  EXPECT_TRUE(bill(tariff, calendar, load, past)->notes.empty());
}

// Demand in tiers and by the day. 5 kW in April (30 days): up to 2 kW 3.00, above 1.50 a kW:
// 2 * 3 + 3 * 1.50 = 10.50. At 0.10 a kW and day: 5 * 30 * 0.10 = 15.
TEST(TariffBill, DemandTiersAndDailyPricesByHand) {
  const Calendar calendar = calendar_of("America/Denver");
  const LoadSeries load = load_of(calendar, {2025, 4}, 1, 900, [](const LocalTime&) { return 5000.0; });
  Tariff tariff = flat_tariff(0);
  tariff.demand = TimeOfUse{{{"all", {{2, 3.00}, {.price = 1.50}}}}, always(0), always(0), false};
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 10.50, 1e-9);
  tariff.demand->periods[0].tiers = {{.price = 0.10}};
  tariff.demand->daily = true;
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 15, 1e-9);
}

// Christmas 2025 is a Thursday. 1 kW, weekend free, weekday 0.10. December 2025 has 23 weekdays:
// 23 * 24 * 0.10 = 55.20; with the holiday as weekend 22 * 24 * 0.10 = 52.80.
TEST(TariffBill, HolidayAsWeekendByHand) {
  const Calendar calendar = calendar_of("America/Chicago", 2024, 2026, {parse_date("2025-12-25").value()});
  const LoadSeries load = load_of(calendar, {2025, 12}, 1, 3600, one_kilowatt);
  Tariff tariff = flat_tariff(0.10);
  tariff.energy.periods.push_back({"weekend", {{.price = 0}}});
  tariff.energy.weekend = always(1);
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 55.20, 1e-9);
  tariff.holidays_as_weekend = true;
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 52.80, 1e-9);
}

// No load in 2025: fixed 10 a month and 0.50 a day: 12 * 10 + 365 * 0.50 = 302.50. Least bill 26 a month:
// months of 31 days cost 25.50 and are raised by 0.50 (7), of 30 days 25 by 1 (4), February 24 by 2:
// 302.50 + 3.50 + 4 + 2 = 312 = 12 * 26. Least bill 400 a year: December gets 88 more.
TEST(TariffBill, FixedAndLeastChargesByHand) {
  const Calendar calendar = calendar_of("Europe/Paris");
  const LoadSeries load = load_of(calendar, {2025, 1}, 12, 3600, [](const LocalTime&) { return 0.0; });
  Tariff tariff = flat_tariff(0.10);
  tariff.fixed_per_month = 10;
  tariff.fixed_per_day = 0.50;
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 302.50, 1e-9);
  tariff.minimum_per_month = 26;
  EXPECT_NEAR(bill(tariff, calendar, load)->total(), 312, 1e-9);
  tariff.minimum_per_year = 400;
  const auto billed = bill(tariff, calendar, load);
  EXPECT_NEAR(billed->total(), 400, 1e-9);
  EXPECT_NEAR(billed->months[11].amount(Charge::minimum), 88.50, 1e-9);
  const auto part = bill(tariff, calendar, load_of(calendar, {2025, 3}, 2, 3600, one_kilowatt));
  EXPECT_THAT(part->notes, testing::ElementsAre(HasSubstr("2025: not a whole year")));
}

}  // namespace
}  // namespace firstdraw::week
