// Is this reading right? An expectation with a tolerance that has reasons, and a verdict.
// docs/field-tests.md.
//
// A pass is no permit: local codes, the authority having jurisdiction, licensed practice and the cable
// maker's instructions decide.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "prove/reading.hpp"
#include "rules/citation.hpp"

namespace firstdraw::prove {

enum class Grade { pass, doubt, fail };
std::string_view name_of(Grade grade);

/// What the reading should be. Infinity where there is no such limit, NaN where nothing is expected.
struct Expected {
  double least = -std::numeric_limits<double>::infinity(), most = std::numeric_limits<double>::infinity();
  double usual = std::numeric_limits<double>::quiet_NaN();  // what the model says
  /// What widened the band, one sentence each: data sheet ±10 %, clamp meter ±2 %, plastic pipe…
  std::vector<std::string> because{};
};

/// Pass: inside the band (for one-sided limits: beyond the limit even with the instrument's error against
/// it). Doubt: the instrument's or the model's uncertainty reaches over the limit. Fail: outside with all of
/// it counted.
struct Verdict {
  std::size_t reading = 0;  // index into what was judged
  Grade grade{};
  Expected expected{};
  double corrected =
      std::numeric_limits<double>::quiet_NaN();  // at 20 degC, of the whole length…; NaN: as read
  std::string said;     // one sentence: what it is against what it should be, in the job's units
  std::string suspect;  // empty on a pass
  std::string to_do;    // empty on a pass
  /// "length 98.2 m", "water side 47 °C": what the reading means, where it means something else.
  std::string means{};
  std::vector<std::string> assumed{}, warnings{};  // calibration overdue, no serial, test voltage below…
  std::vector<rules::Citation> sources{};
};

/// One verdict a reading, in order.
std::vector<Verdict> judge(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings);

/// What a test of a stage asks of one place, and whether it is there.
struct Due {
  Stage stage{};
  std::string test;  // id of rules::field_tests
  std::string name, circuit;
  std::optional<std::size_t> reading{};  // the latest that answers it; none: still to do
  std::optional<Grade> grade{};
  bool looked_at = false;  // labels, marking…: no reading answers it
};
/// Every test of every stage for every circuit, in the order of work; tests that are only looked at (labels,
/// marking) have no reading and no grade.
std::vector<Due> due_tests(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings,
                           std::span<const Verdict> verdicts);

/// A row for every reading that the due tests ask for, without value: what a technician fills in. A group's
/// sensor comes once, whatever circuits the group has.
std::vector<Reading> sheet_rows(const job::Job& job, const plan::Plan& plan);

/// A reading that moves although each one passes: insulation resistance falling from stage to stage, current
/// at like temperature falling over the years, capacitance length that changed (common to none of them: what
/// the tolerances explain).
struct Trend {
  What what{};
  std::string circuit;
  std::vector<std::size_t> readings;  // by time, then stage
  double change_frac = 0;             // last against first, corrected to like conditions
  std::string said, suspect, to_do;
};
std::vector<Trend> trends(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings,
                          std::span<const Verdict> verdicts);

/// Failures, doubts and trends as findings (ids "test-…", "trend-…"; see plan/finding_catalogue.cpp).
std::vector<plan::Finding> findings(const job::Job& job, std::span<const Reading> readings,
                                    std::span<const Verdict> verdicts, std::span<const Trend> trends);

}  // namespace firstdraw::prove
