// What every judge of readings needs: the plan by id, the other readings, and the arithmetic of bands.
// Private to the room.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.hpp"
#include "prove/reading.hpp"
#include "prove/verdict.hpp"

namespace firstdraw::prove {

/// Said wherever somebody is sent to a place with mains.
inline constexpr std::string_view mains_caution =
    "Switch off, lock out and prove dead before anything is opened; a licensed electrician works on it.";

class Bench {
 public:
  Bench(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings)
      : job_(job), plan_(plan), readings_(readings) {}

  const job::Job& job() const { return job_; }
  const plan::Plan& plan() const { return plan_; }
  std::span<const Reading> readings() const { return readings_; }

  const power::Circuit* circuit(std::string_view id) const;  // null when the plan has none of this name
  int circuit_index(std::string_view id) const;              // piping::none likewise
  const job::ControlGroup* group(std::string_view id) const;
  int group_index(std::string_view id) const;
  int run_index(std::string_view id) const;
  const job::Panel& panel_of(const power::Circuit& circuit) const;
  const physics::CableSheet& sheet_of(const power::Circuit& circuit) const;

  /// The reading of `what` at the same place (`same` compares) that belongs best to `reading`: same visit
  /// (day), else same stage. Null when there is none of either.
  template <class Same>
  const Reading* companion(const Reading& reading, What what, Same same) const;

  std::string show(double value, units::Kind kind) const { return units::show(value, kind, job_.units); }
  std::string length(double length_m) const { return show(length_m, units::Kind::length); }
  std::string celsius(double temp_c) const { return show(temp_c, units::Kind::temperature); }
  std::string kelvin(double diff_k) const { return show(diff_k, units::Kind::temperature_difference); }
  /// As written, with ">" where the range ended; milliamperes where they suit.
  std::string value(const Reading& reading) const;
  std::string value(What what, double value) const;

 private:
  const job::Job& job_;
  const plan::Plan& plan_;
  std::span<const Reading> readings_;
};

/// The day of a reading, "" when it has none.
std::string_view day_of(const Reading& reading);
bool same_visit(const Reading& a, const Reading& b);

template <class Same>
const Reading* Bench::companion(const Reading& reading, What what, Same same) const {
  const Reading* by_stage = nullptr;
  for (const Reading& other : readings_) {
    if (&other == &reading || other.what != what || !same(other)) continue;
    if (same_visit(other, reading)) return &other;
    if (other.stage == reading.stage && day_of(other).empty()) by_stage = &other;
  }
  return by_stage;
}

/// Limit of error of the instrument for this reading, SI of the reading.
double instrument_error(const Reading& reading, double value);
double instrument_error(const Reading& reading);
/// "the meter is good to ±2 % + 0.05 A"; whether it is the instrument's own or the usual one.
std::string instrument_sentence(const Bench& bench, const Reading& reading);
/// Fills because, assumed and warnings with what is known of the instrument.
void count_instrument(const Bench& bench, const Reading& reading, Verdict& verdict);

/// Independent contributions to a band, each a half-width: together by root of the sum of squares for the
/// band of a pass, added up for the limit beyond which a reading fails.
class Spread {
 public:
  void add(double half_width) {
    squares_ += half_width * half_width;
    sum_ += half_width > 0 ? half_width : -half_width;
  }
  double likely() const;
  double worst() const { return sum_; }

 private:
  double squares_ = 0, sum_ = 0;
};

/// Pass within least...most; doubt when `reach` leads back over the limit that is passed; else fail.
void grade_between(const Reading& reading, double reach, Verdict& verdict);
/// usual ± spread.
void grade_around(const Reading& reading, double usual, const Spread& spread, Verdict& verdict);
/// One-sided limits: a pass keeps off the limit by the instrument's error.
void grade_at_least(const Reading& reading, double limit, Verdict& verdict);
void grade_at_most(const Reading& reading, double limit, Verdict& verdict);
void no_expectation(Verdict& verdict, std::string said);
/// Passes go to doubt, with what to suspect and to do; fails stay as they are.
void lower_to_doubt(Verdict& verdict, std::string suspect, std::string to_do);

// Judges, by kind of reading.
void judge_insulation(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_supply_insulation(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_loop(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_open(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_capacitance(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_continuity(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_earth(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_trip_current(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_trip_time(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_trip_button(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_leakage(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_sensor(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_supply_voltage(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_far_voltage(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_current(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_pipe_temperature(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_air_temperature(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_sensor_reading(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_duty(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_set_point(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_entered_ambient(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_tap(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_surface(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_insulation_seen(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_sensor_position(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_marking(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_contactor(const Bench& bench, const Reading& reading, Verdict& verdict);
void judge_breaker(const Bench& bench, const Reading& reading, Verdict& verdict);

}  // namespace firstdraw::prove
