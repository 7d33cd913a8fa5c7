// A group at a constant set-point.
#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "settings/lump.hpp"

namespace firstdraw::settings {
namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

const ModelRun& sensor_of(const GroupModel& model) {
  return model.runs[static_cast<std::size_t>(model.sensor)];
}

/// What the controller takes for the loss of the sensor's run when it derives the duty.
const std::vector<double>& governing_loss_w(const GroupModel& model) {
  return model.open_loop ? model.ambient_loss_w : sensor_of(model).loss_w;
}

bool is_throttled(const GroupModel& model) { return !model.open_loop || !model.ambient_loss_w.empty(); }

double share_of(double loss_w, double output_w) {
  if (loss_w <= 0) return 0;
  return output_w > 0 ? loss_w / output_w : endless;
}

/// What the automaton asks for again and again, apart from the model's life.
struct SensorLaw {
  ModelRun run;
  std::vector<double> power_w;  // of the group while on, on the grid
};

double group_power_w(const GroupModel& model, double set_c) {
  const std::vector<double> water_c = held_c(model, set_c, false);
  double sum_w = 0;
  for (std::size_t r = 0; r < model.runs.size(); ++r)
    if (model.runs[r].job_run >= 0) sum_w += output_w(model.runs[r], water_c[r]);
  return sum_w;
}

}  // namespace

double loss_w(const ModelRun& run, double water_c) { return on_grid(run.loss_w, water_c); }
double output_w(const ModelRun& run, double water_c) { return on_grid(run.output_w, water_c); }

double duty_at(const GroupModel& model, double set_c) {
  if (!is_throttled(model)) return 1;
  return std::min(1.0, share_of(on_grid(governing_loss_w(model), set_c), output_w(sensor_of(model), set_c)));
}

std::vector<double> held_c(const GroupModel& model, double set_c, bool weak) {
  const double duty = duty_at(model, set_c);
  std::vector<double> water_c;
  water_c.reserve(model.runs.size());
  for (const ModelRun& run : model.runs)
    water_c.push_back(balance_c(run.loss_w, run.output_w, weak ? run.weak_loss_factor : 1, duty));
  return water_c;
}

double set_point_for(const GroupModel& model, std::span<const double> least_c) {
  constexpr double slack_k = 1e-9;
  double duty = -endless;
  for (std::size_t r = 0; r < model.runs.size(); ++r) {
    const ModelRun& run = model.runs[r];
    if (least_c[r] == -endless || std::ranges::find(model.hopeless, run.id) != model.hopeless.end()) continue;
    duty =
        std::max(duty, share_of(run.weak_loss_factor * loss_w(run, least_c[r]), output_w(run, least_c[r])));
  }
  if (duty == -endless || !is_throttled(model)) return duty > 1 ? endless : -endless;
  if (duty > 1) return endless;
  const double set_c = balance_c(governing_loss_w(model), sensor_of(model).output_w, 1, duty);
  return set_c <= model.most_settable_c + slack_k ? set_c : endless;
}

week::ThermalLaw law_of(const GroupModel& model) {
  const auto law = std::make_shared<SensorLaw>(SensorLaw{sensor_of(model), {}});
  for (int i = 0; i < GroupModel::points; ++i)
    law->power_w.push_back(group_power_w(model, GroupModel::first_c + GroupModel::step_k * i));
  const double capacity = law->run.capacity_j_per_k;
  return {[law, capacity](double c) { return loss_w(law->run, c) / capacity; },
          [law, capacity](double c) { return (output_w(law->run, c) - loss_w(law->run, c)) / capacity; },
          [law](double c) { return on_grid(law->power_w, c); }};
}

}  // namespace firstdraw::settings
