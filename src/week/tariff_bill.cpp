#include "week/tariff_bill.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace firstdraw::week {
namespace {

constexpr double joules_a_kwh = 3.6e6, watts_a_kw = 1000;

struct Peak {
  double demand_kw = 0;
  std::int64_t at_unix_s = 0;
  bool met = false;  // the period came up in this month

  void meet(double kw, std::int64_t at) {
    if (met && kw <= demand_kw) return;
    *this = {kw, at, true};
  }
};

/// What the meter holds of one month.
struct MonthMeter {
  int year = 0, month = 0;
  std::vector<double> energy_j;  // by energy period
  std::vector<std::int64_t> duration_s;
  std::vector<Peak> peaks;  // by demand period
  Peak highest;

  double days() const { return days_in_month(year, month); }
};

/// Walks through the load in pieces that lie in one step, one window and one offset.
class Meter {
 public:
  Meter(const Tariff& tariff, const Calendar& calendar, const LoadSeries& load)
      : tariff_(tariff),
        calendar_(calendar),
        load_(load),
        window_s_(static_cast<std::int64_t>(tariff.demand_window_s)) {}

  std::vector<MonthMeter> read() {
    const std::int64_t end =
        load_.begin_unix_s + load_.step_s * static_cast<std::int64_t>(load_.power_w.size());
    for (std::int64_t at = load_.begin_unix_s; at < end;) {
      const LocalTime local = local_time(calendar_.zone, at);
      const std::int64_t window_end =
          std::min(at + window_s_ - local.second_of_day % window_s_, next_change_unix_s(calendar_.zone, at));
      open_month(at, local);
      at = read_window(at, std::min(window_end, end), local);
    }
    return std::move(months_);
  }

 private:
  void open_month(std::int64_t at, const LocalTime& local) {
    if (!months_.empty() && at < month_end_) return;
    MonthMeter& month = months_.emplace_back();
    month.year = static_cast<int>(local.date.year());
    month.month = local.month();
    month.energy_j.resize(tariff_.energy.periods.size());
    month.duration_s.resize(tariff_.energy.periods.size());
    if (tariff_.demand) month.peaks.resize(tariff_.demand->periods.size());
    month_end_ = day_begin(calendar_.zone, first_of_month(month.year, month.month + 1));
  }

  std::int64_t read_window(std::int64_t begin, std::int64_t end, const LocalTime& local) {
    MonthMeter& month = months_.back();
    double energy_j = 0;
    for (std::int64_t at = begin; at < end;) {
      const std::int64_t step = (at - load_.begin_unix_s) / load_.step_s;
      const std::int64_t piece_end = std::min(end, load_.begin_unix_s + (step + 1) * load_.step_s);
      energy_j += load_.power_w[static_cast<std::size_t>(step)] * static_cast<double>(piece_end - at);
      at = piece_end;
    }
    const auto period = static_cast<std::size_t>(period_at(tariff_.energy, tariff_, calendar_, local));
    month.energy_j[period] += energy_j;
    month.duration_s[period] += end - begin;
    const double demand_kw = energy_j / static_cast<double>(end - begin) / watts_a_kw;
    month.highest.meet(demand_kw, begin);
    if (tariff_.demand) {
      const int place = period_at(*tariff_.demand, tariff_, calendar_, local);
      month.peaks[static_cast<std::size_t>(place)].meet(demand_kw, begin);
    }
    return end;
  }

  const Tariff& tariff_;
  const Calendar& calendar_;
  const LoadSeries& load_;
  std::int64_t window_s_;
  std::int64_t month_end_ = 0;
  std::vector<MonthMeter> months_;
};

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
  for (const MonthMeter& meter : Meter(tariff, calendar, load).read()) {
    bill.months.push_back(bill_of(tariff, ratchet, meter, bill.notes));
    ratchet.add(bill.months.back());
  }
  add_year_minimum(tariff, bill);
  return bill;
}

}  // namespace firstdraw::week
