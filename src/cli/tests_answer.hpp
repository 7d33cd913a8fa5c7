// The answer of `firstdraw tests`: verdicts, what is still due, and what moves.
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "cli/page.hpp"
#include "job/job.hpp"
#include "prove/verdict.hpp"

namespace firstdraw::cli {

struct TestsAnswer {
  std::vector<prove::Reading> readings{};
  std::vector<prove::Verdict> verdicts{};
  std::vector<prove::Due> due{};
  std::vector<prove::Trend> trends{};
  std::vector<plan::Finding> findings{};
  std::string from{};  // "readings.csv", "the records of riverside"
};
TestsAnswer tests_answer(const job::Job& job, const plan::Plan& plan, std::vector<prove::Reading> readings);

/// `due_only`: what is due and what answers it, nothing else.
void add_answer(Page& page, const job::Job& job, const TestsAnswer& answer, bool due_only);

/// schemas/tests.schema.json.
nlohmann::json to_json(const TestsAnswer& answer);

/// Whether a reading fails and nobody accepted that.
bool has_failed(const TestsAnswer& answer);

}  // namespace firstdraw::cli
