// Insulation resistance of the heating cable and of its supply wiring: three limits that are kept apart.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "prove/bench.hpp"
#include "prove/instruments.hpp"
#include "rules/field_limits.hpp"

namespace firstdraw::prove {
namespace {

using units::Kind;

constexpr double wiring_class_250_v = 250;  // above: 600 V class

constexpr std::string_view discharge =
    " Discharge the cable after the test; nobody may be in reach of it meanwhile.";

struct TestVoltage {
  double least_v = 0, most_v = 0;
  rules::Citation citation;
};

/// A test below the least voltage proves nothing; one above the most may hurt what it tests.
void judge_test_voltage(const TestVoltage& test, const Reading& reading, Verdict& verdict) {
  if (!reading.test_voltage_v) {
    verdict.warnings.push_back(
        fmt::format("the test voltage is not on record: at least {:g} V dc is asked for", test.least_v));
    return lower_to_doubt(
        verdict, "The test may have been made at too low a voltage.",
        fmt::format("Repeat it at {:g} V dc or more and write the voltage down.", test.least_v) +
            std::string(discharge));
  }
  const double volts = *reading.test_voltage_v;
  if (volts < test.least_v) {
    verdict.warnings.push_back(fmt::format("tested at {:g} V dc: at least {:g} V dc is asked for ({})", volts,
                                           test.least_v, test.citation.text()));
    lower_to_doubt(verdict, "A weak place in the insulation does not show at so low a voltage.",
                   fmt::format("Repeat it at {:g} V dc or more.", test.least_v) + std::string(discharge));
  } else if (volts > test.most_v) {
    verdict.warnings.push_back(
        fmt::format("tested at {:g} V dc, above {:g} V dc: the cable maker's instructions say what it bears",
                    volts, test.most_v));
    lower_to_doubt(verdict, "The test voltage may have been more than the insulation is made for.",
                   fmt::format("Look up the cable maker's test voltage and repeat the test at {:g} V dc or "
                               "what the maker allows.",
                               test.least_v) +
                       std::string(discharge));
  }
}

std::string tested_at(const Reading& reading) {
  return reading.test_voltage_v ? fmt::format(" at {:g} V dc", *reading.test_voltage_v) : "";
}

/// "at 20 °C about 85 MΩ (64 to 128); 4.1 GΩ·m over 48 m": the 10 K rule may be off by -25 % to +50 % over 20
/// K (reference table insulation_resistance_temperature.csv), here in proportion of the exponent.
std::string meaning(const Bench& bench, const Reading& reading, Verdict& verdict, double length_m) {
  const std::string sign = reading.at_least ? "more than " : "";
  std::string text;
  if (reading.cable_c) {
    verdict.corrected = insulation_ohm_at_20(reading.value, *reading.cable_c);
    const double spread = (*reading.cable_c - 20) / 20;
    const auto [low, high] = std::minmax({std::pow(0.75, spread), std::pow(1.5, spread)});
    text =
        fmt::format("at {} {}{}", bench.celsius(20), sign, bench.show(verdict.corrected, Kind::resistance));
    if (spread != 0)
      text += fmt::format(" ({} to {}: halving every 10 K is a rough rule)",
                          bench.show(verdict.corrected * low, Kind::resistance),
                          bench.show(verdict.corrected * high, Kind::resistance));
    text += "; ";
  }
  const bool us = bench.job().units == units::System::us;
  const double per = us ? 304.8 : 1000;
  return text + fmt::format("{}{:.3g} MΩ per {} over {}", sign, reading.value * length_m / per / 1e6,
                            us ? "1000 ft" : "km", bench.length(length_m));
}

/// The sound cable of an earlier test, brought to this one's temperature.
void expect_as_before(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const Reading* before = nullptr;
  for (const Reading& other : bench.readings()) {
    if (&other == &reading) break;
    if (other.what == reading.what && other.circuit == reading.circuit) before = &other;
  }
  if (!before) return;
  const double at_20 = insulation_ohm_at_20(before->value, before->cable_c.value_or(20));
  verdict.expected.usual = at_20 * std::exp2((20 - reading.cable_c.value_or(20)) / 10);
  verdict.expected.because.push_back(
      fmt::format("the reading before this one, {}, brought to this temperature", bench.value(*before)));
}

void say_insulation(const Bench& bench, const Reading& reading, const std::string& wanted, Verdict& verdict) {
  verdict.said =
      fmt::format("{}{}; at least {} is wanted.", bench.value(reading), tested_at(reading), wanted);
}

}  // namespace

void judge_insulation(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const rules::RuleSet rules = bench.job().requirements.rules;
  const auto limit = rules::field_limit(rules, "heater-insulation");
  const auto least = rules::field_limit(rules, "heater-test-voltage");
  const auto most = rules::field_limit(rules, "heater-test-voltage-most");
  verdict.sources = {limit.citation};
  grade_at_least(reading, limit.value, verdict);
  verdict.expected.because.emplace_back("the limit holds at any length and is not corrected for temperature");
  expect_as_before(bench, reading, verdict);
  say_insulation(bench, reading, bench.show(limit.value, Kind::resistance) + " at any length", verdict);
  if (const power::Circuit* circuit = bench.circuit(reading.circuit))
    verdict.means = meaning(bench, reading, verdict, circuit->cable_length_m);
  if (!reading.cable_c)
    verdict.assumed.emplace_back(
        "the temperature of the cable is not on record: no value at 20 °C (68 °F) is given");
  if (verdict.grade != Grade::pass) {
    verdict.suspect = verdict.grade == Grade::fail
                          ? "Moisture in an end seal, splice or power connection, or a hurt jacket."
                          : "The tester's own error reaches over the limit: moisture or a hurt jacket cannot "
                            "be ruled out.";
    verdict.to_do =
        "Do not energise. Open and dry the connections, test each branch alone to find the bad one, repair "
        "it "
        "and test again. " +
        std::string(mains_caution) + std::string(discharge);
  }
  judge_test_voltage({least.value, most.value, least.citation}, reading, verdict);
}

void judge_supply_insulation(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const rules::RuleSet rules = bench.job().requirements.rules;
  const power::Circuit* circuit = bench.circuit(reading.circuit);
  const bool low = bench.panel_of(*circuit).voltage_v <= wiring_class_250_v;
  const auto limit = rules::field_limit(rules, low ? "supply-insulation-250" : "supply-insulation-600");
  const auto test = rules::field_limit(rules, low ? "supply-test-voltage-250" : "supply-test-voltage-600");
  verdict.sources = {limit.citation};
  grade_at_least(reading, limit.value, verdict);
  say_insulation(bench, reading, bench.show(limit.value, Kind::resistance) + " for supply wiring", verdict);
  if (verdict.grade != Grade::pass) {
    verdict.suspect = "Moist or hurt supply wiring, or something still connected to it.";
    verdict.to_do =
        "Disconnect the heating cable and all electronics and test again, conductor by conductor. " +
        std::string(mains_caution);
  }
  judge_test_voltage({test.value, std::max(1000.0, test.value), test.citation}, reading, verdict);
}

}  // namespace firstdraw::prove
