// Voltage at the power connection and at the far end, current, and the states of breaker and contactor.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "plan/expect.hpp"
#include "prove/bench.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using units::Kind;

// Nominal voltages that are mistaken for one another, and how near one must be to be named.
constexpr std::array nominal_v{120.0, 208.0, 230.0, 240.0, 277.0, 347.0, 400.0, 480.0, 600.0};
constexpr double named_within_frac = 0.06;
constexpr double dead_v = 10;
constexpr double model_frac = 0.05;  // of the current, beyond the data sheet's tolerance: our choice
constexpr double no_load_frac = 0.02, no_load_a = 0.1;

/// The nominal voltage nearest to what was measured; nullopt when none is near.
std::optional<double> nominal_near(double volts) {
  const auto nearest = std::ranges::min_element(
      nominal_v, {}, [volts](double nominal) { return std::abs(volts / nominal - 1); });
  if (std::abs(volts / *nearest - 1) > named_within_frac) return std::nullopt;
  return *nearest;
}

void advise_on_voltage(const Bench& bench, const Reading& reading, const power::Circuit& circuit,
                       Verdict& verdict) {
  const job::Panel& panel = bench.panel_of(circuit);
  const auto nominal = nominal_near(reading.value);
  if (reading.value < dead_v) {
    verdict.suspect = "The circuit is not energised: breaker or contactor open, or a broken conductor.";
    verdict.to_do = "Look at breaker and contactor first. " + std::string(mains_caution);
  } else if (nominal && std::abs(*nominal / panel.voltage_v - 1) > 0.02) {
    verdict.suspect = fmt::format(
        "This is a {:g} V supply where {:g} V is planned: the breaker takes the wrong poles or phases, or "
        "the "
        "panel was described wrongly.",
        *nominal, panel.voltage_v);
    verdict.to_do =
        "Do not energise the cable. Correct the connection in the panel, or the job and its cable. " +
        std::string(mains_caution);
  } else {
    verdict.suspect = "A weak or overloaded supply, a wrong transformer tap, or a loose connection.";
    verdict.to_do = "Measure at the panel with and without load and compare. " + std::string(mains_caution);
  }
}

/// The pipe's temperature while the current was read: with the reading, else a thermometer on its runs.
std::optional<double> pipe_c_of(const Bench& bench, const Reading& reading, const power::Circuit& circuit) {
  if (reading.cable_c) return reading.cable_c;
  double sum_c = 0;
  int count = 0;
  for (const Reading& other : bench.readings()) {
    if (other.what != What::pipe_temperature || !same_visit(other, reading)) continue;
    if (other.minutes != reading.minutes) continue;
    const int run = bench.run_index(other.run);
    if (run == piping::none || std::ranges::find(circuit.runs, run) == circuit.runs.end()) continue;
    sum_c += other.value;
    ++count;
  }
  if (count == 0) return std::nullopt;
  return sum_c / count;
}

std::optional<double> volts_of(const Bench& bench, const Reading& reading) {
  if (reading.volts) return reading.volts;
  const Reading* other = bench.companion(reading, What::supply_voltage, [&](const Reading& candidate) {
    return candidate.circuit == reading.circuit;
  });
  if (!other || !same_visit(*other, reading)) return std::nullopt;
  return other->value;
}

void advise_on_current(const Bench& bench, const Reading& reading, const power::Circuit& circuit,
                       Verdict& verdict) {
  if (verdict.grade == Grade::pass) return;
  const double usual_a = verdict.expected.usual;
  if (reading.value < std::max(no_load_a, no_load_frac * usual_a)) {
    verdict.suspect =
        "Nothing is drawn: breaker or contactor open, the controller does not call for heat, or the cable is "
        "broken at the power connection.";
    verdict.to_do =
        "Look at breaker, contactor and controller, then measure voltage at the power connection. " +
        std::string(mains_caution);
  } else if (reading.value < usual_a) {
    verdict.suspect = fmt::format(
        "About {:.0f} % of the cable does not heat (dead length, a branch not connected), the voltage is "
        "low, "
        "the pipe is warmer than noted, or the cable has aged.",
        100 * (1 - reading.value / usual_a));
    verdict.to_do = "Measure the pipe at every branch end, then capacitance. " + std::string(mains_caution);
  } else {
    verdict.suspect =
        reading.minutes ? "The pipe is colder than noted, the voltage higher, or another cable is connected."
                        : "The cable is still warming up, the pipe is colder than noted, the voltage higher, "
                          "or more or another cable is connected.";
    verdict.to_do = fmt::format(
        "Note minutes since switching on, pipe temperature and voltage and read again; "
        "read the marking of the cable on {}.",
        circuit.id);
  }
  if (const double error = instrument_error(reading, usual_a); error > 0.1 * usual_a)
    verdict.warnings.push_back(fmt::format(
        "the meter's error, {}, is large against this current: loop the conductor several times through the "
        "clamp and divide",
        bench.value(What::current, error)));
}

