// A finding is the program's voice: the terminal prints it, the drawing marks it, the pack lists it.
#pragma once

#include <string>
#include <vector>

#include "rules/citation.hpp"

namespace firstdraw::plan {

enum class Severity { stop, fix, note };

struct Finding {
  std::string id;  // "hold-cold"; stable, documented in docs/findings.md
  Severity severity{};
  enum class PlaceKind { site, space, run, node, outlet, group, circuit, panel, cable } place_kind{};
  std::string place;  // id of the run, circuit…
  std::string file;   // where the user can change it, "" when nowhere in particular
  int line = 0;
  std::string what;  // one sentence of what is wrong, with the numbers
  std::string todo;  // one sentence of what to do
  rules::Citation citation;
  // Set when the user accepted it in job.toml.
  bool accepted = false;
  std::string accepted_reason, accepted_by, accepted_date;
};

std::string to_string(Severity severity);
std::string to_string(Finding::PlaceKind kind);

}  // namespace firstdraw::plan
