// What is wrong with something the user gave, and where. All of them are collected before giving up.
#pragma once

#include <expected>
#include <string>
#include <vector>

namespace firstdraw::job {

struct Diagnostic {
  std::string file;     // as the user would type it, relative to the job folder
  int line = 0;         // 1-based; 0: the whole file
  int column = 0;       // 1-based; 0: the whole line
  std::string field;    // "run R12 · size", "group.guest.maintain"
  std::string message;  // what is wrong and what was expected
  std::string hint;     // nearest known name or what to do; may be empty

  /// "runs.csv:12:8: size: no copper L pipe of size \"1-1/3 in\" (did you mean 1-1/4?)"
  std::string text() const;
};

template <class T>
using Result = std::expected<T, std::vector<Diagnostic>>;

}  // namespace firstdraw::job
