// Where the high-temperature cut-out stands: above what ordinary weeks read, below what pipe, insulation and
// cable bear.
#pragma once

#include <string>

#include "settings/ordinary_year.hpp"

namespace firstdraw::settings {

struct CutOut {
  double limit_c = 0;  // NaN: none
  std::string because;
};
/// The job's own where it has one, else the lowest that ordinary weeks leave alone; where materials leave no
/// room between the two, what they bear.
CutOut cut_out(const job::Job& job, const plan::Plan& plan, int group, const OrdinaryGroup& ordinary);

}  // namespace firstdraw::settings
