#include "settings/sensor_places.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "forecast/advice.hpp"
#include "plan/decide.hpp"
#include "settings/coldest_run.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr std::size_t critical_part = 4;
constexpr double rounding_frac = 1e-9;

int scene_run_of(const draw::Scene& scene, int job_run) {
  for (std::size_t r = 0; r < scene.runs.size(); ++r)
    if (scene.runs[r].job_run == job_run) return static_cast<int>(r);
  return draw::none;
}

}  // namespace

std::vector<int> critical_runs(const hold::Building& only, double least_c) {
  std::vector<int> runs(only.runs.size());
  for (std::size_t i = 0; i < runs.size(); ++i) runs[i] = static_cast<int>(i);
  std::ranges::sort(runs, {}, [&](int run) {
    return std::tuple(-needed_duty(only, only.runs[at(run)], least_c), only.runs[at(run)].job_run);
  });
  runs.resize((runs.size() + critical_part - 1) / critical_part);
  return runs;
}

std::vector<int> sensor_places(const job::Job& job, const plan::Plan& plan, const hold::Building& only,
                               const draw::Scene& scene, const forecast::Tally& nominal, int group,
                               double least_c) {
  std::vector<int> places;
  const auto add = [&places](int job_run) {
    if (job_run != draw::none && std::ranges::find(places, job_run) == places.end())
      places.push_back(job_run);
  };
  add(plan::sensor_run_of(job, group));
  add(plan::index_of(job.runs, plan.groups[at(group)].best_sensor_run));
  const int better = forecast::better_sensor_run(scene, nominal, group);
  if (better != draw::none) add(scene.runs[at(better)].job_run);
  int stillest = draw::none;
  double fewest = std::numeric_limits<double>::infinity();
  for (const int run : critical_runs(only, least_c)) {
    const int seen = scene_run_of(scene, only.runs[at(run)].job_run);
    if (seen == draw::none || !(nominal.runs[at(seen)].litres < fewest)) continue;
    fewest = nominal.runs[at(seen)].litres;
    stillest = only.runs[at(run)].job_run;
  }
  add(stillest);
  std::erase_if(places, [&](int job_run) { return scene_run_of(scene, job_run) == draw::none; });
  return places;
}

double SetPointSearch::on_step(double set_c) const {
  return std::min(most_c_, std::ceil(set_c / step_k_ - rounding_frac) * step_k_);
}

void SetPointSearch::tried(bool keeps, double short_k) {
  const double set_c = *next_c_;
  (keeps ? keeps_c_ : fails_c_) = set_c;
  if (!keeps_c_) {
    next_c_ = set_c >= most_c_ ? std::nullopt : std::optional(on_step(set_c + std::max(step_k_, short_k)));
    return;
  }
  // The first that was tried holds the pipes when no water is drawn: nothing below it is tried.
  next_c_.reset();
  if (!fails_c_) return;
  const double middle_c = on_step(*fails_c_ + 0.5 * (*keeps_c_ - *fails_c_) - 0.25 * step_k_);
  if (middle_c > *fails_c_ && middle_c < *keeps_c_) next_c_ = middle_c;
}

}  // namespace firstdraw::settings
