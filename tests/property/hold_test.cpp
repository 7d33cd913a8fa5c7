// What must hold for every building: balances close, more heat is never colder, numbering and threads do not
// matter, and sampled tolerances agree with a plain independent sampler.
#include "hold/hold.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <vector>

#include "hold/invented_building.hpp"

namespace firstdraw::hold {
namespace {

constexpr Mode all_modes[] = {Mode::sensor_at_maintain, Mode::sensor_at_setback, Mode::stuck_on,
                              Mode::entered_ambient, Mode::off};

double any_between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 10001) / 10000.0;
}

/// A building of up to 60 runs with its lengths, airs, settings and sensors stirred.
Building any_building() {
  Building building = invented_building(*rc::gen::inRange(1, 60));
  for (HeldRun& run : building.runs) {
    run.pipe_length_m = any_between(0.1, 40);
    run.loss_length_m = run.pipe_length_m * any_between(1, 1.6);
    run.passes = *rc::gen::inRange(1, 3);
    run.air.usual_c = any_between(-5, 30);
    run.air.low_c = run.air.usual_c - any_between(0, 10);
    run.air.high_c = run.air.usual_c + any_between(0, 10);
    run.space = *rc::gen::inRange(-1, 4);
  }
  for (auto& group : building.groups) {
    group.maintain_c = any_between(40, 65);
    group.setback_c = group.maintain_c - any_between(0, 8);
    group.hold_tolerance_k = any_between(0, 6);
    group.sensor_offset_k = any_between(-1, 3);
    group.entered_ambient_c = any_between(5, 30);
  }
  return building;
}

Conditions any_conditions() {
  Conditions conditions;
  conditions.air = *rc::gen::element(Conditions::Air::low, Conditions::Air::usual, Conditions::Air::high);
  conditions.voltage_frac = any_between(0.88, 1.12);
  conditions.cable_output_frac = any_between(0.5, 1.3);
  conditions.loss_frac = any_between(0.8, 1.4);
  conditions.air_shift_k = any_between(-5, 5);
  return conditions;
}

double air_of(const HeldRun& run, const Conditions& conditions) {
  const double air_c = conditions.air == Conditions::Air::low    ? run.air.low_c
                       : conditions.air == Conditions::Air::high ? run.air.high_c
                                                                 : run.air.usual_c;
  return air_c + conditions.air_shift_k;
}

TEST(HoldProperty, BalanceCloses) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    const Conditions conditions = any_conditions();
    const Mode mode = all_modes[*rc::gen::inRange(0, 5)];
    const State state = solve(building, mode, conditions);
    for (std::size_t r = 0; r < building.runs.size(); ++r) {
      const HeldRun& run = building.runs[r];
      const RunState& at = state.runs[r];
      RC_ASSERT(std::abs(at.power_w - at.loss_w) <= 1e-9 * at.loss_w);
      // Both sides anew, from what they are made of.
      const auto& group = building.groups[static_cast<std::size_t>(run.group)];
      const double loss_w = run.loss.loss_w_per_m(at.water_c, air_of(run, conditions)) * run.loss_length_m;
      RC_ASSERT(std::abs(loss_w * conditions.loss_frac - at.loss_w) <= 1e-9 * at.loss_w);
      const double full_w_per_m = building.cables[static_cast<std::size_t>(run.cable)].power_w_per_m(
          at.water_c, group.voltage_v * conditions.voltage_frac);
      const double power_w = state.groups[static_cast<std::size_t>(run.group)].duty * full_w_per_m *
                             run.passes * run.derating_frac * conditions.cable_output_frac *
                             run.pipe_length_m;
      RC_ASSERT(std::abs(power_w - at.power_w) <= 1e-12 * at.power_w);
    }
  }));
}

TEST(HoldProperty, HotterSetPointNeverCoolsARun) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    Building hotter = building;
    for (auto& group : hotter.groups) group.maintain_c += any_between(0, 6);
    const Conditions conditions = any_conditions();
    for (const Mode mode : {Mode::sensor_at_maintain, Mode::entered_ambient}) {
      const State before = solve(building, mode, conditions), after = solve(hotter, mode, conditions);
      for (std::size_t r = 0; r < building.runs.size(); ++r) {
        RC_ASSERT(after.runs[r].water_c >= before.runs[r].water_c - 1e-9);
      }
    }
  }));
}

