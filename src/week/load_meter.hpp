// What the meter of a tariff reads off a load, month by month. Part of tariff_bill.cpp.
#pragma once

#include <cstdint>
#include <vector>

#include "week/tariff_bill.hpp"

namespace firstdraw::week {

/// The highest demand of a period and when its window began.
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

/// The load lies in the calendar's years and begins where a month does, and the tariff has no problems.
std::vector<MonthMeter> meter_load(const Tariff& tariff, const Calendar& calendar, const LoadSeries& load);

}  // namespace firstdraw::week
