// All readings of a job's field tests at once: judged, what is still due, what moves. docs/field-tests.md.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>
#include <vector>

#include "prove/verdict.hpp"

namespace firstdraw::prove {

struct FieldTests {
  std::vector<Reading> readings{};
  std::vector<Verdict> verdicts{};  // like readings
  std::vector<Due> due{};
  std::vector<Trend> trends{};
  std::vector<plan::Finding> findings{};  // of readings that did not pass and of what moves
};
FieldTests field_tests(const job::Job& job, const plan::Plan& plan, std::vector<Reading> readings);

/// Whether a reading fails and nobody accepted that.
bool has_failed(const FieldTests& tests);

/// schemas/tests.schema.json. `from`: the file or the records that hold the readings. SI; null for a limit
/// that is not there.
nlohmann::json to_json(const FieldTests& tests, std::string_view from);

/// What a verdict says, without its figures: grade, said, suspect, to_do, means, warnings.
nlohmann::json words_json(const Verdict& verdict);

}  // namespace firstdraw::prove
