// A meter and a clock for the tests of prices: all figures invented.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "settings/inputs.hpp"
#include "settings/prices.hpp"

namespace firstdraw::settings {

/// 2026 in Chicago, 0.15 a kWh at all hours.
inline job::Job priced_job(const std::string& zone = "America/Chicago") {
  job::Job job;
  job.site.date = "2026-03-02";
  job.economics.currency = "USD";
  job.economics.energy_price_per_kwh = 0.15;
  job.tariff.zone = zone;
  job.tariff.year = 2026;
  return job;
}

/// Working days 06:00 to 22:00 at 0.20, all else at 0.10.
inline const char* const day_night_csv =
    "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
    "energy,day,mon-fri,06:00,22:00,all,,0.20,,\n"
    "energy,night,mon-fri,22:00,06:00,all,,0.10,,\n"
    "energy,free,sat-sun,00:00,24:00,all,,0.10,,\n";

/// With a table, in which the hours of a demand are means over a quarter of an hour.
inline job::Job table_job(const std::string& csv, const std::string& zone = "America/Chicago") {
  job::Job job = priced_job(zone);
  job.tariff.file = "tariff.csv";
  job.tariff.text = csv;
  job.tariff.demand_window_s = 900;
  return job;
}

inline std::string texts(const std::vector<job::Diagnostic>& problems) {
  std::string out;
  for (const job::Diagnostic& problem : problems) out += problem.text() + "\n";
  return out;
}

inline Inputs inputs_of(const job::Job& job) {
  auto inputs = read_inputs(job);
  if (!inputs) throw std::runtime_error(texts(inputs.error()));
  return *inputs;
}

inline constexpr std::size_t quarter_hours = 672;

/// Quarter hour of the week; Monday is 0.
constexpr std::size_t quarter(std::size_t day, std::size_t hour, std::size_t quarter_of_hour = 0) {
  return day * 96 + hour * 4 + quarter_of_hour;
}

}  // namespace firstdraw::settings
