// The hand-over pack: one PDF, one workbook, one SVG per drawing, plan.json, forecast.json. Same input, same
// bytes.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "forecast/forecast.hpp"
#include "job/diagnostic.hpp"
#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::paper {

struct PackFile {
  std::filesystem::path path;
  std::string what;
};
/// Called with a stage's name as it starts, 0 <= done <= 1.
using Progress = std::function<void(const std::string& stage, double done)>;

/// Writes the whole pack into `folder` (made if missing); files are written beside and moved into place.
/// With a forecast also the sheets "First draw", its tables in the workbook, the heat map of the riser
/// drawing and forecast.json.
job::Result<std::vector<PackFile>> write_pack(const job::Job& job, const plan::Plan& plan,
                                              const std::filesystem::path& folder,
                                              const Progress& progress = {},
                                              const forecast::Forecast* forecast = nullptr);

}  // namespace firstdraw::paper
