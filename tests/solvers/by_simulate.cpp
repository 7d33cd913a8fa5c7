#include "solvers/by_simulate.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

namespace firstdraw::solvers {

std::vector<TapTemps> by_simulate(const draw::Scene& scene, std::span<const draw::Draw> draws,
                                  draw::Options options) {
  options.keep_draws = true, options.run_in_s = 0;
  std::map<std::pair<int, double>, std::size_t> place;
  for (std::size_t i = 0; i < draws.size(); ++i) place[{draws[i].tap, draws[i].open_s}] = i;
  std::vector<TapTemps> result(draws.size());
  for (const draw::DrawRecord& record : draw::simulate(scene, draws, options).draws)
    result[place.at({record.tap, record.open_s})] = {record.opening_c, record.after_10_s_c, record.end_c};
  return result;
}

draw::Scene with_cells(draw::Scene scene, double cell_m, double runout_cell_m) {
  const auto cut = [](draw::SceneRun& run, double longest_m) {
    if (!run.live_frac.empty()) throw std::logic_error("live shares belong to cells");
    run.cells = static_cast<int>(std::ceil(run.length_m / longest_m - 1e-9));
  };
  for (draw::SceneRun& run : scene.runs) cut(run, cell_m);
  for (const draw::Tap& tap : scene.taps) cut(scene.runs[draw::at(tap.run)], runout_cell_m);
  return scene;
}

}  // namespace firstdraw::solvers
