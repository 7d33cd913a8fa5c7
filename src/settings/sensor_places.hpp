// Where a group's sensor could be, and the search for the set-point that each place needs.
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "draw/simulate.hpp"
#include "forecast/answers.hpp"
#include "hold/hold.hpp"
#include "plan/plan.hpp"

namespace firstdraw::settings {

/// The runs that need the cable on for longest: a quarter of the group's, at least one (our choice, no
/// source). Indices into building.runs.
std::vector<int> critical_runs(const hold::Building& only, double least_c);

/// Where it is, where the plan would have it, where the simulation would, and on the one of the critical runs
/// that least water passes. Indices into job.runs, each once, the present one first. `nominal`: the week as
/// set.
std::vector<int> sensor_places(const job::Job& job, const plan::Plan& plan, const hold::Building& only,
                               const draw::Scene& scene, const forecast::Tally& nominal, int group,
                               double least_c);

/// Least set-point, on the controller's steps, at which a week keeps: bracketed, then halved.
class SetPointSearch {
 public:
  SetPointSearch(double first_c, double most_c, double step_k)
      : next_c_(std::min(first_c, most_c)), most_c_(most_c), step_k_(step_k) {}
  /// Empty: done.
  std::optional<double> next_c() const { return next_c_; }
  /// What became of the set-point tried last; `short_k`: how far below it was.
  void tried(bool keeps, double short_k);

 private:
  double on_step(double set_c) const;

  std::optional<double> next_c_;
  double most_c_, step_k_;
  std::optional<double> fails_c_, keeps_c_;
};

}  // namespace firstdraw::settings
