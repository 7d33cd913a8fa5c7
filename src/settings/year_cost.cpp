// A year's bill of the meter with the heating and without it.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <numeric>
#include <stdexcept>

#include "settings/local_year.hpp"
#include "settings/prices.hpp"

namespace firstdraw::settings {
namespace {

constexpr double week_s = 604800, joules_a_kwh = 3.6e6;

/// Weeks repeat as long as the bill asks for one step.
double common_step_s(const Inputs& inputs, const std::vector<std::vector<double>>& week_w) {
  if (week_w.size() != season_order(inputs.calendar).size())
    throw std::invalid_argument("year_cost: one week for each season was expected");
  const std::size_t steps = week_w.front().size();
  const bool alike = std::ranges::all_of(week_w, [&](const auto& week) { return week.size() == steps; });
  if (steps == 0 || !alike) throw std::invalid_argument("year_cost: weeks of equal steps were expected");
  return week_s / static_cast<double>(steps);
}

/// Steps of the bill lie on the clock before and after every change of it in the year.
int bill_step_s(const Inputs& inputs, double step_s) {
  auto common_s = static_cast<int>(whole_step_s(step_s));
  const week::Zone& zone = inputs.calendar.zone;
  const std::int64_t begin = week::day_begin(zone, week::first_of_month(inputs.year, 1));
  const std::int64_t end = week::day_begin(zone, week::first_of_month(inputs.year, 13));
  for (std::size_t i = 1; i < zone.spans.size(); ++i)
    if (zone.spans[i].from_unix_s > begin && zone.spans[i].from_unix_s < end)
      common_s = std::gcd(common_s, std::abs(zone.spans[i].utc_offset_s - zone.spans[i - 1].utc_offset_s));
  return common_s;
}

struct Loads {
  week::LoadSeries with, without;
  double heating_j = 0;
};

Loads loads_of(const Inputs& inputs, double other_w, const std::vector<std::vector<double>>& week_w) {
  const double step_s = common_step_s(inputs, week_w);
  Loads loads;
  loads.with.step_s = loads.without.step_s = bill_step_s(inputs, step_s);
  const auto pieces_a_step = static_cast<std::size_t>(std::lround(step_s / loads.with.step_s));
  walk_year(inputs, loads.with.step_s, [&](const LocalPiece& piece) {
    if (piece.length_s != loads.with.step_s) throw std::logic_error("year_cost: a step cut by the clock");
    if (loads.with.power_w.empty()) loads.with.begin_unix_s = loads.without.begin_unix_s = piece.begin_unix_s;
    const double heating_w = week_w[piece.season].at(piece.step / pieces_a_step);
    loads.with.power_w.push_back(other_w + heating_w);
    loads.without.power_w.push_back(other_w);
    loads.heating_j += heating_w * static_cast<double>(piece.length_s);
  });
  return loads;
}

week::Bill billed(const Inputs& inputs, const week::LoadSeries& load, std::span<const week::PastPeak> past) {
  auto bill = week::bill(inputs.tariff, inputs.calendar, load, past);
  if (!bill) throw std::invalid_argument("year_cost: " + bill.error().front().text());
  return std::move(*bill);
}

/// A ratchet looks at the months before: those of the same year once more, as if every year were like it.
week::Bill settled_bill(const Inputs& inputs, const week::LoadSeries& load) {
  week::Bill first = billed(inputs, load, {});
  const bool ratchet = std::ranges::any_of(inputs.tariff.ratchet_frac, [](double frac) { return frac > 0; });
  if (!ratchet) return first;
  std::vector<week::PastPeak> past;
  for (const week::MonthBill& month : first.months)
    for (int ago = 1; ago <= (inputs.tariff.ratchet_months + 11) / 12; ++ago)
      past.push_back({month.year - ago, month.month, month.peak_kw});
  return billed(inputs, load, past);
}

double amount(const week::Bill& bill, week::Charge charge) {
  double sum = 0;
  for (const week::MonthBill& month : bill.months) sum += month.amount(charge);
  return sum;
}

double demand_amount(const week::Bill& bill) {
  return amount(bill, week::Charge::time_of_use_demand) + amount(bill, week::Charge::flat_demand);
}

}  // namespace

YearCost year_cost(const Inputs& inputs, const job::Job& job,
                   const std::vector<std::vector<double>>& week_w) {
  const Loads loads = loads_of(inputs, job.tariff.other_load_w, week_w);
  YearCost cost;
  cost.bill = settled_bill(inputs, loads.with);
  const week::Bill without = settled_bill(inputs, loads.without);
  cost.kwh = loads.heating_j / joules_a_kwh;
  cost.energy = amount(cost.bill, week::Charge::energy) - amount(without, week::Charge::energy);
  cost.demand = demand_amount(cost.bill) - demand_amount(without);
  cost.least = amount(cost.bill, week::Charge::minimum) - amount(without, week::Charge::minimum);
  return cost;
}

}  // namespace firstdraw::settings
