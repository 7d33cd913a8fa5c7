// A group of pipes whose loss and output are straight lines: everything about it has a closed form.
#pragma once

#include <string>

#include "settings/group_model.hpp"

namespace firstdraw::settings {

/// loss = g (T - air), output = full - slope T.
struct Straight {
  double g_w_per_k, air_c, full_w, slope_w_per_k, capacity_j_per_k;

  double tau_s(double duty, double factor = 1) const {
    return capacity_j_per_k / (factor * g_w_per_k + duty * slope_w_per_k);
  }
  double rest_c(double duty, double factor = 1) const {
    return (duty * full_w + factor * g_w_per_k * air_c) / (duty * slope_w_per_k + factor * g_w_per_k);
  }
  double duty(double water_c) const {
    return g_w_per_k * (water_c - air_c) / (full_w - slope_w_per_k * water_c);
  }

  ModelRun run(const std::string& id) const {
    ModelRun made;
    made.id = id;
    made.job_run = 0;
    made.capacity_j_per_k = capacity_j_per_k;
    for (int i = 0; i < GroupModel::points; ++i) {
      const double c = GroupModel::first_c + i * GroupModel::step_k;
      made.loss_w.push_back(g_w_per_k * (c - air_c));
      made.output_w.push_back(full_w - slope_w_per_k * c);
    }
    return made;
  }
};

/// Sensor on the first of two runs; the second loses more, and more still in its bad luck.
struct LinearGroup {
  Straight first{4, 20, 400, 2, 8e4}, second{5, 18, 420, 2.5, 6e4};
  GroupModel model;

  LinearGroup() {
    model.id = "straight";
    model.runs = {first.run("S"), second.run("W")};
    model.runs[1].job_run = 1;
    model.runs[1].weak_loss_factor = 1.15;
    model.least_settable_c = 30;
    model.most_settable_c = 70;
    model.most_because = "the controller";
  }
};

}  // namespace firstdraw::settings
