#include "week/load_meter.hpp"

#include <algorithm>

namespace firstdraw::week {
namespace {

constexpr double watts_a_kw = 1000;

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

}  // namespace

std::vector<MonthMeter> meter_load(const Tariff& tariff, const Calendar& calendar, const LoadSeries& load) {
  return Meter(tariff, calendar, load).read();
}

}  // namespace firstdraw::week
