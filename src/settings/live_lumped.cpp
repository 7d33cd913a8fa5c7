// A week of set-points lived through run by run. The thermostat sees only the sensor's run: what it does is
// worked out first, as stretches of constant duty; then every run goes through them on its own.
#include <algorithm>
#include <cmath>

#include "settings/lump.hpp"

namespace firstdraw::settings {
namespace {

constexpr double same_c = 1e-9;     // at the set-point, as in week::follow
constexpr double settled_k = 1e-4;  // a week ends as it began
constexpr int most_weeks = 60;

/// Constant duty within one step.
struct Stretch {
  std::size_t step = 0;
  double duty = 0, lasts_s = 0;
};
using Stretches = std::vector<Stretch>;

class Thermostat {
 public:
  Thermostat(const GroupModel& model, double step_s)
      : model_(model),
        run_(model.runs[static_cast<std::size_t>(model.sensor)]),
        lump_(run_, 1),
        step_s_(step_s) {}

  struct Week {
    double end_c = 0, log_sensitivity = 0;  // -infinity: held once, the beginning is forgotten
    Stretches stretches;
  };
  Week week(std::span<const double> set_points_c, double from_c) const {
    Week week{from_c, 0, {}};
    for (std::size_t s = 0; s < set_points_c.size(); ++s) step(s, set_points_c[s], week);
    return week;
  }

 private:
  /// Adds a stretch; returns what is left of the step.
  double drive(std::size_t step, double duty, double lasts_s, double target_c, Week& week) const {
    const Lump::Course course = lump_.advance(week.end_c, duty, lasts_s, target_c);
    week.stretches.push_back({step, duty, course.took_s});
    week.end_c = course.end_c;
    week.log_sensitivity += course.log_sensitivity;
    return course.end_c == target_c ? lasts_s - course.took_s : 0;
  }

  void step(std::size_t index, double set_c, Week& week) const {
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    if (set_c == week::cable_off_c) {
      drive(index, 0, step_s_, none, week);
      return;
    }
    if (model_.open_loop) {
      drive(index, duty_at(model_, set_c), step_s_, none, week);
      return;
    }
    follow(index, set_c, week);
  }

  void follow(std::size_t index, double set_c, Week& week) const {
    const bool can_hold = output_w(run_, set_c) > loss_w(run_, set_c), cools = loss_w(run_, set_c) >= 0;
    double left_s = step_s_;
    if (std::abs(week.end_c - set_c) <= same_c) {
      if (!cools) set_c = std::numeric_limits<double>::quiet_NaN();
    } else if (week.end_c > set_c || can_hold) {
      left_s = drive(index, week.end_c > set_c ? 0 : 1, left_s, set_c, week);
    }
    if (left_s <= 0) return;
    if (std::isnan(set_c) || !can_hold) {
      drive(index, std::isnan(set_c) ? 0 : 1, left_s, std::numeric_limits<double>::quiet_NaN(), week);
      return;
    }
    week.stretches.push_back({index, duty_at(model_, set_c), left_s});
    week.end_c = set_c;
    week.log_sensitivity = -std::numeric_limits<double>::infinity();
  }

  const GroupModel& model_;
  const ModelRun& run_;
  Lump lump_;
  double step_s_;
};

/// Where the next week should begin: Newton's step towards a week that ends as it began.
double better_begin_c(double begin_c, double end_c, double log_sensitivity) {
  const double forgets = -std::expm1(std::min(0.0, log_sensitivity));
  const double next_c = begin_c + (end_c - begin_c) / std::max(forgets, 0.05);
  return std::clamp(next_c, GroupModel::first_c,
                    GroupModel::first_c + GroupModel::step_k * (GroupModel::points - 1));
}

double first_guess_c(std::span<const double> set_points_c, double else_c) {
  for (std::size_t s = set_points_c.size(); s-- > 0;)
    if (set_points_c[s] != week::cable_off_c) return set_points_c[s];
  return else_c;
}

Stretches stretches_of(const GroupModel& model, std::span<const double> set_points_c, double step_s) {
  const Thermostat thermostat(model, step_s);
  double begin_c = first_guess_c(set_points_c, GroupModel::first_c);
  for (int n = 0;; ++n) {
    Thermostat::Week week = thermostat.week(set_points_c, begin_c);
    if (std::abs(week.end_c - begin_c) <= settled_k * 1e-2 || n == most_weeks)
      return std::move(week.stretches);
    begin_c = better_begin_c(begin_c, week.end_c, week.log_sensitivity);
  }
}

/// One run's row of a week.
struct Row {
  std::vector<double> begin_c, lowest_c, energy_j;
  explicit Row(std::size_t steps) : begin_c(steps), lowest_c(steps), energy_j(steps) {}
};

/// One week from a temperature; course of the whole.
Lump::Course live_week(const Lump& lump, const Stretches& stretches, double from_c, Row& row) {
  Lump::Course whole{from_c, 0, 0, 0};
  std::size_t step = row.begin_c.size();
  for (const Stretch& stretch : stretches) {
    if (stretch.step != step) {
      step = stretch.step;
      row.begin_c[step] = row.lowest_c[step] = whole.end_c;
      row.energy_j[step] = 0;
    }
    const Lump::Course course = lump.advance(whole.end_c, stretch.duty, stretch.lasts_s);
    whole.end_c = course.end_c;
    whole.log_sensitivity += course.log_sensitivity;
    row.lowest_c[step] = std::min(row.lowest_c[step], course.end_c);
    row.energy_j[step] += stretch.duty * course.output_j;
  }
  return whole;
}

void live_until_settled(const Lump& lump, const Stretches& stretches, double guess_c, Row& row) {
  double begin_c = guess_c;
  for (int n = 0;; ++n) {
    const Lump::Course week = live_week(lump, stretches, begin_c, row);
    if (std::abs(week.end_c - begin_c) <= settled_k || n == most_weeks) return;
    begin_c = better_begin_c(begin_c, week.end_c, week.log_sensitivity);
  }
}

}  // namespace

Lived live_lumped(const GroupModel& model, std::span<const double> set_points_c, double step_s) {
  Lived lived;
  lived.steps = set_points_c.size();
  lived.power_w.assign(lived.steps, 0);
  if (lived.steps == 0) return lived;
  const Stretches stretches = stretches_of(model, set_points_c, step_s);
  const double guess_c = first_guess_c(set_points_c, model.least_settable_c);
  Row row(lived.steps);
  for (const ModelRun& run : model.runs) {
    live_until_settled(Lump(run, 1), stretches, guess_c, row);
    lived.usual_c.insert(lived.usual_c.end(), row.begin_c.begin(), row.begin_c.end());
    for (std::size_t s = 0; s < lived.steps && run.job_run >= 0; ++s)
      lived.power_w[s] += row.energy_j[s] / step_s;
    if (run.weak_loss_factor > 1)
      live_until_settled(Lump(run, run.weak_loss_factor), stretches, row.begin_c.front(), row);
    lived.weak_lowest_c.insert(lived.weak_lowest_c.end(), row.lowest_c.begin(), row.lowest_c.end());
  }
  return lived;
}

}  // namespace firstdraw::settings
