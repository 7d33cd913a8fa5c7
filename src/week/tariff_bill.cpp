#include "week/tariff_bill.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "week/load_meter.hpp"

namespace firstdraw::week {
namespace {

constexpr double joules_a_kwh = 3.6e6;

/// Cuts a quantity into tiers whose ends are `scale` times those of the period.
template <class Each>
void cut_into_tiers(const Period& period, double quantity, double scale, const Each& each) {
  double before = 0;
  for (std::size_t i = 0; i < period.tiers.size(); ++i) {
    const double up_to = scale * period.tiers[i].up_to;
    const double part = std::clamp(quantity - before, 0.0, up_to - before);
    if (i == 0 || part > 0) each(static_cast<int>(i), part, period.tiers[i].price);
    before = up_to;
  }
}

void add_energy(const Tariff& tariff, const MonthMeter& meter, MonthBill& month) {
  const double scale = tariff.energy.daily ? meter.days() : 1;
  for (std::size_t i = 0; i < meter.energy_j.size(); ++i) {
    if (meter.duration_s[i] == 0) continue;
    const Period& period = tariff.energy.periods[i];
    const double energy_kwh = meter.energy_j[i] / joules_a_kwh;
    month.use.push_back({period.name, energy_kwh, meter.duration_s[i]});
    cut_into_tiers(period, energy_kwh, scale, [&](int tier, double kwh, double price) {
      month.lines.push_back({Charge::energy, period.name, tier, kwh, "kWh", price, kwh * price, {}, {}});
    });
  }
}

struct Demand {
  Charge charge{};
  double days = 0;  // 0: prices are for the month
  std::optional<std::int64_t> at_unix_s;
  std::string why;
};

void add_demand(const Period& period, double demand_kw, const Demand& kind, MonthBill& month) {
  const bool daily = kind.days > 0;
  cut_into_tiers(period, demand_kw, 1, [&](int tier, double kw, double price) {
    const double quantity = daily ? kw * kind.days : kw;
    month.lines.push_back({kind.charge, period.name, tier, quantity, daily ? "kW day" : "kW", price,
                           quantity * price, kind.at_unix_s, kind.why});
  });
}

void add_time_of_use_demand(const TimeOfUse& prices, const MonthMeter& meter, MonthBill& month) {
  const double days = prices.daily ? meter.days() : 0;
  for (std::size_t i = 0; i < meter.peaks.size(); ++i) {
    const Peak& peak = meter.peaks[i];
    const Demand kind{Charge::time_of_use_demand, days, peak.at_unix_s, {}};
    if (peak.met) add_demand(prices.periods[i], peak.demand_kw, kind, month);
  }
}

int count_of_months(int year, int month) { return 12 * year + month; }

/// The months before, newest last; those of the load are added as they are billed.
class Ratchet {
 public:
  explicit Ratchet(std::span<const PastPeak> past) : past_(past.begin(), past.end()) {}

  void add(const MonthBill& month) { past_.push_back({month.year, month.month, month.peak_kw}); }

  /// The highest of those that the tariff looks back at; counts how many of them are known.
  const PastPeak* highest(const Tariff& tariff, const MonthBill& month, int& known) const {
    const PastPeak* highest = nullptr;
    known = 0;
    for (const PastPeak& peak : past_) {
      const int ago = count_of_months(month.year, month.month) - count_of_months(peak.year, peak.month);
      if (ago < 1 || ago > tariff.ratchet_months) continue;
      ++known;
      if (highest == nullptr || peak.demand_kw > highest->demand_kw) highest = &peak;
    }
    return highest;
  }

 private:
  std::vector<PastPeak> past_;
};

void add_flat_demand(const Tariff& tariff, const Ratchet& ratchet, const MonthMeter& meter, MonthBill& month,
                     std::vector<std::string>& notes) {
  const FlatDemand& prices = *tariff.flat_demand;
  const auto place = static_cast<std::size_t>(month.month - 1);
  const double frac = tariff.ratchet_frac.at(place);
  Demand kind{Charge::flat_demand, prices.daily ? meter.days() : 0, meter.highest.at_unix_s, {}};
  if (frac > 0) {
    int known = 0;
    const PastPeak* past = ratchet.highest(tariff, month, known);
    if (known < tariff.ratchet_months)
      notes.push_back(fmt::format("{}-{:02}: the ratchet looks at {} months, {} of them known", month.year,
                                  month.month, tariff.ratchet_months, known));
    if (past != nullptr && frac * past->demand_kw > month.billed_flat_kw) {
      month.billed_flat_kw = frac * past->demand_kw;
      kind.at_unix_s.reset();
      kind.why = fmt::format("{:g} of {:.4g} kW in {}-{:02}, more than the {:.4g} kW measured", frac,
                             past->demand_kw, past->year, past->month, month.peak_kw);
    }
  }
  const auto period = static_cast<std::size_t>(prices.period_of_month.at(place));
  add_demand(prices.periods[period], month.billed_flat_kw, kind, month);
}

void add_lump(MonthBill& month, Charge charge, double amount, std::string why) {
  if (amount > 0) month.lines.push_back({charge, {}, 0, 1, "lump", amount, amount, {}, std::move(why)});
}

void add_fixed(const Tariff& tariff, const MonthMeter& meter, MonthBill& month) {
  if (tariff.fixed_per_month > 0)
    month.lines.push_back(
        {Charge::fixed, {}, 0, 1, "month", tariff.fixed_per_month, tariff.fixed_per_month, {}, {}});
  if (tariff.fixed_per_day > 0)
    month.lines.push_back({Charge::fixed,
                           {},
                           0,
                           meter.days(),
                           "day",
                           tariff.fixed_per_day,
                           meter.days() * tariff.fixed_per_day,
                           {},
                           {}});
  add_lump(month, Charge::minimum, tariff.minimum_per_month - month.total(),
           fmt::format("up to the least bill of a month, {:g}", tariff.minimum_per_month));
}

/// The least bill of a year, where January to December are there; on December's bill.
void add_year_minimum(const Tariff& tariff, Bill& bill) {
  if (tariff.minimum_per_year <= 0) return;
  double sum = 0;
  int months = 0;
  for (MonthBill& month : bill.months) {
    if (month.month == 1) sum = months = 0;
    sum += month.total();
    ++months;
    if (month.month == 12 && months == 12)
      add_lump(month, Charge::minimum, tariff.minimum_per_year - sum,
               fmt::format("up to the least bill of a year, {:g}", tariff.minimum_per_year));
    const bool last = month.month == 12 || &month == &bill.months.back();
    if (last && months < 12)
      bill.notes.push_back(fmt::format("{}: not a whole year, its least bill was not judged", month.year));
  }
}

class LoadJudge {
 public:
  std::vector<job::Diagnostic> problems;

