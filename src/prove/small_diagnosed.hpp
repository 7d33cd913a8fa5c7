// The small invented building of the diagnosis's tests, its readings and a fault.
#pragma once

#include "plan/small_job.hpp"
#include "prove/forward.hpp"

namespace firstdraw::prove {

struct Small {
  job::Job job = plan::small_job();
  plan::Plan plan;
  Small() {
    plan::Options unsampled;
    unsampled.samples = 0;
    plan = plan::make_plan(job, unsampled);
  }
  const power::Circuit& circuit() const { return plan.circuits.front(); }
};

inline const Small& small() {
  static const Small made;
  return made;
}

inline Reading of_circuit(What what, double value) {
  Reading reading;
  reading.what = what;
  reading.circuit = small().circuit().id;
  reading.value = value;
  return reading;
}
inline Reading of_group(What what, double value) {
  Reading reading;
  reading.what = what;
  reading.group = "main";
  reading.value = value;
  return reading;
}
inline Reading of_run(What what, const char* run, double value) {
  Reading reading;
  reading.what = what;
  reading.run = run;
  reading.value = value;
  return reading;
}

/// Insulation of a run of the scope, this many times as conductive.
inline Fault wet(int run, double factor) {
  Fault fault;
  fault.cause = Cause::wet_insulation;
  fault.level = Fault::Level::run;
  fault.place = run;
  fault.value = factor;
  return fault;
}

/// The forward model of the circuit.
struct SmallModel {
  Scope scope{small().job, small().plan, std::vector<Reading>{of_circuit(What::current, 1)}};
  Forward forward{scope, {}};
};

}  // namespace firstdraw::prove
