// Where a requirement stands. Every rule the program applies carries one; reports print it.
#pragma once

#include <string>

namespace firstdraw::rules {

struct Citation {
  std::string document;  // "NFPA 70 (NEC)", "ASHRAE 90.1"
  std::string edition;   // "2023"
  std::string clause;    // "427.22", "Table 6.8.3-1"
  std::string basis;     // "read", "memory", "computed", "common practice, no source"

  std::string text() const;  // "NFPA 70 (NEC) 2023, 427.22"
};

}  // namespace firstdraw::rules
