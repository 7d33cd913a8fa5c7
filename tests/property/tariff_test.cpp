// What must hold for every tariff and load: energy without tiers is linear, demand of a sum is at most the
// sum of demands, lines add up, finer steps change nothing, and any text gives a tariff or errors.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "week/tariff_bill.hpp"
#include "week/tariff_csv.hpp"
#include "week/tariff_json.hpp"

namespace firstdraw::week {
namespace {

double between(double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 100'001) / 1e5; }

const Calendar& site(int which) {
  static const std::vector<Calendar> sites = [] {
    std::vector<Calendar> all;
    for (const char* name : {"America/New_York", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kathmandu"}) {
      const Date holiday = parse_date("2025-10-03").value();
      all.push_back(make_calendar(read_zone(name, 2025, 2025).value(), {holiday}, {}).value());
    }
    return all;
  }();
  return sites.at(static_cast<std::size_t>(which));
}
const Calendar& any_site() { return site(*rc::gen::inRange(0, 4)); }

Grid any_grid(int periods) {
  Grid grid{};
  for (auto& month : grid) {
    const int most = *rc::gen::inRange(0, periods), from = *rc::gen::inRange(0, 24);
    const int other = *rc::gen::inRange(0, periods);
    for (int hour = 0; hour < 24; ++hour)
      month.at(static_cast<std::size_t>(hour)) = hour < from ? most : other;
  }
  return grid;
}

/// Periods of `tiers` tiers; `rising`: a later tier is never cheaper.
std::vector<Period> any_periods(int count, int tiers, double least_price, bool rising) {
  std::vector<Period> periods;
  for (int i = 0; i < count; ++i) {
    Period period{"p" + std::to_string(i), {}};
    double up_to = 0, price = least_price;
    for (int k = 0; k < tiers; ++k) {
      up_to += between(0.5, 400);
      price = rising ? price + between(0, 0.2) : between(least_price, 1);
      const bool last = k + 1 == tiers;
      period.tiers.push_back({last ? std::numeric_limits<double>::infinity() : up_to, price});
    }
    periods.push_back(std::move(period));
  }
  return periods;
}

struct Wish {
  int energy_tiers = 1, demand_tiers = 1;
  bool ratchet = false;
};

Tariff any_tariff(const Wish& wish) {
  Tariff tariff;
  const int periods = *rc::gen::inRange(1, 4);
  tariff.energy = {any_periods(periods, wish.energy_tiers, -0.05, false), any_grid(periods),
                   any_grid(periods), *rc::gen::arbitrary<bool>()};
  tariff.demand = TimeOfUse{any_periods(periods, wish.demand_tiers, 0, false), any_grid(periods),
                            any_grid(periods), *rc::gen::arbitrary<bool>()};
  tariff.flat_demand =
      FlatDemand{any_periods(1, wish.demand_tiers, 0, false), {}, *rc::gen::arbitrary<bool>()};
  tariff.demand_window_s = *rc::gen::element(300.0, 900.0, 1800.0, 3600.0);
  if (wish.ratchet) tariff.ratchet_frac.fill(between(0, 1));
  tariff.fixed_per_month = between(0, 50);
  tariff.fixed_per_day = between(0, 2);
  tariff.holidays_as_weekend = *rc::gen::arbitrary<bool>();
  return tariff;
}

/// Loads of April and October, or March and November, hold the changes of the clock.
LoadSeries any_load(const Calendar& calendar, int first_month, int months) {
  const int step_s = *rc::gen::element(600, 900, 1800);
  LoadSeries load{day_begin(calendar.zone, first_of_month(2025, first_month)), step_s, {}};
  const std::int64_t end = day_begin(calendar.zone, first_of_month(2025, first_month + months));
  const int pulse = *rc::gen::inRange(2, 200);
  const double high_w = between(0, 20000), low_w = between(0, 3000);
  std::size_t i = 0;
  for (std::int64_t at = load.begin_unix_s; at < end; at += step_s) {
    load.power_w.push_back(++i % static_cast<std::size_t>(pulse) == 0 ? high_w : low_w);
  }
  return load;
}
LoadSeries on_the_steps_of(const LoadSeries& other) {
  LoadSeries load = other;
  const int pulse = *rc::gen::inRange(2, 200);
  const double high_w = between(0, 20000);
  for (std::size_t i = 0; i < load.power_w.size(); ++i)
    load.power_w[i] = i % static_cast<std::size_t>(pulse) == 0 ? high_w : 0;
  return load;
}
LoadSeries sum_of(const LoadSeries& a, const LoadSeries& b) {
  LoadSeries sum = a;
  for (std::size_t i = 0; i < sum.power_w.size(); ++i) sum.power_w[i] += b.power_w[i];
  return sum;
}

Bill billed(const Tariff& tariff, const Calendar& calendar, const LoadSeries& load) {
  const auto made = bill(tariff, calendar, load);
  if (!made) RC_FAIL(made.error().front().text());
  return *made;
}
double energy_of(const Bill& bill) {
  double sum = 0;
  for (const MonthBill& month : bill.months) sum += month.amount(Charge::energy);
  return sum;
}
double demand_of(const Bill& bill) {
  double sum = 0;
  for (const MonthBill& month : bill.months) sum += month.demand_amount();
  return sum;
}

TEST(TariffProperty, EnergyWithoutTiersIsLinear) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    const Tariff tariff = any_tariff({});
    const LoadSeries one = any_load(calendar, *rc::gen::element(3, 4, 10), 2), two = on_the_steps_of(one);
    const double a = energy_of(billed(tariff, calendar, one)), b = energy_of(billed(tariff, calendar, two));
    const double both = energy_of(billed(tariff, calendar, sum_of(one, two)));
    RC_ASSERT(std::abs(both - a - b) <= 1e-9 * (std::abs(a) + std::abs(b) + 1));
  }));
}

