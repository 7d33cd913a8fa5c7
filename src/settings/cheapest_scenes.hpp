// Invented groups of linear pipes, needs and prices for the tests and the bench of the cheapest week.
#pragma once

#include <cmath>
#include <limits>

#include "settings/cheapest.hpp"

namespace firstdraw::settings {

inline constexpr double nothing_c = -std::numeric_limits<double>::infinity();

/// Loses in proportion to its excess over the air; the cable gives less when warm.
struct LinearRun {
  double air_c = 20, loss_w_per_k = 4, capacity_j_per_k = 200e3;
  double output_at_40_w = 360, fade_w_per_k = 3;
  double weak_loss_factor = 1;
};

inline ModelRun model_run(const std::string& id, int job_run, const LinearRun& run) {
  ModelRun made;
  made.id = id;
  made.job_run = job_run;
  made.capacity_j_per_k = run.capacity_j_per_k;
  made.weak_loss_factor = run.weak_loss_factor;
  for (int i = 0; i < GroupModel::points; ++i) {
    const double c = GroupModel::first_c + GroupModel::step_k * i;
    made.loss_w.push_back(run.loss_w_per_k * (c - run.air_c));
    made.output_w.push_back(std::max(0.0, run.output_at_40_w - run.fade_w_per_k * (c - 40)));
  }
  return made;
}

/// A job, its groups and what they must keep; a week of even steps.
struct InventedWeek {
  job::Job job;
  std::vector<GroupModel> models;
  std::vector<GroupNeeds> needs;
  SeasonOfYear season;
  SearchOptions options;

  std::size_t steps() const { return static_cast<std::size_t>(std::lround(7 * 86400 / options.step_s)); }
  std::size_t steps_a_day() const { return steps() / 7; }

  explicit InventedWeek(double step_s = 3600) {
    options.step_s = step_s;
    options.grid_k = 0.5;
    job.units = units::System::metric;
    job.controller.programs = job::ControllerLimits::Programs::one;
    job.controller.clock_step_s = step_s;
    season.name = "all year";
    season.days = 365;
    season.prices.per_kwh.assign(steps(), 0.2);
  }

  void add(const std::vector<LinearRun>& runs) {
    GroupModel model;
    model.group = static_cast<int>(models.size());
    model.id = "group " + std::to_string(models.size() + 1);
    for (const LinearRun& run : runs) {
      const int n = static_cast<int>(model.runs.size());
      model.runs.push_back(model_run(model.id + " run " + std::to_string(n + 1), n, run));
    }
    model.least_settable_c = 35;
    model.most_settable_c = 70;
    model.most_because = "controller";
    GroupNeeds asked;
    asked.group = model.group;
    asked.steps = steps();
    asked.comfort_c.assign(model.runs.size() * steps(), nothing_c);
    asked.always_c = asked.below_c = nothing_c;
    asked.most_below_s = asked.most_c = std::numeric_limits<double>::infinity();
    job.groups.emplace_back().id = model.id;
    models.push_back(std::move(model));
    needs.push_back(std::move(asked));
  }

  /// Of all runs of all groups, on all days.
  void comfort(double from_h, double to_h, double c) {
    for (GroupNeeds& asked : needs)
      for (std::size_t i = 0; i < asked.comfort_c.size(); ++i) {
        const double h = static_cast<double>(i % steps_a_day()) * options.step_s / 3600;
        if (h >= from_h - 1e-9 && h < to_h - 1e-9) asked.comfort_c[i] = std::max(asked.comfort_c[i], c);
      }
  }

  void price(double from_h, double to_h, double per_kwh) {
    for (std::size_t k = 0; k < steps(); ++k) {
      const double h = static_cast<double>(k % steps_a_day()) * options.step_s / 3600;
      if (h >= from_h - 1e-9 && h < to_h - 1e-9) season.prices.per_kwh[k] = per_kwh;
    }
  }

  void demand_price(double per_kw) {
    season.prices.demand.push_back({per_kw, std::vector<char>(steps(), 1)});
  }

  CheapestWeek cheapest() const { return cheapest_week(job, models, needs, season, options); }
};

/// Seven groups of twelve unlike runs, programs for working days and weekend, dear afternoons.
inline InventedWeek seven_groups(double grid_k, double per_kw) {
  InventedWeek week(1800);
  week.options.grid_k = grid_k;
  week.job.controller.programs = job::ControllerLimits::Programs::workdays_weekend;
  for (int g = 0; g < 7; ++g) {
    std::vector<LinearRun> runs;
    for (int r = 0; r < 12; ++r) {
      const double size = 1 + 0.15 * ((r * 5 + g * 3) % 7);
      runs.push_back({.air_c = 20.0 + (r + g) % 4,
                      .loss_w_per_k = 4 * size,
                      .capacity_j_per_k = 160e3 * size * size,
                      .output_at_40_w = 330 * size,
                      .fade_w_per_k = 4 * size,
                      .weak_loss_factor = 1.05 + 0.02 * (r % 3)});
    }
    week.add(runs);
    week.needs.back().always_c = 46;
  }
  week.comfort(6, 10, 50);
  week.comfort(18, 22, 49);
  week.price(0, 24, 2.5);
  week.price(7, 21, 5);
  week.price(14, 19, 9);
  if (per_kw > 0) week.demand_price(per_kw);
  return week;
}

}  // namespace firstdraw::settings
