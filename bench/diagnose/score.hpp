// What came of each visit, added up into the tables of docs/validation.md.
#pragma once

#include <array>
#include <iosfwd>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "truth.hpp"

namespace firstdraw::bench {

inline constexpr std::size_t most_measurements = 6;

struct Visit {
  Planted planted;
  std::optional<prove::Cause> second{};
  prove::Diagnosis last;                            // after the last measurement
  std::vector<prove::Diagnosis> each;               // after the complaint and after each measurement
  std::size_t until_right = most_measurements + 1;  // measurements until the cause stood first with even odds
  std::size_t until_right_by_checklist = most_measurements + 1;
  std::string measured{};  // for the log
  prove::Cause checklist_top{};
  double minutes = 0, seconds = 0;  // of work; of computing, each diagnosis
  bool place_right = false;
  double location_error_m = 0, size_error = 0;  // NaN where it does not apply
  bool inside = false;                          // the truth lies between 5 % and 95 %

  bool is_planted(prove::Cause cause) const { return cause == planted.cause || cause == second; }
};

struct Score {
  int jobs = 0;
  double top1 = 0, top3 = 0, first_top1 = 0, first_top3 = 0, checklist_top1 = 0;
  double brier = 0, log_loss = 0;
  double measurements = 0, by_checklist = 0;
  double settled = 0, settled_right = 0;
  double inside = 0;
};
Score print(const std::vector<Visit>& visits, std::ostream& out);
/// Visits with two things wrong.
void print_two(const std::vector<Visit>& visits, std::ostream& out);

}  // namespace firstdraw::bench
