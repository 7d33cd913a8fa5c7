#include "plan/outlet_water.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace firstdraw::plan {

namespace {

using piping::at;

std::vector<int> nodes_of_outlets(const Survey& survey) {
  const auto& network = survey.network;
  std::vector<int> nodes(survey.job.outlets.size(), piping::none);
  for (std::size_t node = 0; node < network.node_ids.size(); ++node)
    for (int i = network.outlets_first[node]; i < network.outlets_first[node + 1]; ++i)
      nodes[at(network.outlets[at(i)])] = static_cast<int>(node);
  return nodes;
}

void follow_upstream(const Survey& survey, OutletWater& water) {
  int run = survey.feeding_run[at(water.node)];
  while (run != piping::none && !survey.run(run).traced) {
    water.untraced_m += survey.run(run).length_m;
    water.untraced_m3 += survey.network.water_volume_m3[at(run)];
    run = survey.network.upstream_run[at(run)];
  }
  water.traced_run = run;
}

double hottest_c(const Survey& survey, const OutletWater& water) {
  const int feeding = survey.feeding_run[at(water.node)];
  const double supplied_c = feeding == piping::none ? survey.job.supply.stored_c : survey.supplied_c(feeding);
  if (water.traced_run == piping::none) return supplied_c;
  const int group = survey.group_of_run[at(water.traced_run)];
  return group == piping::none ? supplied_c : std::max(supplied_c, survey.job.groups[at(group)].maintain_c);
}

}  // namespace

std::vector<OutletWater> water_at_outlets(const Survey& survey) {
  const auto nodes = nodes_of_outlets(survey);
  std::vector<OutletWater> all;
  for (std::size_t o = 0; o < nodes.size(); ++o) {
    const auto& outlet = survey.job.outlets[o];
    OutletWater water;
    water.node = nodes[o];
    water.untraced_m = outlet.runout_length_m;
    water.untraced_m3 = outlet.runout_length_m * outlet.runout_pipe.bore_area_m2();
    if (water.node != piping::none) {
      water.reached =
          survey.feeding_run[at(water.node)] != piping::none || water.node == survey.network.supply_node;
      follow_upstream(survey, water);
      water.hottest_c = hottest_c(survey, water);
    }
    all.push_back(water);
  }
  return all;
}

std::string burn_caution(double water_c) {
  std::string caution;
  for (const auto& burn : rules::burn_times()) {
    if (burn.water_c > water_c + 0.15) break;
    const bool minutes = burn.second_degree_s >= 120;
    caution = fmt::format("second-degree burns within {:.0f} {}", burn.second_degree_s / (minutes ? 60 : 1),
                          minutes ? "min" : "s");
  }
  return caution;
}

}  // namespace firstdraw::plan
