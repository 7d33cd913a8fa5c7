// What is wrong? Every cause is the same forward model with one thing changed and one or two unknowns with a
// prior; the likelihood of the readings, integrated over unknowns and tolerances, gives the odds; the next
// measurement is the one expected to tell most per minute of work. docs/diagnosis.md.
#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.hpp"
#include "prove/reading.hpp"

namespace firstdraw::prove {

enum class Cause {
  nothing,              // all as planned
  dead_length,          // run, from `value` m along the circuit's way from its feed on
  wrong_voltage,        // circuit or group, V
  wrong_cable,          // circuit or group, `what`: the sheet that is fitted
  wet_insulation,       // run, factor on conductivity
  missing_insulation,   // run
  sensor_beside_cable,  // group
  sensor_upstream,      // group
  sensor_unplugged,     // group
  sensor_off_pipe,      // group: reads the air
  wrong_ambient,        // group, degC entered
  wrong_cable_entered,  // group, `what`: the sheet the controller was told
  contactor_stuck_on,   // group
  contactor_stuck_off,  // group
  breaker_open,         // circuit
  ageing_cable,         // circuit or group, share of the data sheet's output
  colder_air,           // space or group, K below what was assumed
  none_of_these,        // something the list does not hold
};
struct CauseHelp {
  Cause cause{};
  std::string_view id;     // "dead-length"
  std::string_view title;  // "Part of the cable is dead"
  double prior = 0;        // of jobs that are looked at because something seems wrong: our choice, no source
};
std::span<const CauseHelp> cause_help();

struct Interval {
  double low = 0, usual = 0, high = 0;  // 5 %, 50 %, 95 %
};

struct Suspect {
  Cause cause{};
  std::string place;                // id of circuit, group, run or space: the likeliest one
  double probability = 0;           // over all places of that cause
  double at_place = 0;              // of that, at `place`
  std::optional<Interval> value{};  // in the cause's unit; none: the cause has none
  std::string what{};               // of wrong_cable and wrong_cable_entered: the sheet
  std::string said;                 // one sentence, with the figure and its interval, in the job's units
  std::string to_do;                // what would settle or repair it
};

/// A measurement worth making.
struct Proposal {
  What what{};
  std::string place, how;      // where; one sentence how, with its caution
  double minutes = 0;          // of work, our choice
  double information_bit = 0;  // expected, about which cause it is
  double bit_per_minute = 0;
  /// What it would show under the leading causes: "0.9 to 1.3 A if the cable is dead beyond R7".
  std::vector<std::string> tells{};
};

struct DiagnosisOptions {
  int samples = 2000;  // of the unknowns and tolerances, for each cause
  std::uint64_t seed = 1;
  int threads = 1;
  int proposals = 5;
  double none_prior = 0.03;
};

struct Diagnosis {
  std::vector<Suspect> suspects;  // likeliest first; probabilities sum to 1
  std::vector<Proposal> next;     // most information per minute first; empty when nothing would tell
  bool settled = false;           // the first is at 0.9 or more
  std::vector<std::string> assumed, warnings;
  std::vector<std::string>
      used;  // which readings it rests on, in words; readings it cannot use are warned of
};

/// Readings of one visit. Deterministic for any number of threads.
Diagnosis diagnose(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings,
                   const DiagnosisOptions& options = {});

/// schemas/diagnosis.schema.json.
nlohmann::json to_json(const job::Job& job, const Diagnosis& diagnosis);

}  // namespace firstdraw::prove
