#include "week/schedule.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::week {
namespace {

constexpr double joules_a_kwh = 3.6e6;

/// Walks a settled trajectory; the cycle is taken twice where a count may run over its end.
class Inspector {
 public:
  Inspector(const GroupTask& task, const Days& days, const Trajectory& run)
      : task_(task), days_(days), run_(run), steps_(days.steps()) {}

  Breach temperatures() const {
    const TemperatureGrid& grid = task_.automaton.grid;
    for (int k = 0; k < steps_; ++k) {
      const double least_c = task_.needs.least_c[static_cast<std::size_t>(k)];
      if (coldest(k) < grid.at_or_above(least_c)) return {Breach::What::too_cold, k};
      if (set_point_c(k) > task_.needs.most_c + 1e-9) return {Breach::What::too_hot, k};
    }
    return {};
  }

  Breach band() const {
    if (!task_.needs.band) return {};
    int on_end = 0;
    for (int k = 0; k < 2 * steps_; ++k) {
      on_end = in_band(*task_.needs.band, k % steps_) ? on_end + 1 : 0;
      if (on_end > task_.needs.band->most_steps) return {Breach::What::band, k % steps_};
    }
    return {};
  }

  Breach hot_hold() const {
    if (!task_.needs.hot_hold) return {};
    int on_end = 0;
    for (int k = 0; k < steps_; ++k) {
      const bool hot = task_.automaton.grid.at_c(coldest(k)) >= task_.needs.hot_hold->at_least_c - 1e-9;
      if (k % days_.steps_a_day == 0) on_end = 0;
      on_end = hot ? on_end + 1 : 0;
      if (on_end >= task_.needs.hot_hold->steps) return {};
    }
    return {Breach::What::hot_hold, 0};
  }

  Breach controller() const {
    int changes = 0;
    for (int k = 0; k < steps_; ++k) {
      if (k % days_.steps_a_day == 0) changes = 0;
      if (set_point(k) == set_point(k - 1)) continue;
      if (k % days_.steps_a_day % task_.limits.begin_every_steps != 0) return {Breach::What::begin, k};
      if (++changes > task_.limits.most_changes_a_day) return {Breach::What::changes, k};
      if (std::abs(set_point_c(k) - set_point_c(k - 1)) < task_.limits.least_change_k - 1e-9)
        return {Breach::What::small_change, k};
    }
    return {};
  }

  Breach programs() const {
    std::vector<int> first_day(static_cast<std::size_t>(days_.programs()), -1);
    for (int day = 0; day < days_.days(); ++day) {
      int& first = first_day[static_cast<std::size_t>(days_.program_of_day[static_cast<std::size_t>(day)])];
      if (first < 0) first = day;
      for (int k = 0; k < days_.steps_a_day; ++k)
        if (set_point(first * days_.steps_a_day + k) != set_point(day * days_.steps_a_day + k))
          return {Breach::What::program, day * days_.steps_a_day + k};
    }
    return {};
  }

 private:
  int set_point(int k) const { return run_.set_point[static_cast<std::size_t>((k + steps_) % steps_)]; }
  double set_point_c(int k) const {
    return task_.automaton.set_points_c[static_cast<std::size_t>(set_point(k))];
  }
  int temperature(int k) const { return run_.temperature[static_cast<std::size_t>(k)]; }
  int coldest(int k) const { return std::min(temperature(k), temperature(k + 1)); }
  bool in_band(const GrowthBand& band, int k) const {
    const TemperatureGrid& grid = task_.automaton.grid;
    const int hottest = std::max(temperature(k), temperature(k + 1));
    return grid.at_c(coldest(k)) < band.high_c - 1e-9 && grid.at_c(hottest) > band.low_c + 1e-9;
  }

  const GroupTask& task_;
  const Days& days_;
  const Trajectory& run_;
  int steps_;
};

}  // namespace

int Days::programs() const {
  return program_of_day.empty() ? 0 : *std::ranges::max_element(program_of_day) + 1;
}

std::optional<Trajectory> settle(const Automaton& automaton, const std::vector<int>& set_points,
                                 int from_temperature) {
  Trajectory run{set_points, {}, {}};
  int begin = from_temperature;
  for (int cycle = 0; cycle <= automaton.grid.count; ++cycle) {
    run.temperature.assign(1, begin);
    run.power_w.clear();
    for (const int set_point : set_points) {
      const auto place = static_cast<std::size_t>(automaton.place(set_point, run.temperature.back()));
      if (automaton.to[place] < 0) return std::nullopt;
      run.temperature.push_back(automaton.to[place]);
      run.power_w.push_back(automaton.energy_j[place] / automaton.step_s);
    }
    if (run.temperature.back() == begin) return run;
    begin = run.temperature.back();
  }
  return std::nullopt;
}

Breach first_breach(const GroupTask& task, const Days& days, const Trajectory& trajectory) {
  const Inspector inspector(task, days, trajectory);
  for (const Breach& breach : {inspector.programs(), inspector.controller(), inspector.temperatures(),
                               inspector.band(), inspector.hot_hold()})
    if (breach.what != Breach::What::none) return breach;
  return {};
}

std::vector<SchedulePeriod> periods_of_day(const Automaton& automaton, const Days& days,
                                           const std::vector<int>& set_points, int day) {
  std::vector<SchedulePeriod> periods;
  const int begin = day * days.steps_a_day;
  for (int k = 0; k < days.steps_a_day; ++k) {
    const int step = begin + k, step_before = (step + days.steps() - 1) % days.steps();
    const int now = set_points[static_cast<std::size_t>(step)];
    const int before = set_points[static_cast<std::size_t>(step_before)];
    if (k == 0 || now != before)
      periods.push_back({k, automaton.set_points_c[static_cast<std::size_t>(now)], now == before});
  }
  return periods;
}

std::vector<double> replay(const ThermalLaw& law, const Automaton& automaton,
                           const std::vector<int>& set_points, double from_c) {
  std::vector<double> course_c;
  for (int cycle = 0; cycle < 100; ++cycle) {
    course_c.assign(1, from_c);
    for (const int set_point : set_points) {
      const double set_point_c = automaton.set_points_c[static_cast<std::size_t>(set_point)];
      course_c.push_back(follow(law, course_c.back(), set_point_c, automaton.step_s).end_c);
    }
    if (std::abs(course_c.back() - from_c) < 1e-6) break;
    from_c = course_c.back();
  }
  return course_c;
}

Cost cost_of(const Prices& prices, const std::vector<double>& power_w, double step_s,
             const std::vector<double>& other_load_w) {
  Cost cost;
  for (std::size_t k = 0; k < power_w.size(); ++k) {
    const double energy_kwh = power_w[k] * step_s / joules_a_kwh;
    cost.energy_kwh += energy_kwh;
    cost.energy += energy_kwh * prices.per_kwh[k];
  }
  for (const DemandPrice& demand : prices.demand) {
    double others_w = 0, all_w = 0;
    for (std::size_t k = 0; k < power_w.size(); ++k) {
      if (demand.in_window[k] == 0) continue;
      const double other_w = other_load_w.empty() ? 0 : other_load_w[k];
      others_w = std::max(others_w, other_w);
      all_w = std::max(all_w, other_w + power_w[k]);
    }
    cost.demand += demand.per_kw * (all_w - others_w) / 1000;
  }
  return cost;
}

}  // namespace firstdraw::week
