#include "watch/schedule_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "plan/decide.hpp"
#include "units/quantity.hpp"
#include "watch/log_grid.hpp"
#include "watch/programmed.hpp"
#include "watch/run_model.hpp"
#include "week/calendar.hpp"

namespace firstdraw::watch {
namespace {

// From when a log is taken to tell something: our choices, no source.
constexpr double coarsest_s = 3600, fewest_days = 2, set_point_alike_k = 0.6;
constexpr double least_swing_k = 2.0, least_contrast = 0.2;
constexpr double most_off_set_point_c = 30;  // what a controller that is off may show
constexpr std::int64_t day_ms = 86'400'000, slot_ms = std::int64_t{1000} * slot_s;

struct Piece {
  std::int64_t from_ms = 0, to_ms = 0;
};

/// The logged time cut where the local clock changes.
std::vector<Piece> pieces_of(const week::Zone& zone, std::int64_t from_ms, std::int64_t to_ms) {
  std::vector<Piece> pieces;
  while (from_ms < to_ms) {
    const std::int64_t change_ms = 1000 * week::next_change_unix_s(zone, from_ms / 1000);
    const std::int64_t end_ms = std::min(to_ms, std::max(change_ms, from_ms + 1000));
    pieces.push_back({from_ms, end_ms});
    from_ms = end_ms;
  }
  return pieces;
}

std::vector<store::Sample> within(const std::vector<store::Sample>& samples, const Piece& piece) {
  std::vector<store::Sample> some;
  for (const store::Sample& sample : samples)
    if (sample.at_ms >= piece.from_ms && sample.at_ms < piece.to_ms) some.push_back(sample);
  return some;
}

/// How well a log fits the programmed week at every shift.
struct Fit {
  BestShift best;
  double agrees_frac = 0, agrees_best_frac = 0;
  bool told = false;
  std::string why_not;
};

std::size_t wrapped(int slot) { return static_cast<std::size_t>(((slot % slots) + slots) % slots); }

/// Time by slot of the week in which a logged set-point is one of the programmed ones.
Fit fit_set_point(const week::Zone& zone, const std::vector<double>& week,
                  const std::vector<store::Sample>& samples) {
  std::vector<double> levels(week);
  std::ranges::sort(levels);
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  std::vector<std::vector<double>> like(levels.size(), std::vector<double>(slots, 0));
  const double interval_s = usual_interval_s(samples);
  double total = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    // A set-point may be logged at its changes only: it stands until the next one, at most a day.
    const std::int64_t until = i + 1 < samples.size()
                                   ? std::min(samples[i + 1].at_ms, samples[i].at_ms + day_ms)
                                   : samples[i].at_ms + static_cast<std::int64_t>(1000 * interval_s);
    for (std::int64_t at = samples[i].at_ms; at < until; at += slot_ms) {
      if (at / 1000 >= zone.to_unix_s) break;
      const double part = static_cast<double>(std::min<std::int64_t>(until - at, slot_ms)) / 1000;
      const auto slot = wrapped(slot_of(zone, at));
      for (std::size_t l = 0; l < levels.size(); ++l) {
        const bool same = levels[l] == off_c ? samples[i].value < most_off_set_point_c
                                             : std::abs(samples[i].value - levels[l]) < set_point_alike_k;
        if (same) like[l][slot] += part;
      }
      total += part;
    }
  }
  std::vector<std::size_t> level_of(slots);
  for (std::size_t s = 0; s < slots; ++s)
    level_of[s] = static_cast<std::size_t>(std::ranges::lower_bound(levels, week[s]) - levels.begin());
  std::vector<double> cost(slots);
  for (int shift = 0; shift < slots; ++shift) {
    double same = 0;
    for (int s = 0; s < slots; ++s) same += like[level_of[wrapped(s + shift)]][static_cast<std::size_t>(s)];
    cost[static_cast<std::size_t>(shift)] = 1 - same / total;
  }
  Fit fit;
  fit.best = best_shift(cost, 0.004);
  fit.agrees_frac = 1 - fit.best.cost_at_zero;
  fit.agrees_best_frac = 1 - fit.best.cost;
  fit.told = true;
  // No shift makes it fit: then no clock explains it.
  if (fit.best.usual_cost - fit.best.cost < 0.02) fit.best.shift = 0;
  return fit;
}

/// Medians by slot over the weeks of a log; NaN where nothing was logged.
std::vector<double> slot_medians(const week::Zone& zone, const std::vector<store::Sample>& samples,
                                 bool mean) {
  std::vector<std::vector<double>> values(slots);
  for (const store::Sample& sample : samples)
    if (sample.at_ms / 1000 < zone.to_unix_s)
      values[wrapped(slot_of(zone, sample.at_ms))].push_back(sample.value);
  std::vector<double> middle(slots, std::numeric_limits<double>::quiet_NaN());
  for (std::size_t s = 0; s < slots; ++s) {
    if (values[s].empty()) continue;
    const auto at = values[s].begin() + static_cast<std::ptrdiff_t>(values[s].size() / 2);
    std::ranges::nth_element(values[s], at);
    middle[s] = *at;
    if (!mean) continue;
    double sum = 0;
    for (const double value : values[s]) sum += value;
    middle[s] = sum / static_cast<double>(values[s].size());
  }
  return middle;
}

struct Seen {
  std::vector<double> reading_c, on_frac;
};

Fit fit_sensor(const Seen& seen, const HeldWeek& expected, bool with_on) {
  const auto [low, high] = std::ranges::minmax_element(expected.reading_c);
  const double swing_k = *high - *low, cap_k = std::max(1.0, 0.5 * swing_k);
  Fit fit;
  if (swing_k < least_swing_k) {
    fit.why_not = "The set-points are so near each other that the sensor's reading does not show them.";
    return fit;
  }
  std::vector<double> cost(slots);
  double agrees = 0, agrees_best = 0, count = 0;
  const auto one = [&](int shift, double* within) {
    double sum = 0, weight = 0;
    for (int s = 0; s < slots; ++s) {
      const double reading = seen.reading_c[static_cast<std::size_t>(s)];
      if (std::isnan(reading)) continue;
      const double off_k = std::abs(reading - expected.reading_c[wrapped(s + shift)]);
      double miss = std::min(off_k, cap_k) / cap_k;
      const double on = with_on ? seen.on_frac[static_cast<std::size_t>(s)] : std::nan("");
      if (!std::isnan(on))
        miss = 0.7 * miss + 0.3 * std::min(1.0, std::abs(on - expected.on_frac[wrapped(s + shift)]));
      sum += miss;
      weight += 1;
      if (within != nullptr && off_k < cap_k) *within += 1;
    }
    count = weight;
    return weight > 0 ? sum / weight : 1.0;
  };
  for (int shift = 0; shift < slots; ++shift) cost[static_cast<std::size_t>(shift)] = one(shift, nullptr);
  fit.best = best_shift(cost, 0.003);
  one(0, &agrees);
  one(fit.best.shift, &agrees_best);
  fit.agrees_frac = agrees / count;
  fit.agrees_best_frac = agrees_best / count;
  fit.told =
      fit.best.usual_cost > 0 && (fit.best.usual_cost - fit.best.cost) / fit.best.usual_cost > least_contrast;
  if (!fit.told) fit.why_not = "Draws hide the set-backs in the sensor's reading: log the set-point.";
  return fit;
}

std::string duration(double s) {
  return units::show(std::abs(s), units::Kind::duration, units::System::metric);
}

void say_clock(const ClockShift& clock, bool changed_with_season, ScheduleCheck& check) {
  if (clock.days != 0)
    check.said.push_back(fmt::format("The controller's weekday is {} {} {}.", std::abs(clock.days),
                                     std::abs(clock.days) == 1 ? "day" : "days",
                                     clock.days > 0 ? "ahead" : "behind"));
  if (clock.clock_s == 0) return;
  check.said.push_back(fmt::format("The controller's clock is {} {}.", duration(clock.clock_s),
                                   clock.clock_s > 0 ? "fast" : "slow"));
  if (changed_with_season)
    check.said.push_back("It did not follow the change of daylight saving time.");
  else if (std::abs(std::abs(clock.clock_s) - 3600) < 2 * slot_s)
    check.said.push_back("One hour: see whether it follows daylight saving time.");
}

/// What is asked of one group, and its series.
struct Asked {
  const job::Job& job;
  const plan::Plan& plan;
  const week::Zone& zone;
  int group = 0;
  GroupSeries series;
  std::vector<double> week;
  HeldWeek held{};

