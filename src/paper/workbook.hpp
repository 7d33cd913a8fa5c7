// The schedules and materials as a workbook, with real numbers in the job's units.
#pragma once

#include <filesystem>

#include "forecast/forecast.hpp"
#include "job/diagnostic.hpp"
#include "paper/naming.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {

/// Id of the thing; empty for none.
template <class T>
std::string id_or_empty(const std::vector<T>& things, int index) {
  return index < 0 || index >= std::ssize(things) ? "" : things[static_cast<std::size_t>(index)].id;
}

/// Sheets Runs, Circuits, Panels, Load calculation, Materials, Settings, Findings, Assumptions; with a
/// forecast First draw taps, First draw runs and First draw hours; with a week Timetable, Alarms, Alarm
/// tests, Wrong settings and Week costs. `created_s`: seconds since 1970, no clock.
job::Result<void> write_workbook(const Pack& pack, const std::filesystem::path& path, long long created_s);

class WorkbookWriter;
void write_circuits(WorkbookWriter& writer, const job::Job& job, const plan::Plan& plan);
void write_panels(WorkbookWriter& writer, const job::Job& job, const plan::Plan& plan);
void write_load(WorkbookWriter& writer, const plan::Plan& plan);
/// The settings to key in with a week, and the week's other sheets.
void write_week_settings(WorkbookWriter& writer, const Pack& pack);
void write_week(WorkbookWriter& writer, const Pack& pack);
/// The sheets of a forecast.
void write_forecast(WorkbookWriter& writer, const job::Job& job, const forecast::Forecast& forecast);

}  // namespace firstdraw::paper
