#include "plan/run_classes.hpp"

#include <map>
#include <tuple>

namespace firstdraw::plan {
namespace {

/// What makes two runs alike.
auto class_key(const job::Job& job, const job::Run& run) {
  const job::AirTemperatures air = job::air_around(job, run);
  const physics::Pipe& pipe = run.pipe;
  return std::make_tuple(heating_group(job, run), pipe.outer_diameter_m, pipe.wall_m, air.low_c, air.usual_c,
                         air.high_c, run.orientation, run.emissivity, fitting_density(run), run.thickness_m,
                         run.passes, pipe.material, pipe.type, run.insulation, run.cable);
}

void add(RunClass& run_class, const job::Run& run, int index) {
  run_class.runs.push_back(index);
  if (!(run.length_m > 0)) return;
  const double loss_length_m = piping::loss_length_m(run), heated_m = heated_length_m(run);
  const double ratio = loss_length_m / heated_m;
  const bool first = run_class.heated_length_m == 0;
  run_class.loss_ratio_max = first ? ratio : std::max(run_class.loss_ratio_max, ratio);
  run_class.loss_ratio_min = first ? ratio : std::min(run_class.loss_ratio_min, ratio);
  run_class.pipe_length_m += run.length_m;
  run_class.heated_length_m += heated_m;
  run_class.loss_length_m += loss_length_m;
}

}  // namespace

int heating_group(const job::Job& job, const job::Run& run) {
  if (!run.traced || run.group.empty() || !(run.length_m > 0) || job.cables.empty()) return piping::none;
  const int group = index_of(job.groups, run.group);
  if (group == piping::none) return piping::none;
  const bool is_fed = index_of(job.panels, job.groups[static_cast<std::size_t>(group)].panel) != piping::none;
  return is_fed ? group : piping::none;
}

double heated_length_m(const job::Run& run) {
  const double tails_m = run.tees * piping::cable_allowance(run.pipe.outer_diameter_m).per_tee_m;
  return piping::cable_length_m(run, 1) - tails_m;
}

int fitting_density(const job::Run& run) {
  if (!(run.length_m > 0)) return 0;
  const double ratio = piping::loss_length_m(run) / heated_length_m(run);
  return ratio < 1.5 ? 0 : ratio < 2.5 ? 1 : 2;
}

std::string class_name(int index) {
  std::string name;
  for (int rest = index; rest >= 0; rest = rest / 26 - 1)
    name.insert(name.begin(), static_cast<char>('A' + rest % 26));
  return name;
}

RunClasses classify(const job::Job& job) {
  RunClasses result;
  std::map<decltype(class_key(job, job.runs.front())), int> known;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    const job::Run& run = job.runs[i];
    const auto [entry, is_new] =
        known.try_emplace(class_key(job, run), static_cast<int>(result.classes.size()));
    if (is_new) {
      RunClass fresh;
      fresh.name = class_name(entry->second);
      fresh.group = heating_group(job, run);
      result.classes.push_back(std::move(fresh));
    }
    add(result.classes[static_cast<std::size_t>(entry->second)], run, static_cast<int>(i));
    result.of_run.push_back(entry->second);
  }
  return result;
}

}  // namespace firstdraw::plan
