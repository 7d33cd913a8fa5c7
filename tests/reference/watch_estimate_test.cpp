// What the logs of simulated buildings are said to tell, against what was planted in them. Source: the room
// draw with planted truth (computed).
#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>

#include "watch/estimate.hpp"
#include "watch_log.hpp"

namespace firstdraw::reference {
namespace {

PlantedLog planted_case(int index) {
  constexpr double insulation[] = {1.0, 1.5, 3.0}, cable[] = {1.0, 0.85, 0.7}, air[] = {0, -5, 5, 2};
  constexpr double noise[] = {0.1, 0.2, 0.35, 0.5};
  PlantedLog planted;
  planted.insulation_factor = insulation[index % 3];
  planted.cable_factor = cable[(index / 3) % 3];
  planted.air_shift_k = air[(index / 9) % 4];
  planted.noise_k = noise[(index + index / 4) % 4];
  planted.rounded_k = index % 2 ? 0.1 : 0.5;
  planted.air_logged = index % 5 == 1;
  planted.on_logged = index % 4 != 3;
  planted.night_setback = index % 7 != 0;
  planted.seed = 100 + static_cast<std::uint64_t>(index);
  return planted;
}

struct Coverage {
  int told = 0, inside = 0, all = 0, all_inside = 0;
  double worst = 0;
  void add(const watch::Estimated& e, double truth) {
    const bool covers = e.low <= truth && truth <= e.high;
    ++all;
    all_inside += covers;
    if (!e.known) return;
    ++told;
    inside += covers;
    worst = std::max(worst, std::abs(e.usual / truth - 1));
  }
};

/// 90 % intervals of what is told (what is not told keeps the figures assumed before, and the air planted 5 K
/// off lies just outside of those): of n, at least as many must cover as a rate of 0.9 reaches in 99.9 % of
/// the trials.
int least_of(int n) { return static_cast<int>(0.9 * n - 3.1 * std::sqrt(n * 0.09)); }

// Twenty logs in two tests that run side by side: both must cover, which is about as much to ask as of all
// twenty together. FIRSTDRAW_WATCH_CASES=60 runs more and prints each: docs/logs-estimates.md has what was
// measured.
class WatchEstimate : public testing::TestWithParam<int> {};

TEST_P(WatchEstimate, IntervalsCoverWhatWasPlanted) {
  const char* asked = std::getenv("FIRSTDRAW_WATCH_CASES");
  const int cases = (asked ? std::atoi(asked) : 20) / 2, first = GetParam() * cases;
  const forecast::Planned steady = watched_building(false), nightly = watched_building(true);
  Coverage conductance, air, cable;
  int refused = 0;
  for (int i = first; i < first + cases; ++i) {
    const PlantedLog planted = planted_case(i);
    const forecast::Planned& building = planted.night_setback ? nightly : steady;
    const LogOf log = log_of(building, planted);
    const auto all = watch::estimate(building.job, building.plan, log.logged);
    ASSERT_EQ(all.size(), 1u);
    const watch::GroupEstimate& one = all[0];
    if (asked)
      std::cout << i << " k " << planted.insulation_factor << " air " << planted.air_shift_k << " cable "
                << planted.cable_factor << " noise " << planted.noise_k << " on " << planted.on_logged
                << " night " << planted.night_setback << " | U " << log.conductance_frac << " in "
                << one.conductance_frac.low << ' ' << one.conductance_frac.usual << ' '
                << one.conductance_frac.high << ' ' << one.conductance_frac.known << " | air " << log.air_c
                << " in " << one.air_c.low << ' ' << one.air_c.usual << ' ' << one.air_c.high << ' '
                << one.air_c.known << " | p " << log.cable_frac << " in " << one.cable_frac.low << ' '
                << one.cable_frac.usual << ' ' << one.cable_frac.high << ' ' << one.cable_frac.known
                << " | rms " << one.residual_k << " n " << one.used << '\n';
    // A noisy saw-tooth does not tell when the cable was on, and the answer says so.
    if (one.used == 0 && !planted.on_logged) {
      EXPECT_EQ(one.warnings.size(), 1u);
      ++refused;
      continue;
    }
    ASSERT_GT(one.used, 0) << i << ": " << (one.warnings.empty() ? "" : one.warnings[0]);
    conductance.add(one.conductance_frac, log.conductance_frac);
    air.add(one.air_c, log.air_c);
    cable.add(one.cable_frac, log.cable_frac);
  }
  const auto report = [&](const char* name, const Coverage& c) {
    std::cout << name << ": told in " << c.told << " of " << c.all << ", covered " << c.inside
              << " of those and " << c.all_inside << " of all; worst told figure off by " << 100 * c.worst
              << " %\n";
    EXPECT_GE(c.inside, least_of(c.told)) << name;
  };
  report("conductance", conductance);
  report("air", air);
  report("cable", cable);
  std::cout << "refused: " << refused << '\n';
  EXPECT_GT(conductance.told, cases / 2);
  EXPECT_GT(cable.told, cases / 2);
}
INSTANTIATE_TEST_SUITE_P(Halves, WatchEstimate, testing::Values(0, 1));

}  // namespace
}  // namespace firstdraw::reference
