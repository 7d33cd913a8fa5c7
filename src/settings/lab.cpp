#include "settings/lab.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace firstdraw::settings {
namespace {

using draw::at;

/// [group][group]: pairs of which one lies above the other.
std::set<std::pair<int, int>> above_each_other(const draw::Scene& scene) {
  std::set<std::pair<int, int>> pairs;
  for (const draw::SceneRun& run : scene.runs) {
    if (run.group == draw::none) continue;
    for (int above = run.upstream; above != draw::none; above = scene.runs[at(above)].upstream) {
      const int other = scene.runs[at(above)].group;
      if (other == draw::none || other == run.group) continue;
      pairs.insert({run.group, other});
      pairs.insert({other, run.group});
    }
  }
  return pairs;
}

}  // namespace

Lab::Lab(const job::Job& job, const plan::Plan& plan, const Timetable& timetable, const ProofOptions& options)
    : job_(with_timetable(job, timetable)),
      plan_(plan),
      options_(options),
      nominal_(forecast::make_scene(job_, plan_, {})),
      demand_(forecast::demand_of(job_, nominal_)) {}

draw::Scene Lab::scene(const forecast::SceneOptions& options) const {
  return forecast::make_scene(job_, plan_, options);
}

std::vector<draw::Draw> Lab::measured(double begin_s, double end_s) const {
  std::vector<draw::Draw> all;
  const auto first = static_cast<int>(std::floor(begin_s / draw::week_s));
  const auto last = static_cast<int>(std::floor(end_s / draw::week_s));
  for (int week = first; week <= last; ++week)
    for (draw::Draw draw : options_.recorded) {
      if (draw.open_s < 0 || draw.open_s >= draw::week_s) continue;
      draw.open_s += week * draw::week_s;
      if (draw.open_s >= begin_s && draw.open_s < end_s) all.push_back(draw);
    }
  draw::sort_draws(all);
  return all;
}

std::vector<draw::Draw> Lab::draws(double begin_s, double end_s, std::uint64_t seed) const {
  if (!options_.recorded.empty()) return measured(begin_s, end_s);
  draw::StochasticOptions how;
  how.begin_s = begin_s;
  how.end_s = end_s;
  how.seed = seed;
  how.hot_c = std::min(nominal_.supply.stored_c.at(0), nominal_.supply.delivered_c);
  how.cold_c = nominal_.supply.cold_c.at(0);
  return draw::stochastic_draws(demand_.taps, how);
}

draw::Result Lab::live(const draw::Scene& scene, draw::Options how, std::uint64_t seed) const {
  const rules::GrowthBand band = rules::growth_band();
  how.band_low_c = band.low_c;
  how.band_high_c = band.high_c;
  return draw::simulate(scene, draws(how.begin_s - how.run_in_s, how.end_s, seed), how);
}

std::vector<int> group_of_tap(const draw::Scene& scene) {
  std::vector<int> groups;
  for (const draw::Tap& tap : scene.taps) {
    int run = tap.run;
    while (run != draw::none && scene.runs[at(run)].group == draw::none) run = scene.runs[at(run)].upstream;
    groups.push_back(run == draw::none ? draw::none : scene.runs[at(run)].group);
  }
  return groups;
}

std::vector<std::vector<int>> groups_apart(const draw::Scene& scene) {
  const auto pairs = above_each_other(scene);
  std::vector<std::vector<int>> sets;
  for (int g = 0; g < static_cast<int>(scene.groups.size()); ++g) {
    const auto fits = [&](const std::vector<int>& set) {
      return std::ranges::none_of(set, [&](int other) { return pairs.contains({g, other}); });
    };
    const auto set = std::ranges::find_if(sets, fits);
    if (set == sets.end())
      sets.push_back({g});
    else
      set->push_back(g);
  }
  return sets;
}

}  // namespace firstdraw::settings