TEST(TariffProperty, DemandOfASumIsAtMostTheSum) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    const Tariff tariff =
        any_tariff({.energy_tiers = 1, .demand_tiers = 1, .ratchet = *rc::gen::arbitrary<bool>()});
    const LoadSeries one = any_load(calendar, *rc::gen::element(3, 4, 10), 2), two = on_the_steps_of(one);
    const double a = demand_of(billed(tariff, calendar, one)), b = demand_of(billed(tariff, calendar, two));
    const double both = demand_of(billed(tariff, calendar, sum_of(one, two)));
    RC_ASSERT(both <= (a + b) * (1 + 1e-12));
    RC_ASSERT(both >= std::max(a, b) * (1 - 1e-12));
  }));
}

TEST(TariffProperty, DearerTiersMakeTheWholeDearer) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    Tariff tariff = any_tariff({});
    for (Period& period : tariff.energy.periods) period.tiers = any_periods(1, 3, 0, true)[0].tiers;
    const LoadSeries one = any_load(calendar, 3, 1), two = on_the_steps_of(one);
    const double a = energy_of(billed(tariff, calendar, one)), b = energy_of(billed(tariff, calendar, two));
    RC_ASSERT(energy_of(billed(tariff, calendar, sum_of(one, two))) >= (a + b) * (1 - 1e-12) - 1e-12);
  }));
}

// The energy part is the price of every piece in turn, asked for by the moment and what was used before.
TEST(TariffProperty, PriceOfTheMomentAddsUpToTheBill) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    const Tariff tariff = any_tariff({.energy_tiers = 1});
    const LoadSeries load = any_load(calendar, *rc::gen::element(3, 4, 10), 1);
    double sum = 0, size = 0;
    for (std::size_t i = 0; i < load.power_w.size(); ++i) {
      const std::int64_t at = load.begin_unix_s + load.step_s * static_cast<std::int64_t>(i);
      const double kwh = load.power_w[i] * load.step_s / 3.6e6;
      sum += kwh * price_per_kwh(tariff, calendar, at);
      size += kwh;
    }
    RC_ASSERT(std::abs(sum - energy_of(billed(tariff, calendar, load))) <= 1e-9 * (size + 1));
  }));
}

