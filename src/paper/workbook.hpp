// The schedules and materials as a workbook, with real numbers in the job's units.
#pragma once

#include <filesystem>

#include "forecast/forecast.hpp"
#include "job/diagnostic.hpp"
#include "paper/naming.hpp"

namespace firstdraw::paper {

/// Sheets Runs, Circuits, Panels, Materials, Settings, Findings, Assumptions; with a forecast First draw
/// taps, First draw runs and First draw hours. `created_s`: seconds since 1970, no clock.
job::Result<void> write_workbook(const job::Job& job, const plan::Plan& plan,
                                 const forecast::Forecast* forecast, const std::filesystem::path& path,
                                 long long created_s);

class WorkbookWriter;
/// The sheets of a forecast.
void write_forecast(WorkbookWriter& writer, const job::Job& job, const forecast::Forecast& forecast);

}  // namespace firstdraw::paper