TEST(HoldProperty, WarmerAirAndMoreVoltageNeverCoolARunThatIsStuckOn) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    Conditions more = any_conditions();
    const State before = solve(building, Mode::stuck_on, more);
    more.air_shift_k += any_between(0, 5);
    more.voltage_frac *= any_between(1, 1.05);
    const State after = solve(building, Mode::stuck_on, more);
    for (std::size_t r = 0; r < building.runs.size(); ++r) {
      RC_ASSERT(after.runs[r].water_c >= before.runs[r].water_c - 1e-9);
    }
  }));
}

TEST(HoldProperty, TwiceAsLongABuildingTakesTwiceThePower) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    Building longer = building;
    for (HeldRun& run : longer.runs) {
      run.pipe_length_m *= 2;
      run.loss_length_m *= 2;
    }
    const Mode mode = all_modes[*rc::gen::inRange(0, 5)];
    const State once = solve(building, mode, {}), twice = solve(longer, mode, {});
    for (std::size_t g = 0; g < building.groups.size(); ++g) {
      RC_ASSERT(std::abs(twice.groups[g].power_w - 2 * once.groups[g].power_w) <=
                1e-12 * once.groups[g].power_w);
    }
    for (std::size_t r = 0; r < building.runs.size(); ++r)
      RC_ASSERT(twice.runs[r].water_c == once.runs[r].water_c);
  }));
}

/// The same building with its runs in another order: place[r] is where run r went.
Building renumbered(const Building& building, const std::vector<int>& place) {
  Building other = building;
  for (std::size_t r = 0; r < place.size(); ++r) {
    const auto to = static_cast<std::size_t>(place[r]);
    other.runs[to] = building.runs[r];
    other.runs[to].job_run = place[r];
  }
  for (auto& group : other.groups) {
    if (group.sensor >= 0) group.sensor = place[static_cast<std::size_t>(group.sensor)];
  }
  return other;
}

TEST(HoldProperty, RenumberingRunsChangesNothing) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    std::vector<int> place(building.runs.size());
    std::iota(place.begin(), place.end(), 0);
    std::shuffle(place.begin(), place.end(), std::mt19937(*rc::gen::inRange(0U, 1000U)));
    const Building other = renumbered(building, place);
    const State a = solve(building, Mode::sensor_at_maintain, {}),
                b = solve(other, Mode::sensor_at_maintain, {});
    const Uncertainty ua = uncertainty(building, {}, 60, 5), ub = uncertainty(other, {}, 60, 5);
    // Open-loop duties are sums over runs, whose order moves the last bits.
    for (std::size_t r = 0; r < place.size(); ++r) {
      const auto to = static_cast<std::size_t>(place[r]);
      RC_ASSERT(std::abs(a.runs[r].water_c - b.runs[to].water_c) < 1e-9);
      RC_ASSERT(std::abs(ua.water_c[r].p5 - ub.water_c[to].p5) < 1e-6);
      RC_ASSERT(std::abs(ua.water_c[r].p95 - ub.water_c[to].p95) < 1e-6);
      RC_ASSERT(ua.holds_prob[r] == ub.holds_prob[to]);
      RC_ASSERT(ua.first_to_fail_prob[r] == ub.first_to_fail_prob[to]);
    }
    RC_ASSERT(ua.all_hold_prob == ub.all_hold_prob);
  }));
}

/// Nothing left to chance: airs, voltages and data sheets without spread.
Building certain(Building building) {
  for (HeldRun& run : building.runs) run.air = {run.air.usual_c, run.air.usual_c, run.air.usual_c};
  for (auto& group : building.groups) group.low_frac = group.high_frac = 1;
  for (auto& cable : building.cables) {
    physics::CableSheet sheet = cable.sheet();
    sheet.output_tolerance_frac = 0;
    cable = physics::HeatingCable(sheet);
  }
  return building;
}

