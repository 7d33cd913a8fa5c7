// The calendar and the prices of a job, read once: the only part of this room that looks at the machine (the
// system's time zone data).
#pragma once

#include <vector>

#include "job/diagnostic.hpp"
#include "job/job.hpp"
#include "week/calendar.hpp"
#include "week/tariff.hpp"

namespace firstdraw::settings {

struct Inputs {
  week::Calendar calendar;  // covers the priced year
  week::Tariff tariff;
  int year = 0;                              // whose days are priced
  std::vector<job::Assumption> assumptions;  // how the tariff was understood, and what was taken for granted
};

/// Problems name job.toml or the tariff's file, with line and field where there is one. A job without a time
/// zone is one: the nearest known name is in the message. A job without a tariff file has the flat price of
/// its [economics].
job::Result<Inputs> read_inputs(const job::Job& job);

}  // namespace firstdraw::settings
