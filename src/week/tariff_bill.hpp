// What a load costs under a tariff, month by month, every figure with what it was made of.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "week/tariff.hpp"

namespace firstdraw::week {

/// Mean power over steps of equal length, the first from `begin_unix_s` on.
struct LoadSeries {
  std::int64_t begin_unix_s = 0;
  int step_s = 3600;
  std::vector<double> power_w;  // zero or more
};

/// Highest demand of a month before the load begins, for the ratchet.
struct PastPeak {
  int year = 0, month = 0;
  double demand_kw = 0;
};

enum class Charge { energy, time_of_use_demand, flat_demand, fixed, minimum };

/// One line of a bill: amount = quantity * price.
struct BillLine {
  Charge charge{};
  std::string period;  // its name; empty for fixed and least charges
  int tier = 0;        // from 0
  double quantity = 0;
  std::string unit;  // "kWh", "kW", "kW day", "month", "day", "lump"
  double price = 0, amount = 0;
  std::optional<std::int64_t> at_unix_s;  // begin of the window with the highest demand; none from a ratchet
  std::string why;                        // where the quantity is not the plain measured one
};

/// What was used in one energy period of a month.
struct PeriodUse {
  std::string period;
  double energy_kwh = 0;
  std::int64_t duration_s = 0;
};

struct MonthBill {
  int year = 0, month = 0;  // month from 1
  std::vector<PeriodUse> use;
  double peak_kw = 0;         // highest mean over a window
  double billed_flat_kw = 0;  // peak_kw or what the ratchet makes of it
  std::vector<BillLine> lines;

  /// Sum of the lines of one kind of charge.
  double amount(Charge charge) const;
  double demand_amount() const;  // both kinds
  double total() const;
};

struct Bill {
  std::string currency;
  std::vector<MonthBill> months;
  std::vector<std::string> notes;  // what the load could not tell
  double total() const;
};

/// The load must cover whole local months of the calendar, from a month's first moment to another's.
/// Windows of demand lie on the local clock's hour and belong to the period in which they begin; a change of
/// the clock ends a window. A step longer than the window is taken as even, which the notes say.
/// The least charge of a year is judged where the load covers January to December, on December's bill.
/// Errors: a tariff with problems; a load that is empty, negative, not finite or not of whole months.
job::Result<Bill> bill(const Tariff& tariff, const Calendar& calendar, const LoadSeries& load,
                       std::span<const PastPeak> past = {});

}  // namespace firstdraw::week