TEST(HoldProperty, WithoutTolerancesEverySampleIsNominal) {
  EXPECT_TRUE(rc::check([] {
    const Building building = certain(any_building());
    const State state = solve(building, Mode::sensor_at_maintain, {});
    const Uncertainty u = uncertainty(building, {.insulation_frac = 0, .sensor_k = 0}, 5, 1);
    for (std::size_t r = 0; r < building.runs.size(); ++r) {
      RC_ASSERT(std::abs(u.water_c[r].p5 - state.runs[r].water_c) < 1e-3);
      RC_ASSERT(u.water_c[r].p5 == u.water_c[r].p95);
      RC_ASSERT(u.holds_prob[r] == 0 || u.holds_prob[r] == 1);
    }
  }));
}

TEST(HoldProperty, QuantilesAreInOrderAndChancesAreChances) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    const Uncertainty u = uncertainty(building, {}, *rc::gen::inRange(1, 80), *rc::gen::inRange(0U, 1000U));
    double first_to_fail = u.all_hold_prob;
    for (std::size_t r = 0; r < building.runs.size(); ++r) {
      RC_ASSERT(u.water_c[r].p5 <= u.water_c[r].p50);
      RC_ASSERT(u.water_c[r].p50 <= u.water_c[r].p95);
      RC_ASSERT(u.holds_prob[r] >= u.all_hold_prob);
      RC_ASSERT(u.holds_prob[r] <= 1);
      first_to_fail += u.first_to_fail_prob[r];
    }
    RC_ASSERT(std::abs(first_to_fail - 1) < 1e-9);
  }));
}

TEST(HoldProperty, WarmUpGrowsWithTargetAndCapacity) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    const HeldRun& run = building.runs.front();
    const auto& cable = building.cables[static_cast<std::size_t>(run.cable)];
    const double start_c = any_between(0, 20), target_c = start_c + any_between(0, 45);
    const double capacity = any_between(300, 9000);
    const auto taken_s = [&](double held, double to_c) {
      return warm_up(run, cable, held, start_c, to_c, run.air.usual_c, 208).to_maintain_s;
    };
    const double once_s = taken_s(capacity, target_c);
    RC_ASSERT(once_s >= 0);
    RC_ASSERT(taken_s(capacity, target_c + any_between(0, 3)) >= once_s);
    RC_ASSERT(std::isinf(once_s) || std::abs(taken_s(2 * capacity, target_c) - 2 * once_s) <= 1e-6 * once_s);
  }));
}

// The two ways of asking how hot a run gets must agree: in time and at rest.
TEST(HoldProperty, WarmUpReachesWhatStuckOnSettlesAtAndNoMore) {
  EXPECT_TRUE(rc::check([] {
    const Building building = any_building();
    const State state = solve(building, Mode::stuck_on, {});
    for (std::size_t r = 0; r < building.runs.size(); ++r) {
      const HeldRun& run = building.runs[r];
      const auto& cable = building.cables[static_cast<std::size_t>(run.cable)];
      const double air_c = run.air.usual_c, end_c = state.runs[r].water_c;
      RC_ASSERT(std::isfinite(warm_up(run, cable, 1500, air_c, end_c - 1e-3, air_c, 208).to_maintain_s));
      RC_ASSERT(std::isinf(warm_up(run, cable, 1500, air_c, end_c + 1e-3, air_c, 208).to_maintain_s));
    }
  }));
}

/// One group of eight runs in two spaces, rebuilt with its tolerances drawn: plain, and slow.
class PlainSampler {
 public:
  explicit PlainSampler(const Tolerances& tolerances) : tolerances_(tolerances) {
    building = invented_building(8);
    building.groups[0].hold_tolerance_k = 4;
    for (std::size_t r = 0; r < building.runs.size(); ++r) {
      HeldRun& run = building.runs[r];
      const InventedKind& kind = kinds_[r % kinds_.size()];
      run.loss = kind.loss;
      run.derating_frac = kind.derating_frac;
      run.space = static_cast<int>(r % 2);
      run.air = run.space == 0 ? job::AirTemperatures{12, 20, 25} : job::AirTemperatures{18, 22, 30};
    }
  }

