// Which measurement would tell most for the work it takes. docs/diagnosis.md, section 5.
#pragma once

#include <vector>

#include "prove/posterior.hpp"

namespace firstdraw::prove {

/// Minutes and manner of one kind of measurement, from data/measurement_work.csv.
struct Work {
  double minutes = 0, minutes_per_m = 0;  // per metre: of the circuit's pipes
  std::string how;
  bool live = false;  // at parts under voltage
};
const Work* work_of(What what);

/// What a proposal would show under one cause: middle and the range of nine in ten.
struct Shown {
  std::size_t cause = 0;  // index into Posterior.hypotheses
  double low = 0, usual = 0, high = 0;
  double yes_prob = 0;
  int sheet = -1;
  bool lost = false;
};

struct Measure {
  Observable of;
  double minutes = 0, information_bit = 0;
  bool about_place = false;  // the cause is as good as known: what is asked for is where
  std::vector<Shown> shown;  // leading causes, likeliest first
};

/// Most information per minute first, at most `count`; those that tell less than a hundredth of a bit are
/// left out.
std::vector<Measure> measures(const Forward& forward, const Posterior& known,
                              std::span<const Observation> all, int count);

}  // namespace firstdraw::prove
