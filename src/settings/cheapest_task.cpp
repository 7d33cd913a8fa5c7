#include "settings/cheapest_task.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "settings/week_changes.hpp"

namespace firstdraw::settings {
namespace {

constexpr double inf = std::numeric_limits<double>::infinity();
constexpr double same_frac = 1e-3;    // of the controller's step
constexpr double ahead_k[] = {3, 7};  // above the highest demand: to heat ahead of dear hours
constexpr std::size_t most_levels = 4;
constexpr double a_fahrenheit_k = 1 / 1.8;

std::string shown(const job::Job& job, double c) {
  return units::show(c, units::Kind::temperature, job.units);
}

/// Least water of the sensor's run for one temperature of all runs.
double for_all_runs(const GroupModel& model, double least_c) {
  return set_point_for(model, std::vector<double>(model.runs.size(), least_c));
}

/// What the runs ask in a step.
std::vector<double> asked_in(const GroupModel& model, const GroupNeeds& needs, std::size_t step) {
  std::vector<double> asked_c;
  for (std::size_t run = 0; run < model.runs.size(); ++run)
    asked_c.push_back(std::max(needs.comfort_c[run * needs.steps + step], needs.always_c));
  return asked_c;
}

/// Set-points that keep what the runs ask, by step.
std::vector<double> least_by_step(const GroupModel& model, const GroupNeeds& needs) {
  std::map<std::vector<double>, double> known;
  std::vector<double> least_c;
  for (std::size_t step = 0; step < needs.steps; ++step) {
    const std::vector<double> asked_c = asked_in(model, needs, step);
    const bool any = std::ranges::any_of(asked_c, [](double c) { return c > -inf; });
    const auto [at, fresh] = known.try_emplace(asked_c, -inf);
    if (fresh && any) at->second = std::max(set_point_for(model, asked_c), model.least_settable_c);
    least_c.push_back(at->second);
  }
  return least_c;
}

/// The highest set-point with no run above what it may be, usual losses.
double highest_allowed_c(const GroupModel& model, const KeyedIn& keys, double most_c) {
  double set_c = keys.at_or_below(model.most_settable_c);
  while (std::isfinite(most_c) && set_c > model.least_settable_c &&
         std::ranges::max(held_c(model, set_c, false)) > most_c + 1e-6)
    set_c -= keys.step_k;
  return set_c;
}

double air_c(const week::ThermalLaw& law) {
  double low_c = -40, high_c = 110;
  while (high_c - low_c > 1e-3) {
    const double middle_c = (low_c + high_c) / 2;
    (law.cooling_k_per_s(middle_c) > 0 ? high_c : low_c) = middle_c;
  }
  return low_c;
}

/// Where the sensor's run lies under a set-point, at rest. Without a thermostat it creeps there, and stops up
/// to a step of the grid below.
double at_rest_c(const GroupModel& model, double set_c, double grid_k) {
  if (!model.open_loop || !std::isfinite(set_c)) return set_c;
  return held_c(model, set_c, false)[static_cast<std::size_t>(model.sensor)] - grid_k;
}

/// Levels that the steps ask, rounded to what can be keyed in: the lowest, the highest, and between them
/// those that lie furthest apart.
std::vector<double> levels_c(const std::vector<double>& set_least_c, const KeyedIn& keys) {
  std::set<double> all;
  for (const double c : set_least_c)
    if (c > -inf) all.insert(keys.at_or_above(c));
  if (all.empty()) return {};
  std::vector<double> kept = {*all.begin(), *all.rbegin()};
  const auto apart = [&](double c) {
    double least_k = inf;
    for (const double other : kept) least_k = std::min(least_k, std::abs(c - other));
    return least_k;
  };
  while (kept.size() < most_levels) {
    const double furthest = *std::ranges::max_element(all, {}, apart);
    if (!(apart(furthest) > 1.5 * keys.step_k)) break;
    kept.push_back(furthest);
  }
  return kept;
}

/// Between the lowest and the highest temperature of interest, so that set-points lie on it.
week::TemperatureGrid grid_of(const GroupModel& model, const KeyedIn& keys, const week::Needs& asked,
                              double highest_c, double grid_k) {
  const double parts = std::max(1.0, std::round(keys.step_k / grid_k));
  const double least_c = std::ranges::min(asked.least_c);
  const double lowest_c = least_c > -inf ? least_c : air_c(law_of(model)) - 0.5;
  week::TemperatureGrid grid{keys.at_or_below(lowest_c - 2 * keys.step_k / parts), keys.step_k / parts, 0};
  grid.count = static_cast<int>(std::ceil((highest_c - grid.lowest_c) / grid.step_k)) + 3;
  return grid;
}

/// Steps between the moments at which a period may begin.
int begin_every(const job::ControllerLimits& controller, double step_s) {
  for (int steps = 1; steps * step_s <= a_day_s; ++steps) {
    const double clock_steps = steps * step_s / controller.clock_step_s;
    if (std::abs(clock_steps - std::round(clock_steps)) < 1e-6 && std::round(clock_steps) >= 1) return steps;
  }
  return 1;
}

week::ControllerLimits limits_of(const job::ControllerLimits& controller, double step_s) {
  const bool clock = controller.clock != job::ControllerLimits::Clock::none;
  return {clock ? controller.periods_a_day : 0, begin_every(controller, step_s), controller.least_setback_k};
}

template <class Value>
std::vector<Value> rows(const std::vector<Value>& all, const std::vector<int>& kept, std::size_t count) {
  std::vector<Value> made;
  for (const int i : kept) {
    const auto begin = all.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(i) * count);
    made.insert(made.end(), begin, begin + static_cast<std::ptrdiff_t>(count));
  }
  return made;
}

}  // namespace

