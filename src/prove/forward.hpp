// One state of the building under one hypothesis: what is warm, what flows, what the controllers see and do.
// docs/diagnosis.md, sections 1 and 2.
#pragma once

#include <optional>
#include <vector>

#include "prove/diagnosis.hpp"
#include "prove/dual.hpp"
#include "prove/forward_scope.hpp"

namespace firstdraw::prove {

/// A cause at a place of the scope, with its unknown. `place`: run, circuit, group or space of the scope, by
/// `level`.
struct Fault {
  enum class Level { none, run, circuit, group, space } level = Level::none;
  Cause cause = Cause::nothing;
  int place = -1;
  double value = 0;  // in the cause's unit; see Cause
  int sheet = -1;    // of wrong_cable and wrong_cable_entered: index into job.cables
};

/// What is not small enough to be a straight line: each evenly spread over 0...1.
struct Luck {
  double flow = 0;               // how much hot water was drawn lately
  double first = 0, second = 0;  // what a fault leaves open
};

struct RunNow {
  Dual water_c;  // where its cable is alive
  double live_frac = 1;
  double own_k = 0;  // one standard deviation of what is this run's alone
  Dual pipe_c;       // what a thermometer finds somewhere on it, and with what of its own
  double pipe_own_k = 0;
  double amp_per_k = 0;  // by which its cable's current changes with its own temperature
};
struct CircuitNow {
  bool known = false;  // false: was not asked for
  Dual amps;           // while on
  Dual feed_v;
  std::vector<Dual> far_v;  // like stretches
  int cable = -1;
};
struct GroupNow {
  Dual duty;       // share of output that the cable really gets over the last hours
  Dual called;     // share that the controller asks for
  Dual reading_c;  // at its sensor
  double reading_own_k = 0;
  bool lost = false;  // no reading at all
};
struct Now {
  std::vector<RunNow> runs;
  std::vector<CircuitNow> circuits;
  std::vector<GroupNow> groups;
};

/// Set points and the like that somebody read and that replace the job's.
struct Known {
  std::vector<std::optional<double>> set_c;  // like Scope.groups
};

class Forward {
 public:
  Forward(const Scope& scope, Known known);

  /// `circuits`: of the scope, those whose currents and temperatures are wanted; the sensors' runs always
  /// are. `minutes`: since switching on from the air's temperature; none: settled under control.
  Now now(const Fault& fault, const Luck& luck, std::optional<double> minutes,
          const std::vector<char>& circuits) const;

  /// Current over that on a pipe kept as warm as it then is, by the model of the start; 1 when the sheet
  /// gives none.
  double start_factor(int circuit, double minutes) const;

  const Scope& scope() const { return *scope_; }
  double set_c(int group) const;

 private:
  struct Setting;
  struct RunDrive;
  Dual settled(const RunDrive& drive, const Dual& duty, double& own_k) const;
  Dual warming(const ScopeRun& run, const RunDrive& drive, const Dual& duty, double minutes,
               double& own_k) const;
  Dual open_loop_duty(int group, const Setting& setting) const;
  Dual held_duty(int group, const Setting& setting, const RunDrive& drive) const;
  Dual without_sensor(int group, const Setting& setting) const;
  Dual asked_duty(int group, const Setting& setting, const RunDrive* drive) const;
  bool read_elsewhere(int group, const Setting& setting, Now& now) const;
  RunDrive drive_of(int run, const Setting& setting, const Dual& volts) const;
  void control(int group, const Setting& setting, const RunDrive* sensor, Now& now) const;
  Dual volts_at(int run, const Setting& setting) const;
  void warm(int run, const Setting& setting, std::optional<double> minutes, Now& now) const;
  void read_sensor(int group, const Setting& setting, std::optional<double> minutes, Now& now) const;
  void ladder(int circuit, const Setting& setting, Now& now) const;

  const Scope* scope_;
  Known known_;
};

}  // namespace firstdraw::prove
