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
#include "paper/field_book.hpp"
#include "plan/plan.hpp"
#include "settings/settings.hpp"

namespace firstdraw::paper {

struct PackFile {
  std::filesystem::path path;
  std::string what;
};
/// Called with a stage's name as it starts, 0 <= done <= 1.
using Progress = std::function<void(const std::string& stage, double done)>;

/// What the pack shows beside the plan; null: left out.
struct Beside {
  /// The sheets "First draw", its tables in the workbook, the heat map of the riser drawing, forecast.json.
  const forecast::Forecast* forecast = nullptr;
  /// Its settings take the place of the plan's own; the sheets "The week", their tables in the workbook, the
  /// charts week-<group>.svg, frontier.svg and costs.svg, and week.json. Its findings may be among the plan's
  /// already. A week without seasons only says why.
  const settings::WeekAnswer* week = nullptr;
  /// Filled test sheets, results in the commissioning summary, the records' sheet and records.jsonl.
  const FieldBook* field = nullptr;
};

/// Writes the whole pack into `folder` (made if missing); files are written beside and moved into place.
job::Result<std::vector<PackFile>> write_pack(const job::Job& job, const plan::Plan& plan,
                                              const std::filesystem::path& folder,
                                              const Progress& progress = {}, const Beside& beside = {});

}  // namespace firstdraw::paper
