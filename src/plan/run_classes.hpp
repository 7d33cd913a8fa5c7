// Runs that are alike share their choices: same pipe, insulation, air, control group, orientation, much the
// same density of fittings, and the same things fixed by the user. Design then works on tens of classes
// instead of thousands of runs.
#pragma once

#include <string>
#include <vector>

#include "job/job.hpp"
#include "piping/network.hpp"

namespace firstdraw::plan {

struct RunClass {
  std::string name;          // "A", "B" … "AA", by first run in the job
  int group = piping::none;  // index into job.groups; none: not heated, only its insulation is chosen
  std::vector<int> runs;     // indices into job.runs, rising
  double pipe_length_m = 0, heated_length_m = 0, loss_length_m = 0;  // sums over the runs
  // Loss length over heated length of single runs: fittings make the weakest and the hottest run of the
  // class.
  double loss_ratio_max = 1, loss_ratio_min = 1;

  double loss_ratio_mean() const { return heated_length_m > 0 ? loss_length_m / heated_length_m : 1; }
};

struct RunClasses {
  std::vector<RunClass> classes;
  std::vector<int> of_run;  // like job.runs
};

/// Metres of pipe with cable on it: the extra cable on valves, supports and elbows heats them; tails at tees
/// heat nothing that counts.
double heated_length_m(const job::Run& run);

/// Runs with many fittings for their length (a valve in half a metre of pipe) are a class of their own, so
/// that one of them does not decide for the plain ones: 0 below 1.5 m of loss per heated metre, 1 below 2.5,
/// else 2 (our choice).
int fitting_density(const job::Run& run);

RunClasses classify(const job::Job& job);

/// Index into job.groups of the group that heats the run; none when it is untraced, has no length, is in no
/// known group, or there is no panel or cable to heat it with.
int heating_group(const job::Job& job, const job::Run& run);

/// Index of the item whose `id` is `id`; none when there is none.
template <class Items>
int index_of(const Items& items, const std::string& id) {
  for (std::size_t i = 0; i < items.size(); ++i)
    if (items[i].id == id) return static_cast<int>(i);
  return piping::none;
}

/// 0 → "A", 25 → "Z", 26 → "AA".
std::string class_name(int index);

}  // namespace firstdraw::plan