void no_current_expected(const Bench& bench, const Reading& reading, const plan::Expectation& expectation,
                         Verdict& verdict) {
  verdict.grade = Grade::fail;
  verdict.said = fmt::format("{} drawn, but {}.", bench.value(reading), expectation.why_none);
  verdict.suspect = "The cable is on a voltage its data sheet does not list.";
  verdict.to_do = "Switch off and correct the supply before it is used. " + std::string(mains_caution);
}

}  // namespace

void judge_supply_voltage(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const power::Circuit& circuit = *bench.circuit(reading.circuit);
  const job::Panel& panel = bench.panel_of(circuit);
  const double drop_v = circuit.feeder_drop_frac * panel.voltage_v;
  const bool loaded = reading.stage == Stage::energised || reading.stage == Stage::periodic;
  verdict.expected.usual = panel.voltage_v - (loaded ? drop_v : 0);
  verdict.expected.least = panel.low_frac * panel.voltage_v - (loaded ? drop_v : 0);
  verdict.expected.most = panel.high_frac * panel.voltage_v;
  verdict.expected.because.push_back(fmt::format("panel {}: {:.0f} % to {:.0f} % of {:g} V, as designed",
                                                 panel.id, 100 * panel.low_frac, 100 * panel.high_frac,
                                                 panel.voltage_v));
  if (loaded)
    verdict.expected.because.push_back(
        fmt::format("under load up to {:.1f} V are lost in the wiring", drop_v));
  grade_between(reading, instrument_error(reading), verdict);
  verdict.said =
      fmt::format("{:.4g} V at the power connection; {:.4g} V to {:.4g} V is within the design of {:g} V.",
                  reading.value, verdict.expected.least, verdict.expected.most, panel.voltage_v);
  if (verdict.grade != Grade::pass) advise_on_voltage(bench, reading, circuit, verdict);
  const physics::HeatingCable cable(bench.sheet_of(circuit));
  if (reading.value > dead_v && !power::gives_output_at(cable, reading.value))
    verdict.warnings.push_back(
        fmt::format("the data sheet of {} does not list {:.4g} V", cable.sheet().id, reading.value));
}

void judge_far_voltage(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const int index = bench.circuit_index(reading.circuit);
  const auto volts = volts_of(bench, reading);
  const plan::SiteReading site{reading.cable_c, volts, std::nullopt};
  const plan::Expectation expectation = plan::expect_current(bench.job(), bench.plan(), index, site);
  verdict.assumed.insert(verdict.assumed.end(), expectation.assumed.begin(), expectation.assumed.end());
  if (!expectation.now.covered) return no_current_expected(bench, reading, expectation, verdict);
  const power::Circuit& circuit = bench.plan().circuits[at(index)];
  const job::Panel& panel = bench.panel_of(circuit);
  const double fed_v = expectation.now.volts, drop_v = fed_v - expectation.now.far_v;
  const double supply_frac =
      volts ? plan::usual_site_tolerance.voltage_frac : std::max(1 - panel.low_frac, panel.high_frac - 1);
  const double draw_frac = bench.sheet_of(circuit).output_tolerance_frac + 0.1;
  Spread spread;
  spread.add(supply_frac * fed_v);
  spread.add(draw_frac * drop_v);
  spread.add(instrument_error(reading));
  verdict.expected.because.push_back(
      fmt::format("supply ±{:.0f} %; the fall along the cable, {:.1f} V, ±{:.0f} %: data sheet and bus wires "
                  "warmer than the pipe",
                  100 * supply_frac, drop_v, 100 * draw_frac));
  grade_around(reading, expectation.now.far_v, spread, verdict);
  verdict.expected.most =
      std::min(verdict.expected.most, fed_v * (1 + supply_frac) + instrument_error(reading));
  verdict.said = fmt::format("{:.4g} V at the far end; {:.4g} V to {:.4g} V expected.", reading.value,
                             verdict.expected.least, verdict.expected.most);
  if (verdict.grade == Grade::pass) return;
  verdict.suspect =
      reading.value < dead_v ? "A bus wire is broken before this end: everything beyond is dead."
      : reading.value < expectation.now.far_v
          ? "More current or more resistance on the way than planned: a bad splice, or a longer or "
            "colder cable."
          : "The supply is higher than planned, or this is not the farthest end.";
  verdict.to_do = "Measure at the tees and splices on the way. " + std::string(mains_caution);
}

