// The answer of `firstdraw tests` as text: verdicts, what is still due, and what moves.
#pragma once

#include <string_view>

#include "cli/page.hpp"
#include "prove/field_tests.hpp"

namespace firstdraw::cli {

/// `from`: "readings.csv", "the records of riverside". `due_only`: what is due and what answers it, nothing
/// else.
void add_answer(Page& page, const prove::FieldTests& tests, std::string_view from, bool due_only);

}  // namespace firstdraw::cli