  const std::vector<store::Sample>& main_samples() const {
    return series.set_point ? series.set_point->samples : series.sensor->samples;
  }
  std::optional<Fit> fit(const Piece& piece) const {
    const auto samples = within(main_samples(), piece);
    if (samples.empty() ||
        static_cast<double>(samples.back().at_ms - samples.front().at_ms) < fewest_days * day_ms)
      return {};
    if (series.set_point) return fit_set_point(zone, week, samples);
    Seen seen{slot_medians(zone, samples, false), {}};
    if (series.on) seen.on_frac = slot_medians(zone, within(on_samples(*series.on), piece), true);
    return fit_sensor(seen, held, series.on != nullptr);
  }
};

ScheduleCheck untold(const std::string& group, std::string why) {
  ScheduleCheck check;
  check.group = group;
  check.said.push_back(std::move(why));
  return check;
}

/// Every stretch between changes of the clock by itself; the last one is what the controller does now.
ScheduleCheck judge(const Asked& asked) {
  const std::string& id = asked.job.groups[static_cast<std::size_t>(asked.group)].id;
  const auto& samples = asked.main_samples();
  const std::int64_t from_ms = std::max(samples.front().at_ms, 1000 * asked.zone.from_unix_s);
  const std::int64_t to_ms = std::min(samples.back().at_ms + 1, 1000 * asked.zone.to_unix_s);
  std::optional<Fit> before, last;
  double agrees = 0, weight = 0;
  for (const Piece& piece : pieces_of(asked.zone, from_ms, to_ms)) {
    const auto fit = asked.fit(piece);
    if (!fit) continue;
    const auto length = static_cast<double>(piece.to_ms - piece.from_ms);
    agrees += length * fit->agrees_frac;
    weight += length;
    before = std::exchange(last, fit);
  }
  if (!last) return untold(id, "Less than two days were logged: too little to compare with a week.");
  ScheduleCheck check;
  check.group = id;
  check.agrees_frac = agrees / weight;
  check.told = last->told;
  if (!last->told) {
    check.said.push_back(last->why_not);
    return check;
  }
  const ClockShift clock = as_clock(last->best.shift);
  check.clock_off_s = clock.clock_s;
  check.weekday_off = clock.days;
  const bool by_season =
      before && before->told &&
      std::abs(std::abs(last->best.shift - before->best.shift) * slot_s - 3600) < 2 * slot_s;
  say_clock(clock, by_season, check);
  if (clock.days == 0 && clock.clock_s == 0)
    check.said.push_back(
        fmt::format("{:.0f} % of the logged time is as programmed.", 100 * check.agrees_frac));
  else
    check.said.push_back(
        fmt::format("{:.0f} % of the logged time is as programmed, {:.0f} % with that clock.",
                    100 * check.agrees_frac, 100 * last->agrees_best_frac));
  if (asked.series.set_point && last->agrees_best_frac < 0.9)
    check.said.push_back("No error of the clock explains the rest: other set-points or times are keyed in.");
  return check;
}

ScheduleCheck check_group(const job::Job& job, const plan::Plan& plan, int group, const GroupSeries& series,
                          const week::Zone& zone) {
  const job::ControlGroup& of = job.groups[static_cast<std::size_t>(group)];
  Asked asked{job, plan, zone, group, series, programmed_week(job, of)};
  const auto& samples = asked.main_samples();
  const bool constant = std::ranges::all_of(asked.week, [&](double c) { return c == asked.week.front(); });
  if (constant && !series.set_point)
    return untold(of.id, "One set-point all week: there is nothing to tell a clock by.");
  if (!series.set_point && usual_interval_s(samples) > coarsest_s)
    return untold(of.id, "A reading an hour or more apart does not show when set-points change.");
  if (!series.set_point) {
    const int run = plan::sensor_run_of(job, group);
    if (run < 0 || plan.runs.at(static_cast<std::size_t>(run)).cable < 0)
      return untold(of.id, "The group has no sensor on a heated run: log its set-point.");
    asked.held = held_week(run_design(job, plan, group, run), asked.week, slot_s,
                           of.differential_k > 0 ? of.differential_k : 1.0);
  }
  ScheduleCheck check = judge(asked);
  if (constant && check.told) {  // a logged set-point against one that never changes tells no clock
    check.clock_off_s = check.weekday_off = 0;
    check.said = {
        fmt::format("{:.0f} % of the logged set-points are the one programmed.", 100 * check.agrees_frac)};
  }
  return check;
}

}  // namespace

std::vector<ScheduleCheck> check_schedule(const job::Job& job, const plan::Plan& plan, const Logged& logged,
                                          const week::Zone& zone) {
  std::vector<ScheduleCheck> all;
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    const GroupSeries series = group_series(job, plan, static_cast<int>(g), logged);
    const LoggedSeries* main = series.set_point ? series.set_point : series.sensor;
    if (main == nullptr || main->samples.size() < 2) continue;
    if (main->samples.back().at_ms < 1000 * zone.from_unix_s ||
        main->samples.front().at_ms >= 1000 * zone.to_unix_s)
      continue;
    all.push_back(check_group(job, plan, static_cast<int>(g), series, zone));
  }
  return all;
}

}  // namespace firstdraw::watch
