#include "forecast/ensemble.hpp"

#include <algorithm>
#include <numeric>

#include "hold/draws.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::forecast {
namespace {

/// As much of the building as tolerances are drawn by.
hold::Building building_of(const job::Job& job) {
  hold::Building building;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    hold::HeldRun run;
    run.job_run = static_cast<int>(i);
    run.air = job::air_around(job, job.runs[i]);
    run.space = job.runs[i].air ? draw::none : plan::index_of(job.spaces, job.runs[i].space);
    run.key = hold::run_key(job.runs[i].id);
    building.runs.push_back(std::move(run));
  }
  for (const physics::CableSheet& sheet : job.cables) building.cables.emplace_back(sheet);
  for (const job::ControlGroup& group : job.groups) {
    hold::Building::Group held;
    if (const int panel = plan::index_of(job.panels, group.panel); panel != draw::none) {
      held.low_frac = job.panels[draw::at(panel)].low_frac;
      held.high_frac = job.panels[draw::at(panel)].high_frac;
    }
    building.groups.push_back(held);
  }
  return building;
}

/// Hands a row of samples to the members after the first.
void deal(const hold::Row& row, std::vector<Variation>& members, std::vector<double> Variation::* field) {
  for (std::size_t m = 0; m < row.size(); ++m) (members[m + 1].*field).push_back(row[m]);
}

void vary_runs(const hold::Building& building, const hold::Draws& draws, std::vector<Variation>& members) {
  hold::Row row(draws.samples());
  for (const hold::HeldRun& run : building.runs) {
    draws.insulation_into(row, run);
    deal(row, members, &Variation::insulation_factor);
    draws.air_into(row, run);
    for (double& air_c : row) air_c -= run.air.usual_c;
    deal(row, members, &Variation::air_shift_k);
  }
}

}  // namespace

std::vector<Variation> variations(const job::Job& job, int members, std::uint64_t seed) {
  std::vector<Variation> all(static_cast<std::size_t>(std::max(1, members)));
  if (members < 2) return all;
  const hold::Building building = building_of(job);
  const hold::Tolerances tolerances;
  const hold::Draws draws(building, tolerances, members - 1, seed);
  vary_runs(building, draws, all);
  for (std::size_t c = 0; c < building.cables.size(); ++c)
    deal(draws.batch(static_cast<int>(c)), all, &Variation::cable_factor);
  for (std::size_t g = 0; g < building.groups.size(); ++g) {
    deal(draws.voltage(static_cast<int>(g)), all, &Variation::voltage_factor);
    deal(draws.sensor_error_k(static_cast<int>(g)), all, &Variation::sensor_shift_k);
  }
  return all;
}

bool SharedProgress::report(std::size_t task, double done_frac) {
  const std::lock_guard lock(door_);
  done_frac_[task] = done_frac;
  const double done = std::accumulate(done_frac_.begin(), done_frac_.end(), 0.0);
  if (callback_ && !callback_(done / static_cast<double>(done_frac_.size()))) stopped_ = true;
  return !stopped_;
}

bool SharedProgress::stopped() const {
  const std::lock_guard lock(door_);
  return stopped_;
}

}  // namespace firstdraw::forecast
