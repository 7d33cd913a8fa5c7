#include "settings/needs.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "settings/hygiene.hpp"

namespace firstdraw::settings {
namespace {

constexpr double hour_s = 3600, week_s = 604800;

std::size_t steps_of(double step_s) {
  const double an_hour = hour_s / step_s;
  if (!(step_s > 0) || std::abs(an_hour - std::round(an_hour)) > 1e-9)
    throw std::invalid_argument("needs_of: step_s must divide an hour");
  return static_cast<std::size_t>(std::lround(week_s / step_s));
}

}  // namespace

Asked asked_of(const job::Job& job) {
  Asked asked;
  asked.band_h = job.week.band_h;
  asked.hot_hold = job.week.hot_hold;
  return asked;
}

std::vector<GroupNeeds> needs_of(const job::Job& job, const plan::Plan& plan, const draw::Scene& scene,
                                 const forecast::Demand& demand, std::span<const GroupModel> models,
                                 const Asked& asked, double step_s) {
  const NeedsTask task{job, plan, scene, demand, asked, step_s};
  std::vector<GroupNeeds> all;
  for (const GroupModel& model : models) {
    GroupNeeds& needs = all.emplace_back();
    needs.group = model.group;
    needs.steps = steps_of(step_s);
    needs.comfort_c.assign(model.runs.size() * needs.steps, -std::numeric_limits<double>::infinity());
    ask_hygiene(task, needs);
    limit_heat(task, model, needs);
    ask_hot_hold(task, model, needs);
  }
  ask_comfort(task, models, all);
  return all;
}

}  // namespace firstdraw::settings
