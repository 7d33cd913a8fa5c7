// Weeks of the steady model that were searched before and answer another question too: the very same one, or
// one that asks more and is kept all the same. Part of why_not.cpp.
#pragma once

#include <optional>
#include <vector>

#include "settings/cheapest.hpp"

namespace firstdraw::settings {

/// Everything that the answer of search_week without raising depends on, the options apart.
struct SteadyTask {
  week::WeekTask task;
  int most_set_points = 1;
};

/// The same numbers.
bool same(const SteadyTask& a, const SteadyTask& b);

/// `easier` asks no more than `harder` of every group, and is alike else: what bounds its cost bounds that of
/// `harder`.
bool asks_no_more(const SteadyTask& easier, const SteadyTask& harder);

/// Whether a week found for another task keeps what this one asks.
bool keeps(const SteadyTask& task, const CheapestWeek& found);

class KnownWeeks {
 public:
  void add(SteadyTask task, CheapestWeek week);
  /// The week found for the same task; else for one that asks no more and whose week keeps this one's rules:
  /// nothing costs less than the bound of that one, so that its gap is the gap here. Null: not known.
  const CheapestWeek* find(const SteadyTask& task) const;

 private:
  struct Known {
    SteadyTask task;
    CheapestWeek week;
  };
  std::vector<Known> known_;
};

}  // namespace firstdraw::settings