  State draw() {
    Building drawn = building;
    const double space_z[] = {normal(), normal()};
    for (std::size_t r = 0; r < drawn.runs.size(); ++r) {
      HeldRun& run = drawn.runs[r];
      const double z = space_z[run.space];
      const auto& air = building.runs[r].air;
      run.air.usual_c += 0.5 * z * (z < 0 ? air.usual_c - air.low_c : air.high_c - air.usual_c);
      auto section = kinds_[r % kinds_.size()].section;
      section.layers[0].conductivity_factor = 1 + 0.5 * tolerances_.insulation_frac * normal();
      run.loss = LossCurve(section, {});
    }
    drawn.groups[0].sensor_offset_k += 0.5 * tolerances_.sensor_k * normal();
    const double batch = 1 + 0.5 * building.cables[0].sheet().output_tolerance_frac * normal();
    const double z = normal();
    const auto& group = building.groups[0];
    const double voltage = 1 + 0.5 * z * (z < 0 ? 1 - group.low_frac : group.high_frac - 1);
    return solve(drawn, Mode::sensor_at_maintain, {.voltage_frac = voltage, .cable_output_frac = batch});
  }

  Building building;

 private:
  double normal() { return normal_(engine_); }

  Tolerances tolerances_;
  std::vector<InventedKind> kinds_ = invented_kinds();
  std::mt19937_64 engine_{20};
  std::normal_distribution<double> normal_;
};

/// Standard error of the p-quantile of sorted values, with the density taken from its neighbourhood.
double quantile_error(const std::vector<double>& sorted, double p) {
  const auto at = [&](double share) {
    return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size()))];
  };
  const double density = 0.04 / (at(p + 0.02) - at(p - 0.02));
  return std::sqrt(p * (1 - p) / static_cast<double>(sorted.size())) / density;
}

// Seeds are fixed, so this either agrees or does not: 4 standard errors of the plain sampler, plus its 1e-3
// K.
void expect_agreement(PlainSampler& plain, const Tolerances& tolerances) {
  constexpr int draws = 6000;
  const std::size_t runs = plain.building.runs.size();
  std::vector<std::vector<double>> water_c(runs);
  std::vector<double> worst(runs, 0);
  int all_hold = 0;
  for (int i = 0; i < draws; ++i) {
    const State state = plain.draw();
    double least_c = 1e9;
    std::size_t coldest = 0;
    for (std::size_t r = 0; r < runs; ++r) {
      water_c[r].push_back(state.runs[r].water_c);
      if (state.runs[r].water_c >= least_c) continue;
      least_c = state.runs[r].water_c;
      coldest = r;
    }
    least_c >= plain.building.groups[0].maintain_c - plain.building.groups[0].hold_tolerance_k
        ? ++all_hold
        : ++worst[coldest];
  }
  const Uncertainty u = uncertainty(plain.building, tolerances, 20000, 1, 2);
  const auto share_error = [](double p) { return 4 * std::sqrt(std::max(p * (1 - p), 1e-3) / draws); };
  for (std::size_t r = 0; r < runs; ++r) {
    std::ranges::sort(water_c[r]);
    const auto& sorted = water_c[r];
    const std::pair<double, double> quantiles[] = {
        {0.05, u.water_c[r].p5}, {0.5, u.water_c[r].p50}, {0.95, u.water_c[r].p95}};
    for (const auto& [p, got_c] : quantiles) {
      EXPECT_NEAR(got_c, sorted[static_cast<std::size_t>(p * draws)], 4 * quantile_error(sorted, p) + 1e-3)
          << r << " " << p;
    }
    EXPECT_NEAR(u.first_to_fail_prob[r], worst[r] / draws, share_error(u.first_to_fail_prob[r])) << r;
  }
  EXPECT_NEAR(u.all_hold_prob, static_cast<double>(all_hold) / draws, share_error(u.all_hold_prob));
  EXPECT_GT(u.all_hold_prob, 0.05);  // a case in which there is something to tell apart
  EXPECT_LT(u.all_hold_prob, 0.95);
}

constexpr Tolerances sampled{.insulation_frac = 0.2, .sensor_k = 1.5};

TEST(HoldSampling, AgreesWithAPlainIndependentSampler) {
  PlainSampler plain(sampled);
  expect_agreement(plain, sampled);
}

// A sensor makes up for batch and voltage; without one they show.
TEST(HoldSampling, AgreesWithoutASensorToo) {
  PlainSampler plain(sampled);
  plain.building.groups[0].sensor = -1;
  plain.building.groups[0].entered_ambient_c = 19;
  plain.building.groups[0].low_frac = 0.86;
  plain.building.groups[0].high_frac = 1.08;
  expect_agreement(plain, sampled);
}

}  // namespace
}  // namespace firstdraw::hold
