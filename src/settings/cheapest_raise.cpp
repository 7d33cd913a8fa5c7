#include "settings/cheapest_raise.hpp"

#include <algorithm>
#include <cmath>

#include "settings/standing_demand.hpp"

namespace firstdraw::settings {
namespace {

constexpr double inf = std::numeric_limits<double>::infinity();
constexpr double tolerance_k = 0.05;  // of what is called missed

std::vector<std::size_t> runs_that_count(const GroupModel& model) {
  std::vector<std::size_t> runs;
  for (std::size_t r = 0; r < model.runs.size(); ++r)
    if (model.runs[r].job_run >= 0 &&
        std::ranges::find(model.hopeless, model.runs[r].id) == model.hopeless.end())
      runs.push_back(r);
  return runs;
}

double asked_c(const GroupNeeds& needs, std::size_t run, std::size_t step) {
  return std::max(needs.comfort_c[run * needs.steps + step], needs.always_c);
}

/// A thin run falls ahead of the sensor's run whenever a set-point falls, and no set-point helps that. Where
/// it is as seldom as the proof allows, "at all times" is kept.
bool seldom_below_always(const GroupNeeds& needs, const Lived& lived, std::size_t run) {
  std::size_t below = 0;
  for (std::size_t step = 0; step < needs.steps; ++step)
    if (lived.weak_c(run, step) < needs.always_c - tolerance_k) ++below;
  return static_cast<double>(below) <= seldom_frac * static_cast<double>(needs.steps);
}

/// Kelvins that a run lacks, by step; -infinity where nothing is asked.
std::vector<double> missing_k(const GroupNeeds& needs, const Lived& lived, std::size_t run) {
  const bool forgiven = seldom_below_always(needs, lived, run);
  std::vector<double> missing;
  for (std::size_t step = 0; step < needs.steps; ++step) {
    const double asked = forgiven ? needs.comfort_c[run * needs.steps + step] : asked_c(needs, run, step);
    missing.push_back(asked > -inf ? asked - lived.weak_c(run, step) : -inf);
  }
  return missing;
}

/// How far the hot hold of a run falls short in its best stretch of a day.
double hot_short_k(const GroupNeeds& needs, const Lived& lived, std::size_t run, int steps_a_day) {
  const auto hold = static_cast<std::size_t>(needs.hot_hold->steps);
  const auto day = static_cast<std::size_t>(steps_a_day);
  double least_k = inf;
  for (std::size_t from = 0; from + hold <= needs.steps; ++from) {
    if (from % day + hold > day) continue;
    double lowest_c = inf;
    for (std::size_t step = from; step < from + hold; ++step)
      lowest_c = std::min(lowest_c, lived.weak_c(run, step));
    least_k = std::min(least_k, needs.hot_hold->at_least_c - lowest_c);
  }
  return least_k;
}

/// Steps on end below the top of the band, of the week that repeats itself.
std::size_t longest_below(const GroupNeeds& needs, const Lived& lived, std::size_t run) {
  std::size_t longest = 0, now = 0;
  for (std::size_t i = 0; i < 2 * needs.steps; ++i) {
    now = lived.weak_c(run, i % needs.steps) < needs.below_c - tolerance_k ? now + 1 : 0;
    longest = std::max(longest, now);
  }
  return std::min(longest, needs.steps);
}

std::size_t most_below(const GroupNeeds& needs, int steps_a_day) {
  if (!std::isfinite(needs.most_below_s)) return needs.steps;
  const auto most = static_cast<std::size_t>(needs.most_below_s * steps_a_day / 86400 + 1e-6);
  return std::min(most, needs.steps);
}

/// Kelvins that the longest stay too many lies below the band: the step in its middle.
double band_short_k(const GroupNeeds& needs, const Lived& lived, std::size_t run) {
  double lowest_c = inf;
  for (std::size_t step = 0; step < needs.steps; ++step)
    lowest_c = std::min(lowest_c, lived.weak_c(run, step));
  return needs.below_c - lowest_c;
}

/// What kelvins of a run are in kelvins of the sensor's run, at rest about what the run should have.
double in_sensor_k(const GroupModel& model, std::size_t run, double from_c, double by_k) {
  std::vector<double> asked(model.runs.size(), -inf);
  asked[run] = from_c;
  const double low_c = set_point_for(model, asked);
  asked[run] = from_c + by_k;
  const double high_c = set_point_for(model, asked);
  return std::isfinite(high_c - low_c) && high_c > low_c ? high_c - low_c : by_k;
}

class Raising {
 public:
  Raising(const Lag& lag, const week::Trajectory& run, const Lived& lived, int round, week::Needs& asked)
      : lag_(lag), run_(run), lived_(lived), earlier_(1 << std::min(round, 4)), asked_(asked) {}

  void all() {
    const std::vector<double> before_c = asked_.least_c;
    for (const std::size_t run : runs_that_count(lag_.model)) {
      episodes(run);
      band(run);
    }
    hot_hold();
    for (double& c : asked_.least_c) c = std::min(c, highest_c());
    for (std::size_t k = 0; k < before_c.size(); ++k)
      asked_.least_c[k] = std::max(asked_.least_c[k], before_c[k]);
  }

 private:
  std::size_t steps() const { return asked_.least_c.size(); }
  std::size_t before(std::size_t k) const { return (k + steps() - 1) % steps(); }
  double highest_c() const { return lag_.automaton.set_points_c.back(); }

