// Readings as a technician types them: a CSV file, one reading a row. docs/field-tests.md.
//   what, circuit|group|run|outlet, value, stage, test_voltage, cable, volts, minutes, times_rated, called,
//   sensor, at, who, instrument, serial, calibration_due, error, note
// Only `what` and `value` must be there, and a place where the kind of reading needs one. Values carry units
// in the cell ("4.2 A", "118 °F", ">2000 MΩ", "yes") or in the header ("value [A]"); a bare number is taken
// in the job's usual unit of that quantity.
#pragma once

#include <expected>
#include <string>
#include <string_view>
#include <vector>

#include "job/diagnostic.hpp"
#include "plan/plan.hpp"
#include "prove/reading.hpp"

namespace firstdraw::prove {

/// All rows or every complaint, with file, line, field, what was expected and the nearest known name. Places
/// are checked against the job and its plan.
std::expected<std::vector<Reading>, std::vector<job::Diagnostic>> read_readings(std::string_view text,
                                                                                std::string_view file_name,
                                                                                const job::Job& job,
                                                                                const plan::Plan& plan);

/// Reads back to the same readings.
std::string write_readings(const std::vector<Reading>& readings, const job::Job& job);

/// A file to fill in: a row without value for every reading that the due tests ask for, with places, stages
/// and what the test is called. read_readings skips what stays empty.
std::string blank_sheet(const job::Job& job, const plan::Plan& plan);

/// Body of a record and back, JSON: docs/records.md, schemas/readings.schema.json. Errors in one sentence.
/// What else the body holds under "verdicts" is passed over: readings are judged anew.
std::string to_body(const std::vector<Reading>& readings);
std::expected<std::vector<Reading>, std::string> from_body(std::string_view body);

}  // namespace firstdraw::prove
