// The diagnosis against closed forms: normal numbers that depend on each other, mutual information, and the
// current of a cable that is dead from some place on.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "hold/hold.hpp"
#include "plan/small_job.hpp"
#include "power/electrical.hpp"
#include "power/ladder.hpp"
#include "prove/forward.hpp"
#include "prove/gaussian.hpp"
#include "prove/information.hpp"
#include "prove/posterior.hpp"
#include "published.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

double log_normal(double x, double variance) {
  return -0.5 * std::log(2 * std::numbers::pi * variance) - 0.5 * x * x / variance;
}

// y = a z + b w + e, z, w standard normal, e of known variance: the textbook's linear Gaussian model. Its
// evidence is normal with variance a a' + b b' + R; what is left of a third number follows from the
// regression. Basis: computed by hand.
TEST(DiagnosisExact, LinearGaussianEvidenceAndPrediction) {
  std::vector<Outcome> outcomes(3);
  const double slopes[3][2] = {{2, 0.5}, {1, -1}, {0.5, 2}};
  for (std::size_t i = 0; i < 3; ++i) {
    outcomes[i].kind = Outcome::Kind::number;
    outcomes[i].mean = 10.0 * static_cast<double>(i + 1);
    outcomes[i].mean.g[batch_slot] = slopes[i][0];
    outcomes[i].mean.g[volts_slot] = slopes[i][1];
    outcomes[i].own_var = 0.3;
  }
  std::vector<Observation> seen(2);
  seen[0].value = 11.5;
  seen[1].value = 19.2;
  seen[0].error_var = 0.1;
  seen[1].error_var = 0.2;
  for (auto& one : seen) {
    one.low = 0;
    one.high = 50;
  }
  const double c11 = 2 * 2 + 0.5 * 0.5 + 0.4, c22 = 1 + 1 + 0.5, c12 = 2 * 1 - 0.5;
  const double det = c11 * c22 - c12 * c12, r1 = 1.5, r2 = -0.8;
  const double square = (c22 * r1 * r1 - 2 * c12 * r1 * r2 + c11 * r2 * r2) / det;
  const double both = -std::log(2 * std::numbers::pi) - 0.5 * std::log(det) - 0.5 * square;
  std::vector<std::size_t> taken;
  const Gaussian gaussian = numbers_of(seen, std::span(outcomes).first(2), taken);
  EXPECT_NEAR(gaussian.log_density(), both, 1e-12);
  EXPECT_NEAR(gaussian.log_density_without(0), log_normal(r2, c22), 1e-12);
  EXPECT_NEAR(gaussian.log_density_without(1), log_normal(r1, c11), 1e-12);
  const double with_slip = 0.98 * 0.98 * std::exp(both) +
                           0.02 * 0.98 / 50 * (std::exp(log_normal(r2, c22)) + std::exp(log_normal(r1, c11)));
  EXPECT_NEAR(log_likelihood(seen, std::span(outcomes).first(2)), std::log(with_slip), 1e-12);
  const double w1 = 2 * 0.5 + 0.5 * 2, w2 = 0.5 - 2;
  const double shift = (w1 * (c22 * r1 - c12 * r2) + w2 * (c11 * r2 - c12 * r1)) / det;
  const double explained = (w1 * w1 * c22 - 2 * w1 * w2 * c12 + w2 * w2 * c11) / det;
  const std::vector<double> with{covariance(outcomes[2], outcomes[0]), covariance(outcomes[2], outcomes[1])};
  const auto rest = gaussian.rest(with, 5);
  EXPECT_NEAR(rest.shift, shift, 1e-12);
  EXPECT_NEAR(rest.variance, 5 - explained, 1e-12);
}

// A number X of variance s^2 seen through noise of variance n^2: I = 1/2 log2(1 + s^2/n^2) (Cover and Thomas,
// Elements of Information Theory, Gaussian channel; basis: memory). X is given as 400 equally likely labels
// at the middles of its quantiles' ranges, which loses a little of its tails.
TEST(DiagnosisExact, InformationOfAGaussianChannel) {
  constexpr int labels = 400;
  for (const double noise : {2.0, 0.7, 0.25}) {
    std::vector<Forecast> forecasts;
    for (int i = 0; i < labels; ++i) {
      const double share = (i + 0.5) / labels;
      double low = -8, high = 8;
      for (int k = 0; k < 60; ++k)
        (normal_below(0.5 * (low + high)) < share ? low : high) = 0.5 * (low + high);
      forecasts.push_back({static_cast<std::size_t>(i), 1.0 / labels, low, noise * noise});
    }
    const double exact = 0.5 * std::log2(1 + 1 / (noise * noise));
    EXPECT_NEAR(information_bit(forecasts, labels, 4000), exact, 0.02 * exact) << noise;
  }
}

