// A simulated stretch of time as schema Series of openapi.json: thinned to even steps.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "draw/simulate.hpp"
#include "job/job.hpp"

namespace firstdraw::serve {

/// Records with the ids of what they are about; may be of a simulation that still runs.
struct SeriesSource {
  double begin_s = 0, every_s = 600;
  std::vector<std::string> runs{};  // like the scene's; empty: a runout, or a run of no job
  std::vector<std::string> taps{}, groups{};
  std::vector<std::vector<double>> setpoints_c{};  // of each group, at each record; NaN: off
  draw::Records records{};
};

/// Begins with the first record: time 0 is Monday 00:00.
SeriesSource series_of(const job::Job& job, const draw::Scene& scene, const draw::Records& records,
                       double every_s);
/// Every `every_s`, rounded to whole steps of the records, from the first of these steps at `from_s` or
/// later.
nlohmann::json series_json(const SeriesSource& source, double every_s, double from_s = 0);

}  // namespace firstdraw::serve
