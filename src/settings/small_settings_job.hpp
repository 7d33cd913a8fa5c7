// The small invented building with taps, a guideline and a clock, for the tests of this room.
#pragma once

#include <stdexcept>
#include <string>

#include "plan/small_job.hpp"
#include "settings/inputs.hpp"
#include "settings/proof.hpp"

namespace firstdraw::settings {

inline job::Outlet small_outlet(const std::string& id, const std::string& node, const std::string& fixture) {
  job::Outlet outlet;
  outlet.id = id;
  outlet.node = node;
  outlet.fixture = fixture;
  outlet.space = "ceiling";
  outlet.runout_pipe = plan::pipe_named("copper L 1/2");
  outlet.runout_length_m = 2;
  return outlet;
}

/// Supplied at 60 degC where the traced pipe begins, held at 55, asked for 50 (OSHA).
inline job::Job washing_job() {
  job::Job job = plan::small_job();
  job.supply = {"mix", "", "L1", 60, 60, 10};
  job.runs.pop_back();  // the untraced one before
  job.requirements.guideline = "osha";
  job.groups[0].maintain_c = job.groups[0].setback_c = 55;
  job.groups[0].high_alarm_c = 65;
  job.groups[0].differential_k = 2;
  job.groups[0].sensor_lag_s = 60;
  job.outlets = {small_outlet("O1", "c", "lavatory"), small_outlet("O2", "d", "shower"),
                 small_outlet("O3", "b", "kitchen-sink")};
  job.week.comfort = {{"shower", 0.5, 30}, {"*", 0.8, 10}};
  return job;
}

struct SmallCase {
  job::Job job = washing_job();
  plan::Plan plan = plan::make_plan(job, {.samples = 0});
  ProofOptions options;

  SmallCase() {
    options.members = 4;
    options.record_every_s = 3600;
  }
  Proof prove() const { return prove_own_week(job, plan, options); }
};

/// One price at all hours of a year in which the clock is never changed.
inline Inputs flat_inputs(double price_per_kwh) {
  Inputs inputs;
  inputs.year = 2025;
  const auto zone = week::read_zone("Etc/UTC", 2025, 2025);
  if (!zone) throw std::logic_error(zone.error());
  inputs.calendar.zone = *zone;
  week::Period period{"all", {}};
  week::Tier tier;
  tier.price = price_per_kwh;
  period.tiers = {tier};
  inputs.tariff.name = "flat, invented";
  inputs.tariff.currency = "USD";
  inputs.tariff.energy.periods = {period};
  return inputs;
}

}  // namespace firstdraw::settings
