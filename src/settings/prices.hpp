// From a tariff and a calendar to what a step of the typical week costs, and from weeks of power to a year's
// bill.
#pragma once

#include <string>
#include <vector>

#include "settings/inputs.hpp"
#include "week/schedule.hpp"
#include "week/tariff_bill.hpp"

namespace firstdraw::settings {

/// Part of the year with settings of its own.
struct SeasonOfYear {
  std::string name;  // "all year" when the job has no seasons
  int from_month = 1, from_day = 1;
  double days = 0;      // of the priced year
  week::Prices prices;  // over those days, by step of a week from Monday 00:00 on the clock
};

/// One entry for each season of the job, in the order in which they begin in the year. The price of a step is
/// that of all its occurrences on the local clock (holidays, changes of the clock and months included),
/// each with the price of the next kWh after `used_kwh_per_month` of its period, so that kWh a step times its
/// price is money over the whole season. Demand prices of a month count with that month's price of the next
/// kW above the job's other load and with the share of the month that lies in the season; months with the
/// same steps in their window are one price. No ratchets and least charges. Steps are whole seconds that
/// divide an hour, else std::invalid_argument.
std::vector<SeasonOfYear> seasons_of(const Inputs& inputs, const job::Job& job, double step_s,
                                     double used_kwh_per_month = 0);

/// What the heating costs in the priced year: the bill of the meter with it, less that without. Ratchets look
/// back at a year before that was the same.
struct YearCost {
  double kwh = 0;
  double energy = 0, demand = 0;
  double least = 0;  // zero or less: what a least charge would have taken anyway
  double total() const { return energy + demand + least; }
  week::Bill bill;  // with the heating
};
/// `week_w`: mean power of all groups together by even step of a week from Monday 00:00, one list for each
/// season. The load of each day of the year is that of its weekday on the local clock; in a spring night the
/// skipped hour is left out, in an autumn night the doubled one comes twice. Holidays change prices only.
/// Weeks that do not fit (number, even whole steps that divide an hour): std::invalid_argument.
YearCost year_cost(const Inputs& inputs, const job::Job& job, const std::vector<std::vector<double>>& week_w);

}  // namespace firstdraw::settings
