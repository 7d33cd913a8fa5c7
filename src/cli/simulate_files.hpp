// A forecast as CSV files for a spreadsheet.
#pragma once

#include <map>
#include <string>

#include "forecast/forecast.hpp"

namespace firstdraw::cli {

/// outlets.csv, runs.csv, groups.csv, draws.csv, series.csv by name; temperatures, volumes and flows in
/// `job.units`, with the unit in every heading. What is not known is an empty cell.
std::map<std::string, std::string> simulate_files(const job::Job& job, const forecast::Forecast& forecast);

}  // namespace firstdraw::cli