  void judge(const Zone& zone, const LoadSeries& load) {
    if (load.step_s < 1) return problem("load.step_s", "must be one second or more");
    if (load.power_w.empty()) return problem("load.power_w", "is empty");
    const auto wrong =
        std::ranges::find_if(load.power_w, [](double w) { return !(w >= 0) || !std::isfinite(w); });
    if (wrong != load.power_w.end())
      problem(fmt::format("load.power_w[{}]", wrong - load.power_w.begin()), "must be zero or more");
    const std::int64_t end = load.begin_unix_s + load.step_s * static_cast<std::int64_t>(load.power_w.size());
    if (load.begin_unix_s < zone.from_unix_s || end >= zone.to_unix_s)
      return problem("load", fmt::format("is outside the years {} to {} of the calendar", zone.first_year,
                                         zone.last_year));
    month_edge(zone, "load.begin_unix_s", "begins", load.begin_unix_s);
    month_edge(zone, "load.power_w", "ends", end);
  }

 private:
  void problem(std::string field, std::string message) {
    problems.push_back({{}, 0, 0, std::move(field), std::move(message), {}});
  }
  void month_edge(const Zone& zone, const char* field, const char* does, std::int64_t at) {
    const LocalTime local = local_time(zone, at);
    const Date first = first_of_month(static_cast<int>(local.date.year()), local.month());
    if (day_begin(zone, first) == at) return;
    problem(field, fmt::format("the load {} at {}, not where a month does; bills are for whole months", does,
                               moment_text(zone, at)));
  }
};

std::vector<job::Diagnostic> problems_before(const Tariff& tariff, const Zone& zone, const LoadSeries& load) {
  auto problems = problems_of(tariff);
  for (auto& problem : problems) problem.field = "tariff." + problem.field;
  LoadJudge judge;
  judge.judge(zone, load);
  std::ranges::move(judge.problems, std::back_inserter(problems));
  return problems;
}

MonthBill bill_of(const Tariff& tariff, const Ratchet& ratchet, const MonthMeter& meter,
                  std::vector<std::string>& notes) {
  MonthBill month{meter.year, meter.month, {}, meter.highest.demand_kw, meter.highest.demand_kw, {}};
  add_energy(tariff, meter, month);
  if (tariff.demand) add_time_of_use_demand(*tariff.demand, meter, month);
  if (tariff.flat_demand) add_flat_demand(tariff, ratchet, meter, month, notes);
  add_fixed(tariff, meter, month);
  return month;
}

}  // namespace

double MonthBill::amount(Charge charge) const {
  double sum = 0;
  for (const BillLine& line : lines) sum += line.charge == charge ? line.amount : 0;
  return sum;
}

double MonthBill::demand_amount() const {
  return amount(Charge::time_of_use_demand) + amount(Charge::flat_demand);
}

double MonthBill::total() const {
  double sum = 0;
  for (const BillLine& line : lines) sum += line.amount;
  return sum;
}

double Bill::total() const {
  double sum = 0;
  for (const MonthBill& month : months) sum += month.total();
  return sum;
}

job::Result<Bill> bill(const Tariff& tariff, const Calendar& calendar, const LoadSeries& load,
                       std::span<const PastPeak> past) {
  if (auto problems = problems_before(tariff, calendar.zone, load); !problems.empty())
    return std::unexpected(std::move(problems));
  Bill bill{tariff.currency, {}, {}};
  if ((tariff.demand || tariff.flat_demand) && load.step_s > tariff.demand_window_s)
    bill.notes.push_back(
        fmt::format("the load is given every {} s, demand is meant over {:g} s: the highest may be "
                    "higher than billed here",
                    load.step_s, tariff.demand_window_s));
  Ratchet ratchet(past);
  for (const MonthMeter& meter : meter_load(tariff, calendar, load)) {
    bill.months.push_back(bill_of(tariff, ratchet, meter, bill.notes));
    ratchet.add(bill.months.back());
  }
  add_year_minimum(tariff, bill);
  return bill;
}

}  // namespace firstdraw::week
