// How long a hygiene guideline lets pipes stand colder than the temperature it asks of them.
#pragma once

#include <string_view>

#include "rules/citation.hpp"

namespace firstdraw::rules {

struct Holding {
  double colder_h_per_day = 0;  // longest time in a day; 0: hot at all times
  bool given = false;           // false: the document gives no hours, "at all times" is our reading
  Citation citation;
};

/// data/rules_hygiene_hours.csv. "none" and guidelines that give no hours come back with 0 and
/// "common practice, no source". Throws std::logic_error, naming the nearest known one, for an id that is no
/// guideline.
Holding holding(std::string_view guideline);

}  // namespace firstdraw::rules