double KeyedIn::at_or_above(double c) const {
  return first_c + step_k * std::ceil((c - first_c) / step_k - same_frac);
}

double KeyedIn::at_or_below(double c) const {
  return first_c + step_k * std::floor((c - first_c) / step_k + same_frac);
}

KeyedIn keyed_in(const job::Job& job, const GroupModel& model) {
  const double zero_c = job.units == units::System::us ? -32 * a_fahrenheit_k : 0;
  return {zero_c - model.sensor_offset_k, job.controller.step_k};
}

namespace {

/// Finds the set-points that demands take; the first that there is none for is kept in words.
class Asking {
 public:
  Asking(const job::Job& job, const GroupModel& model, const GroupNeeds& needs, const SearchOptions& options)
      : job_(job), model_(model), needs_(needs), options_(options), keys_(keyed_in(job, model)) {
    asked_.needs.most_c = highest_allowed_c(model, keys_, needs.most_c);
  }

  std::expected<SensorNeeds, std::string> answer() {
    by_step();
    hot_hold();
    band();
    if (!unmet_.empty()) return std::unexpected(unmet_);
    return std::move(asked_);
  }

 private:
  void judge(double set_c, const std::string& what) {
    if (unmet_.empty() && keys_.at_or_above(set_c) > asked_.needs.most_c + 1e-9)
      unmet_ = fmt::format("group {}: {}, which takes more than the highest set-point there is, {} ({})",
                           model_.id, what, shown(job_, asked_.needs.most_c + model_.sensor_offset_k),
                           model_.most_because);
  }

  double rest_c(double set_c) const { return at_rest_c(model_, set_c, options_.grid_k); }

  void by_step() {
    if (needs_.always_c > -inf)
      judge(for_all_runs(model_, needs_.always_c),
            fmt::format("every run must be at {} at all times", shown(job_, needs_.always_c)));
    asked_.set_least_c = least_by_step(model_, needs_);
    if (!needs_.comfort_c.empty())
      judge(std::ranges::max(asked_.set_least_c),
            fmt::format("comfort asks up to {}", shown(job_, std::ranges::max(needs_.comfort_c))));
    std::map<double, double> known;
    for (const double set_c : asked_.set_least_c) {
      const auto [at, fresh] = known.try_emplace(set_c, set_c);
      if (fresh) at->second = rest_c(set_c);
      asked_.needs.least_c.push_back(at->second);
    }
  }

  void hot_hold() {
    if (!needs_.hot_hold) return;
    asked_.set_hot_c = for_all_runs(model_, needs_.hot_hold->at_least_c);
    judge(*asked_.set_hot_c,
          fmt::format("the hot hold asks {} of every run", shown(job_, needs_.hot_hold->at_least_c)));
    asked_.needs.hot_hold = week::HotHold{rest_c(*asked_.set_hot_c), needs_.hot_hold->steps};
  }

  /// Only where the group may fall below its top at all.
  void band() {
    if (!std::isfinite(needs_.most_below_s)) return;
    asked_.set_band_c = for_all_runs(model_, needs_.below_c);
    judge(*asked_.set_band_c, fmt::format("every run must come back to {}", shown(job_, needs_.below_c)));
    const double high_c = rest_c(*asked_.set_band_c);
    const int most_steps = static_cast<int>(std::floor(needs_.most_below_s / options_.step_s + 1e-6));
    if (std::ranges::min(asked_.needs.least_c) < high_c)
      asked_.needs.band = week::GrowthBand{-inf, high_c, std::max(0, most_steps)};
    if (asked_.needs.hot_hold && asked_.needs.band)
      asked_.needs.hot_hold->at_least_c = std::max(asked_.needs.hot_hold->at_least_c, high_c);
  }

  const job::Job& job_;
  const GroupModel& model_;
  const GroupNeeds& needs_;
  const SearchOptions& options_;
  KeyedIn keys_;
  SensorNeeds asked_;
  std::string unmet_;
};

}  // namespace