void judge_current(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const int index = bench.circuit_index(reading.circuit);
  const power::Circuit& circuit = bench.plan().circuits[at(index)];
  const plan::SiteReading site{pipe_c_of(bench, reading, circuit), volts_of(bench, reading), reading.minutes};
  const plan::Expectation expectation = plan::expect_current(bench.job(), bench.plan(), index, site);
  verdict.assumed.insert(verdict.assumed.end(), expectation.assumed.begin(), expectation.assumed.end());
  verdict.warnings.insert(verdict.warnings.end(), expectation.warnings.begin(), expectation.warnings.end());
  if (!expectation.now.covered) return no_current_expected(bench, reading, expectation, verdict);
  auto& expected = verdict.expected;
  expected.because.insert(expected.because.begin(), expectation.reasons.begin(), expectation.reasons.end());
  expected.because.push_back(
      fmt::format("the model of the cable ±{:.0f} % beyond that: our choice", 100 * model_frac));
  expected.usual = expectation.now.current_a;
  expected.least =
      std::max(0.0, expectation.now.least_a - instrument_error(reading, expectation.now.least_a));
  expected.most = expectation.now.most_a + instrument_error(reading, expectation.now.most_a);
  grade_between(reading, model_frac * expected.usual, verdict);
  verdict.said = fmt::format("{} drawn; {:.2f} A to {:.2f} A expected{}.", bench.value(reading),
                             expected.least, expected.most,
                             reading.minutes ? fmt::format(" {:g} min after switching on", *reading.minutes)
                                             : std::string(", settled"));
  advise_on_current(bench, reading, circuit, verdict);
}

void judge_breaker(const Bench&, const Reading& reading, Verdict& verdict) {
  const bool closed = reading.value != 0;
  const bool live = reading.stage == Stage::energised || reading.stage == Stage::periodic;
  verdict.said = closed ? "The breaker is closed." : "The breaker is open.";
  if (!reading.stage) verdict.assumed.emplace_back("the circuit is meant to be on: no stage is on record");
  if (closed && !live && reading.stage) {
    verdict.grade = Grade::doubt;
    verdict.suspect = "The circuit is energised before its tests are done.";
    verdict.to_do = "Open and lock the breaker until the tests before energising have passed.";
  } else if (!closed && (live || !reading.stage)) {
    verdict.grade = Grade::fail;
    verdict.suspect = "It tripped on a fault or on the cold start, or somebody switched it off.";
    verdict.to_do =
        "Measure insulation resistance before it is closed again; never close it against a fault. " +
        std::string(mains_caution);
  } else {
    verdict.grade = Grade::pass;
  }
}

void judge_contactor(const Bench&, const Reading& reading, Verdict& verdict) {
  const bool closed = reading.value != 0;
  if (!reading.called) {
    verdict.grade = Grade::doubt;
    verdict.said = closed ? "The contactor is closed." : "The contactor is open.";
    verdict.suspect = "Whether the controller called for heat is not on record: nothing can be said.";
    verdict.to_do = "Look again and note in the column called whether the controller calls for heat.";
    return;
  }
  verdict.grade = closed == *reading.called ? Grade::pass : Grade::fail;
  verdict.said = fmt::format("The contactor is {} while the controller {} for heat.",
                             closed ? "closed" : "open", *reading.called ? "calls" : "does not call");
  if (verdict.grade == Grade::pass) return;
  if (closed) {
    verdict.suspect = "Welded contacts, or a control wire that bypasses the controller: the cable stays on.";
    verdict.to_do =
        "Switch the circuits off at the breakers: pipe and taps can become hot enough to scald. Have the "
        "contactor replaced. " +
        std::string(mains_caution);
  } else {
    verdict.suspect = "An open coil, no control voltage, or a broken wire from the controller.";
    verdict.to_do =
        "Measure at the coil while heat is called for; water in unheated pipe cools into the growth band of "
        "Legionella. " +
        std::string(mains_caution);
  }
}

}  // namespace firstdraw::prove
