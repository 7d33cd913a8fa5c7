// The schedules and materials as a workbook, with real numbers in the job's units.
#pragma once

#include <filesystem>

#include "job/diagnostic.hpp"
#include "paper/naming.hpp"

namespace firstdraw::paper {

/// Sheets Runs, Circuits, Panels, Materials, Settings, Findings, Assumptions. `created_s`: seconds since
/// 1970, no clock.
job::Result<void> write_workbook(const job::Job& job, const plan::Plan& plan,
                                 const std::filesystem::path& path, long long created_s);

}  // namespace firstdraw::paper
