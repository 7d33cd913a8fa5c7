// Readings as the forward model sees them: what a reading is of, what each state says it should be, and how
// surely.
#pragma once

#include <span>
#include <string>
#include <utility>
#include <vector>

#include "prove/forward.hpp"

namespace firstdraw::prove {

struct Observable {
  What what{};
  int circuit = -1, group = -1, run = -1, space = -1;  // of the scope
  std::optional<double> minutes{};
  double start_factor = 1;       // current over that on a pipe as warm as it then is
  std::optional<bool> called{};  // of a contactor
  bool walked = false;           // of insulation that was found bad on a walk along its circuit
  bool operator==(const Observable&) const = default;
};

/// What a state says of it.
struct Outcome {
  enum class Kind { silent, number, yes_no, which } kind = Kind::silent;
  Dual mean;                                  // number; insulation resistance: log10 of ohms
  double own_var = 0;                         // of the model, this reading alone
  std::vector<std::pair<int, double>> own{};  // by run of the scope: change with one sigma of what is its own
  bool lost = false;                          // number: no reading at all, whatever `mean` says
  double yes_prob = 0;                        // yes_no
  int sheet = -1, choices = 0;                // which: of the sheets, or of sensor_positions()
};
/// `now`: with the circuits that `needs` names.
Outcome outcome(const Forward& forward, const Fault& fault, const Luck& luck, const Now& now,
                const Observable& of);

/// Something measured.
struct Observation {
  Observable of;
  double value = 0;                       // as Outcome.mean
  double error_var = 0;                   // of the instrument
  double low = 0, high = 1;               // what such a reading could be at all
  bool at_least = false, absurd = false;  // absurd: no reading a sensor can give
  int sheet = -1;                         // which: -1: none that is known
  std::string said;                       // for people
};
/// What is read from the readings: several for one that names its circumstances. Complaints of what cannot be
/// used go to `warnings`; set points in force into `known`.
struct Observed {
  std::vector<Observation> all;
  Known known;
  std::vector<std::string> used, assumed, warnings;
};
Observed observe(const Scope& scope, std::span<const Reading> readings);

/// One as it would be, for a measurement not yet made: with the usual instrument.
Observation to_be_made(const Scope& scope, const Observable& of);
/// Variance of the instrument's error at a value.
double error_var(What what, double value, const std::optional<InstrumentError>& error);

/// Circuits of the scope whose currents and temperatures these need.
std::vector<char> circuits_of(const Scope& scope, std::span<const Observation> all);

}  // namespace firstdraw::prove
