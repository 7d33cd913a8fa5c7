// Ground-fault protection: trip current, trip time, test button, and what leaks all the time.
#include <fmt/format.h>

#include <algorithm>

#include "prove/bench.hpp"
#include "rules/field_limits.hpp"

namespace firstdraw::prove {
namespace {

constexpr std::string_view replace_device =
    "Do not leave the circuit energised: have the device replaced and test the new one.";

/// Sum of what the data sheet's capacitance leaves open and what the formula leaves out.
constexpr double leakage_frac = 0.2;

std::string milliamperes(double current_a) { return fmt::format("{:.3g} mA", 1000 * current_a); }

struct TripBand {
  double least_a = 0, most_a = 0;
  std::vector<rules::Citation> sources;
};

TripBand trip_band(const Bench& bench, double rated_a) {
  const rules::RuleSet rules = bench.job().requirements.rules;
  if (rules == rules::RuleSet::us) {
    const auto least = rules::field_limit(rules, "trip-least"), most = rules::field_limit(rules, "trip-most");
    return {least.value, most.value, {most.citation}};
  }
  const auto least = rules::field_limit(rules, "trip-band-least");
  const auto most = rules::field_limit(rules, "trip-band-most");
  return {least.value * rated_a, most.value * rated_a, {most.citation}};
}

void advise_on_trip(const Reading& reading, const TripBand& band, Verdict& verdict) {
  if (verdict.grade == Grade::pass) return;
  if (reading.value < band.least_a) {
    verdict.suspect =
        "The device is too sensitive for this use, of the wrong type, or the standing leakage of the circuit "
        "was added to the tester's current.";
    verdict.to_do =
        "Repeat with the heating cable disconnected; if it stays low check the device's type and setting.";
  } else {
    verdict.suspect = "The device is set too high, of the wrong type, or faulty.";
    verdict.to_do = std::string(replace_device);
  }
}

/// The multiple of the table that is not above `times`; 0 when below all.
int table_multiple(double times) { return times >= 5 ? 5 : times >= 2 ? 2 : times >= 1 ? 1 : 0; }

}  // namespace

void judge_trip_current(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const double rated_a = bench.circuit(reading.circuit)->ground_fault_trip_a;
  const TripBand band = trip_band(bench, rated_a);
  verdict.expected.least = band.least_a;
  verdict.expected.most = band.most_a;
  verdict.expected.usual = rated_a;
  verdict.sources = band.sources;
  // The device opens somewhere within the band: the tester's error counts against the reading on both sides.
  grade_between(reading, instrument_error(reading), verdict);
  verdict.said = fmt::format("Opened at {}; {} to {} is the band, the circuit is planned for {}.",
                             milliamperes(reading.value), milliamperes(band.least_a),
                             milliamperes(band.most_a), milliamperes(rated_a));
  advise_on_trip(reading, band, verdict);
  if (reading.value - instrument_error(reading) > rated_a)
    lower_to_doubt(verdict, "The device opens above the setting that the circuit is planned for.",
                   "Check the setting of the device against the circuit schedule.");
}

void judge_trip_time(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const rules::RuleSet rules = bench.job().requirements.rules;
  const int multiple = reading.times_rated ? table_multiple(*reading.times_rated) : 1;
  if (multiple == 0) {
    verdict.grade = Grade::doubt;
    verdict.said = fmt::format("{} at {:g} times the rated current: no limit is set below the rated current.",
                               bench.value(reading), *reading.times_rated);
    verdict.suspect = "The test current was below the rated one.";
    verdict.to_do = "Repeat at 1 and at 5 times the rated current.";
    return;
  }
  const auto limit = rules::field_limit(rules, fmt::format("trip-time-{}", multiple));
  verdict.sources = {limit.citation};
  grade_at_most(reading, limit.value, verdict);
  verdict.said = fmt::format("Opened after {}; at most {} at {} times the rated current, general type.",
                             bench.value(reading), bench.value(reading.what, limit.value), multiple);
  if (!reading.times_rated)
    verdict.assumed.emplace_back("tested at the rated current: how many times it is not on record");
  if (verdict.grade != Grade::pass) {
    verdict.suspect = "A slow or delayed device, or a tester current below the one noted.";
    verdict.to_do = std::string(replace_device);
  }
  if (rules == rules::RuleSet::us) {
    verdict.warnings.emplace_back(
        "the US code gives no time for equipment ground-fault protection: the IEC times are for comparison, "
        "the device's instructions decide");
    if (verdict.grade == Grade::fail) verdict.grade = Grade::doubt;
  }
}

void judge_trip_button(const Bench&, const Reading& reading, Verdict& verdict) {
  verdict.grade = reading.value != 0 ? Grade::pass : Grade::fail;
  verdict.expected.least = 1;
  verdict.said = reading.value != 0 ? "The test button opened the device and it reset."
                                    : "The test button did not open the device, or it did not reset.";
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = "The device is faulty, or was not energised while it was tested.";
  verdict.to_do = std::string(replace_device);
}

void judge_leakage(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const power::Circuit& circuit = *bench.circuit(reading.circuit);
  const auto rule = rules::ground_fault(bench.job().requirements.rules);
  const double limit_a = rule.standing_leakage_max_frac * circuit.ground_fault_trip_a;
  verdict.sources = {rule.citation};
  verdict.expected.usual = circuit.leakage_a;
  verdict.expected.because.push_back(fmt::format(
      "the cable's capacitance explains {} at most, ±{:.0f} %: our choice, the data sheet's value is nominal",
      milliamperes(circuit.leakage_a), 100 * leakage_frac));
  grade_at_most(reading, limit_a, verdict);
  verdict.said = fmt::format("{} to earth; at most {:.0f} % of the {} setting, {}, is allowed.",
                             bench.value(reading), 100 * rule.standing_leakage_max_frac,
                             milliamperes(circuit.ground_fault_trip_a), milliamperes(limit_a));
  if (verdict.grade != Grade::pass) {
    verdict.suspect = "Moisture or a hurt jacket, or more cable behind the device than planned.";
    verdict.to_do =
        "Measure insulation resistance of the circuit, branch by branch. " + std::string(mains_caution);
  }
  const double explained_a = (1 + leakage_frac) * circuit.leakage_a;
  if (reading.value - instrument_error(reading) > explained_a)
    lower_to_doubt(
        verdict,
        fmt::format("More leaks than the capacitance of the cable explains ({}): moisture, or other "
                    "loads within the clamp.",
                    milliamperes(circuit.leakage_a)),
        "Clamp both supply conductors of this circuit alone; if it stays, measure insulation "
        "resistance. " +
            std::string(mains_caution));
}

}  // namespace firstdraw::prove
