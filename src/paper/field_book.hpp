// What was measured and recorded on site, for the pack: filled test sheets, the commissioning summary, the
// records with their chain.
#pragma once

#include <cstdint>
#include <vector>

#include "prove/verdict.hpp"
#include "store/store.hpp"
#include "watch/evidence.hpp"

namespace firstdraw::paper {

struct FieldBook {
  std::vector<prove::Reading> readings;
  std::vector<std::int64_t> record_of;   // like readings: number of the record that holds it
  std::vector<prove::Verdict> verdicts;  // like readings
  std::vector<prove::Due> due;           // by circuit and stage
  std::vector<prove::Trend> trends;
  std::vector<plan::Finding> findings;  // of readings that did not pass and of what moves
  std::vector<store::Record> records;   // all of the book, by number; corrected ones too
  store::Verification chain;
};

}  // namespace firstdraw::paper
