// Readings as they come from a device: cells as typed, judged by the job.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "prove/verdict.hpp"
#include "serve/bodies.hpp"
#include "serve/jobs.hpp"

namespace firstdraw::serve {

/// One row: a reading, or why it is none.
struct ReadRow {
  std::optional<prove::Reading> reading{};
  job::Diagnostic problem{};
};
/// In their order. Rows take the instrument and the time that stand beside them where they name none.
std::vector<ReadRow> read_rows(const std::vector<Cells>& rows,
                               const std::optional<AskedInstrument>& instrument, const std::string& at,
                               const job::Job& job, const plan::Plan& plan);

/// Schema Verdict for each row; rows that are no reading carry their problem. All are judged together.
nlohmann::json judged_json(const std::vector<ReadRow>& rows, const Looked& looked);

nlohmann::json verdict_json(const prove::Verdict& verdict);
/// Schema Reading: the cells it would be read from again.
nlohmann::json cells_json(const prove::Reading& reading, const job::Job& job);

}  // namespace firstdraw::serve