  double sensor_c(std::size_t k) const {
    return lag_.automaton.grid.at_c(std::min(run_.temperature[k], run_.temperature[k + 1]));
  }

  bool misses(std::size_t k) const { return missing_k_[k] > tolerance_k; }

  /// Every stretch of steps in which the run misses.
  void episodes(std::size_t run) {
    missing_k_ = missing_k(lag_.needs, lived_, run);
    for (std::size_t k = 0; k < steps(); ++k)
      if (misses(k) && !misses(before(k))) episode(run, k);
  }

  void episode(std::size_t run, std::size_t first) {
    const bool falls = run_.temperature[first + 1] < run_.temperature[first] ||
                       run_.temperature[first] < run_.temperature[before(first)];
    if (!falls && begin_earlier(first)) return;
    for (std::size_t n = 0, k = first; n < steps() && misses(k); ++n, k = (k + 1) % steps()) {
      const double short_k = missing_k_[k];
      const double more_k = in_sensor_k(lag_.model, run, asked_c(lag_.needs, run, k) - short_k, short_k);
      raise_to(k, sensor_c(k) + std::max(more_k, lag_.automaton.grid.step_k));
    }
  }

  void raise_to(std::size_t k, double c) { asked_.least_c[k] = std::max(asked_.least_c[k], c); }

  /// The level of the step is asked from some steps before the stretch that already asks it. False: it has
  /// been asked for half a day.
  bool begin_earlier(std::size_t k) {
    const double level_c = asked_.least_c[k];
    std::size_t from = k;
    int asked_for = 0;
    while (asked_for < lag_.steps_a_day / 2 && asked_.least_c[before(from)] >= level_c) {
      from = before(from);
      ++asked_for;
    }
    if (asked_for >= lag_.steps_a_day / 2) return false;
    for (int n = 0; n < earlier_; ++n) {
      from = before(from);
      raise_to(from, level_c);
    }
    return true;
  }

  void band(std::size_t run) {
    if (!asked_.band) return;
    const std::size_t now = longest_below(lag_.needs, lived_, run),
                      most = most_below(lag_.needs, lag_.steps_a_day);
    if (now <= most) return;
    const int fewer = static_cast<int>(now - most);
    asked_.band->most_steps =
        std::min(asked_.band->most_steps, std::max(0, lag_.rest.band->most_steps - fewer));
    std::size_t stay = 0;
    for (std::size_t i = 0; i < 2 * steps(); ++i) {
      const std::size_t k = i % steps();
      const double short_k = lag_.needs.below_c - lived_.weak_c(run, k);
      stay = short_k > tolerance_k ? stay + 1 : 0;
      if (stay == most + 1) come_back(run, k, short_k);
    }
  }

  /// By the step: the sensor's run is warmer by what the run lacks, for as long before as rounds have passed.
  void come_back(std::size_t run, std::size_t k, double short_k) {
    const double more_k = in_sensor_k(lag_.model, run, lag_.needs.below_c - short_k, short_k);
    for (int n = 0; n <= earlier_; ++n, k = before(k)) raise_to(k, sensor_c(k) + more_k);
  }

  void hot_hold() {
    if (!asked_.hot_hold) return;
    double short_k = 0;
    for (const std::size_t run : runs_that_count(lag_.model))
      short_k = std::max(short_k, hot_short_k(lag_.needs, lived_, run, lag_.steps_a_day));
    if (short_k <= tolerance_k) return;
    asked_.hot_hold->steps = std::min(asked_.hot_hold->steps + earlier_, lag_.steps_a_day - 1);
  }

  const Lag& lag_;
  const week::Trajectory& run_;
  const Lived& lived_;
  int earlier_;
  week::Needs& asked_;
  std::vector<double> missing_k_;  // of the run looked at, by step
};

void keep_worse(Miss& worst, double by_k, const std::string& run, const char* what) {
  if (by_k <= std::max(worst.by_k, tolerance_k)) return;
  worst = {by_k, run, what};
}

}  // namespace

Miss worst_miss(const GroupModel& model, const GroupNeeds& needs, const Lived& lived, int steps_a_day) {
  Miss worst;
  for (const std::size_t run : runs_that_count(model)) {
    const std::string& id = model.runs[run].id;
    for (const double by_k : missing_k(needs, lived, run)) keep_worse(worst, by_k, id, "temperature");
    if (longest_below(needs, lived, run) > most_below(needs, steps_a_day))
      keep_worse(worst, band_short_k(needs, lived, run), id, "growth band");
    if (needs.hot_hold) keep_worse(worst, hot_short_k(needs, lived, run, steps_a_day), id, "hot hold");
  }
  return worst;
}

void raise(const Lag& lag, const week::Trajectory& run, const Lived& lived, int round, week::Needs& asked) {
  Raising(lag, run, lived, round, asked).all();
}

void ask_flat(const Lag& lag, week::Needs& asked) {
  const double level_c = std::ranges::max(lag.rest.least_c);
  for (double& c : asked.least_c) c = std::max(c, level_c);
  if (!asked.band) return;
  asked.band->most_steps = 0;
  for (double& c : asked.least_c) c = std::max(c, asked.band->high_c);
}

}  // namespace firstdraw::settings
