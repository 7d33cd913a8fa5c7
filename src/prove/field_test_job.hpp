// The plan that the tests of readings judge by: the small invented building, unsampled.
#pragma once

#include <algorithm>
#include <stdexcept>

#include "plan/small_job.hpp"
#include "prove/verdict.hpp"

namespace firstdraw::prove {

struct FieldJob {
  job::Job job = plan::small_job();
  plan::Plan plan;

  explicit FieldJob(rules::RuleSet rules = rules::RuleSet::us) {
    job.requirements.rules = rules;
    job::Outlet outlet;
    outlet.id = "T1";
    outlet.node = "c";
    outlet.fixture = "lavatory";
    outlet.space = "ceiling";
    outlet.runout_pipe = plan::pipe_named("copper L 1/2");
    outlet.runout_length_m = 2;
    job.outlets = {outlet};
    plan = plan::make_plan(job, {0, 1, 1});
    if (plan.circuits.size() != 1) throw std::logic_error("one circuit was expected");
  }

  const power::Circuit& circuit() const { return plan.circuits[0]; }
  const physics::CableSheet& sheet() const { return job.cables[static_cast<std::size_t>(circuit().cable)]; }

  /// At its place and with an instrument that leaves nothing to warn of.
  Reading reading(What what, double value, std::optional<Stage> stage = {}) const {
    Reading reading;
    reading.what = what;
    reading.value = value;
    reading.stage = stage;
    const std::string_view place = help_of(what).place;
    if (place == "circuit") reading.circuit = circuit().id;
    if (place == "group") reading.group = job.groups[0].id;
    if (place == "run") reading.run = "R2";
    if (place == "outlet") reading.run = "T1";
    if (what == What::sensor_resistance) reading.sensor_kind = "pt100";
    if (what == What::insulation_resistance) reading.test_voltage_v = 1000;
    reading.instrument = {"meter", "0001", "", usual_error(what)};
    return reading;
  }
  std::vector<Verdict> judge(const std::vector<Reading>& readings) const {
    return prove::judge(job, plan, readings);
  }
  Verdict judge_one(const Reading& reading) const { return judge({reading}).front(); }
  Grade grade(const Reading& reading) const { return judge_one(reading).grade; }
};

/// One of each for all tests of a program.
inline const FieldJob& us() {
  static const FieldJob field;
  return field;
}
inline const FieldJob& intl() {
  static const FieldJob field(rules::RuleSet::intl);
  return field;
}

}  // namespace firstdraw::prove