// Symmetric channel of yes and no that errs with probability p: 1 - H(p) bits (the same book; memory). And
// two places far apart: one bit; the same place: none.
TEST(DiagnosisExact, InformationOfYesAndNo) {
  const double p = 0.11, h = -p * std::log2(p) - (1 - p) * std::log2(1 - p);
  const std::vector<ForecastOfFew> channel{{0, 0.5, {1 - p, p}}, {1, 0.5, {p, 1 - p}}};
  EXPECT_NEAR(information_bit(channel, 2), 1 - h, 1e-12);
  const std::vector<Forecast> apart{{0, 0.5, 0, 1}, {1, 0.5, 100, 1}}, same{{0, 0.5, 3, 1}, {1, 0.5, 3, 1}};
  EXPECT_NEAR(information_bit(apart, 2), 1, 1e-6);
  EXPECT_NEAR(information_bit(same, 2), 0, 1e-12);
}

/// One run of a cable that is a constant conductance: the same output at any temperature, falling with the
/// square of the voltage.
job::Job straight_job(double watts_per_m, double volts, double loop_ohm_per_m, double length_m) {
  job::Job job = plan::small_job();
  job.panels[0].voltage_v = volts;
  job.panels[0].feeder_length_m = 0;
  physics::CableSheet sheet = plan::invented_sheet("flat", 1, 10);
  sheet.rated_voltage_v = volts;
  sheet.output.clear();
  for (const double pipe_c : {0.0, 40.0, 100.0}) sheet.output.push_back({pipe_c, watts_per_m});
  sheet.voltage.clear();
  for (double share = 0.5; share < 1.21; share += 0.02)
    sheet.voltage.push_back({share * volts, share * share});
  sheet.max_length = {{60, volts, 0, 500}};
  sheet.bus_loop_ohm_per_m = loop_ohm_per_m;
  job.cables = {sheet};
  job.runs.resize(2);
  job.runs[0].traced = false;
  job.runs[0].group.clear();
  job.runs[0].from = "heater";
  job.runs[0].to = "a";
  job.runs[1].length_m = length_m;
  job.supply.mixing_valve_node.clear();
  return job;
}

// I = V k/r tanh(k L), V_end = V/cosh(kL), k = sqrt(r p/V^2): lines of 100, 50, 120 and 60 m of the table,
// cut anywhere. The table's own rows are the uncut ones. One uniform outflow for a whole run is off by
// (kL)^4/45 = 5e-4 at kL 0.4. Basis: computed (closed form of the two-wire line).
TEST(DiagnosisExact, DeadLengthDrawsWhatTheClosedFormSays) {
  for (const auto& row : reference::published("ladder_closed_form").rows()) {
    const double volts = row.number("V0_V"), watts = row.number("p0_W_per_m_at_V0"),
                 length_m = row.number("L_m");
    if (length_m > 130) continue;  // longer ones fall by more than a circuit may
    const job::Job job = straight_job(watts, volts, row.number("r_loop_ohm_per_m"), length_m);
    plan::Options unsampled;
    unsampled.samples = 0;
    const plan::Plan plan = plan::make_plan(job, unsampled);
    ASSERT_EQ(plan.circuits.size(), 1U);
    Reading reading;
    reading.what = What::current;
    reading.circuit = plan.circuits[0].id;
    const Scope scope(job, plan, std::span(&reading, 1));
    const Forward forward(scope, {});
    const double whole_m = scope.circuits[0].stretches[0].length_m;
    for (const double share : {1.0, 0.7, 0.3, 0.05}) {
      Fault dead;
      dead.cause = Cause::dead_length;
      dead.level = Fault::Level::run;
      dead.place = 0;
      dead.value = share * whole_m;
      const Now now = forward.now(dead, {}, {}, {1});
      const double r =
          power::copper_resistance_at(row.number("r_loop_ohm_per_m"), now.runs[0].water_c.v + 10);
      const double k = std::sqrt(r * watts) / volts, kl = k * share * whole_m;
      const double feed_v = now.circuits[0].feed_v.v;
      EXPECT_NEAR(now.circuits[0].amps.v, feed_v * k / r * std::tanh(kl), 8e-4 * now.circuits[0].amps.v)
          << row.text("case") << " " << share;
      const power::LadderStretch alone{piping::none, share * whole_m, r, power::power_law(watts, volts, 2)};
      const auto exact = power::solve_ladder(std::span(&alone, 1), feed_v);
      EXPECT_NEAR(now.circuits[0].amps.v, exact.total_a, 8e-4 * exact.total_a);
    }
  }
}

}  // namespace
}  // namespace firstdraw::prove