std::expected<SensorNeeds, std::string> sensor_needs(const job::Job& job, const GroupModel& model,
                                                     const GroupNeeds& needs, const SearchOptions& options) {
  return Asking(job, model, needs, options).answer();
}

std::vector<double> candidates_c(const job::Job& job, const GroupModel& model, const SensorNeeds& asked) {
  const KeyedIn keys = keyed_in(job, model);
  const double lowest_c = keys.at_or_above(model.least_settable_c);
  std::vector<double> all = levels_c(asked.set_least_c, keys);
  if (asked.needs.band) all.push_back(keys.at_or_above(*asked.set_band_c));
  const double highest_c = all.empty() ? lowest_c : std::ranges::max(all);
  for (const double k : ahead_k) all.push_back(keys.at_or_above(highest_c + k));
  if (asked.set_hot_c) all.push_back(keys.at_or_above(*asked.set_hot_c));
  if (std::ranges::min(asked.set_least_c) == -inf) all.push_back(lowest_c);
  for (double& c : all) c = std::min(std::max(c, lowest_c), std::max(asked.needs.most_c, lowest_c));
  if (job.controller.off && job.controller.clock != job::ControllerLimits::Clock::none)
    all.push_back(week::cable_off_c);
  std::ranges::sort(all);
  const auto same = [](double a, double b) { return a == b || std::abs(a - b) < 1e-6; };
  all.erase(std::ranges::unique(all, same).begin(), all.end());
  return all;
}

week::GroupTask group_task(const job::Job& job, const GroupModel& model, const SensorNeeds& asked,
                           std::vector<double> set_points_c, const SearchOptions& options) {
  const double highest_c =
      std::max(set_points_c.back(), at_rest_c(model, set_points_c.back(), -options.grid_k));
  const week::TemperatureGrid grid =
      grid_of(model, keyed_in(job, model), asked.needs, highest_c, options.grid_k);
  const week::ThermalLaw law = law_of(model);
  const week::ControllerLimits limits = limits_of(job.controller, options.step_s);
  if (!model.open_loop)
    return {week::reduce(law, grid, options.step_s, std::move(set_points_c)), asked.needs, limits};
  std::vector<double> duties;
  for (const double c : set_points_c) duties.push_back(c == week::cable_off_c ? 0 : duty_at(model, c));
  return {week::reduce_open_loop(law, grid, options.step_s, std::move(set_points_c), duties), asked.needs,
          limits};
}

week::Days days_of(const job::Job& job, double step_s) {
  using Programs = job::ControllerLimits::Programs;
  week::Days days{static_cast<int>(std::lround(a_day_s / step_s)), {0, 0, 0, 0, 0, 0, 0}};
  if (job.controller.clock == job::ControllerLimits::Clock::none) return days;
  if (job.controller.programs == Programs::workdays_weekend) days.program_of_day = {0, 0, 0, 0, 0, 1, 1};
  if (job.controller.programs == Programs::each_day) days.program_of_day = {0, 1, 2, 3, 4, 5, 6};
  return days;
}

week::Prices prices_by_step(const SeasonOfYear& season, double step_s) {
  const auto steps = static_cast<std::size_t>(std::lround(a_week_s / step_s));
  const std::size_t given = season.prices.per_kwh.size();
  if (given == steps) return season.prices;
  week::Prices prices;
  const auto first = [&](std::size_t k) { return k * given / steps; };
  const auto last = [&](std::size_t k) { return std::max(first(k) + 1, (k + 1) * given / steps); };
  for (std::size_t k = 0; k < steps; ++k) {
    double sum = 0;
    for (std::size_t i = first(k); i < last(k); ++i) sum += season.prices.per_kwh[i];
    prices.per_kwh.push_back(sum / static_cast<double>(last(k) - first(k)));
  }
  for (const week::DemandPrice& demand : season.prices.demand) {
    week::DemandPrice& made = prices.demand.emplace_back(week::DemandPrice{demand.per_kw, {}});
    for (std::size_t k = 0; k < steps; ++k) {
      const auto begin = demand.in_window.begin();
      made.in_window.push_back(std::any_of(begin + static_cast<std::ptrdiff_t>(first(k)),
                                           begin + static_cast<std::ptrdiff_t>(last(k)),
                                           [](char in) { return in != 0; })
                                   ? 1
                                   : 0);
    }
  }
  return prices;
}

week::GroupTask only_set_points(const week::GroupTask& task, const std::vector<int>& kept) {
  const week::Automaton& all = task.automaton;
  const auto count = static_cast<std::size_t>(all.grid.count);
  week::Automaton made{all.grid, all.step_s, {}, {}, {}, {}};
  for (const int i : kept) made.set_points_c.push_back(all.set_points_c[static_cast<std::size_t>(i)]);
  made.to = rows(all.to, kept, count);
  made.energy_j = rows(all.energy_j, kept, count);
  made.end_c = rows(all.end_c, kept, count);
  return {std::move(made), task.needs, task.limits};
}

}  // namespace firstdraw::settings