TEST(TariffProperty, LinesAddUpAndNothingIsLost) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    const Tariff tariff = any_tariff({*rc::gen::inRange(1, 4), *rc::gen::inRange(1, 3), true});
    const LoadSeries load = any_load(calendar, *rc::gen::element(3, 4, 9), 2);
    const Bill made = billed(tariff, calendar, load);
    double used_kwh = 0, sum = 0;
    for (const MonthBill& month : made.months) {
      double lines_kwh = 0, month_kwh = 0;
      for (const BillLine& line : month.lines) {
        RC_ASSERT(line.amount == line.quantity * line.price);
        lines_kwh += line.charge == Charge::energy ? line.quantity : 0;
      }
      for (const PeriodUse& use : month.use) month_kwh += use.energy_kwh;
      RC_ASSERT(std::abs(lines_kwh - month_kwh) <= 1e-9 * (month_kwh + 1));
      used_kwh += month_kwh;
      sum += month.total();
    }
    const double all_w = std::accumulate(load.power_w.begin(), load.power_w.end(), 0.0);
    RC_ASSERT(std::abs(used_kwh - all_w * load.step_s / 3.6e6) <= 1e-9 * (used_kwh + 1));
    RC_ASSERT(sum == made.total());
  }));
}

TEST(TariffProperty, FinerStepsOfTheSameLoadCostTheSame) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    const Tariff tariff = any_tariff({2, 2, true});
    const LoadSeries load = any_load(calendar, *rc::gen::element(3, 4, 10), 1);
    const int parts = *rc::gen::element(2, 3, 5);
    LoadSeries fine{load.begin_unix_s, load.step_s / parts, {}};
    for (const double power_w : load.power_w)
      fine.power_w.insert(fine.power_w.end(), static_cast<std::size_t>(parts), power_w);
    const double coarse = billed(tariff, calendar, load).total();
    RC_ASSERT(std::abs(billed(tariff, calendar, fine).total() - coarse) <= 1e-9 * (std::abs(coarse) + 1));
  }));
}

TEST(TariffProperty, LongerWindowsNeverRaiseThePeak) {
  ASSERT_TRUE(rc::check([] {
    const Calendar& calendar = any_site();
    Tariff tariff = any_tariff({});
    const LoadSeries load = any_load(calendar, *rc::gen::element(5, 6, 7), 1);
    double before = std::numeric_limits<double>::infinity();
    for (const double window_s : {300.0, 900.0, 1800.0, 3600.0}) {
      tariff.demand_window_s = window_s;
      const double peak_kw = billed(tariff, calendar, load).months[0].peak_kw;
      RC_ASSERT(peak_kw <= before * (1 + 1e-12));
      before = peak_kw;
    }
  }));
}

// The page's own table with something put in: a tariff that can be used, or errors with a message each.
TEST(TariffProperty, AnyTextGivesATariffOrErrors) {
  const std::string table =
      "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
      "energy,night,all,22:00,06:00,all,,0.10,,\nenergy,day,all,06:00,22:00,all,300,0.20,4.00,\n"
      "energy,day,,,,,,0.30,,\nflat_demand,winter,,,,all,,5.00,,80 %\n";
  const std::string record =
      R"({"energyratestructure":[[{"rate":0.1,"max":5},{"rate":0.2}]],"energyweekdayschedule":[[0]],"name":"x"})";
  ASSERT_TRUE(rc::check([&] {
    const TariffAsked asked{"USD", false, 900, 11};
    std::string text = *rc::gen::element(table, record);
    const auto damage = *rc::gen::arbitrary<std::string>();
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
    text.replace(at, *rc::gen::inRange<std::size_t>(0, 6), damage);
    for (const auto& read :
         {read_tariff_csv(text, "t.csv", asked), read_tariff_json(text, "t.json", asked)}) {
      if (read) RC_ASSERT(problems_of(read->tariff).empty());
      if (!read) RC_ASSERT(!read.error().empty() && !read.error().front().message.empty());
    }
  }));
}

}  // namespace
}  // namespace firstdraw::week
