// Temperatures: sensor resistance, pipes settled and warming up, air, and the water of a tap.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "physics/pipe.hpp"
#include "plan/circuit_parts.hpp"
#include "prove/bench.hpp"
#include "prove/instruments.hpp"
#include "prove/warm_curve.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using units::Kind;

constexpr double start_unknown_k = 3;  // of the pipe before switching on, when nobody measured it: our choice
constexpr double loss_frac = 0.15;     // insulation as laid: hold::Tolerances
constexpr double plastic_wall_k = 2;   // between a plastic pipe's outside and its water: our choice
constexpr double overshoot_k = 2;      // of a pipe away from the sensor: our choice
constexpr double plausible_low_c = -20, plausible_high_c = 100;

bool is_plastic(const job::Run& run) { return run.pipe.conductivity_w_per_m_k < 5; }

std::string lead_sentence(const Bench& bench, std::string_view kind, double temp_c) {
  const auto per_ohm = lead_error_k(kind, temp_c, 1);
  if (!per_ohm) return "";
  return fmt::format(
      "read over two wires, every ohm of lead shifts a {} by {}{}; over three leads of one length it cancels",
      kind, *per_ohm > 0 ? "+" : "", bench.kelvin(*per_ohm));
}

std::string sensor_run_of(const Bench& bench, const Reading& reading) {
  const job::ControlGroup* group = bench.group(reading.group);
  return group ? group->sensor_run : "";
}

/// No temperature follows from this resistance.
void judge_no_temperature(const Bench& bench, const Reading& reading, Verdict& verdict) {
  verdict.grade = Grade::fail;
  verdict.said =
      fmt::format("{} is no resistance that a {} can have.", bench.value(reading),
                  reading.sensor_kind.empty() ? "sensor of a kind not on record" : reading.sensor_kind);
  const auto at_20 = sensor_ohm(reading.sensor_kind, 20);
  const bool high = at_20 && reading.value > *at_20;
  verdict.suspect = !at_20 ? "The kind of the sensor is not known."
                    : high ? "A broken sensor or lead, a loose terminal, or another kind of sensor."
                           : "A short circuit in the lead or at the terminals, or another kind of sensor.";
  verdict.to_do =
      "Measure at the sensor itself, then the lead alone; while the sensor is wrong the controller may heat "
      "without end or not at all.";
}

/// Thermometer on the sensor's own run, else what the controller shows.
struct Compared {
  const Reading* reading = nullptr;
  std::string with;
};
Compared compare_with(const Bench& bench, const Reading& reading) {
  const std::string run = sensor_run_of(bench, reading);
  const Reading* pipe = bench.companion(reading, What::pipe_temperature, [&](const Reading& other) {
    return !run.empty() && other.run == run;
  });
  if (pipe) return {pipe, "the contact thermometer on " + run};
  const Reading* shown = bench.companion(reading, What::sensor_reading,
                                         [&](const Reading& other) { return other.group == reading.group; });
  return {shown, "what the controller shows"};
}

void judge_against(const Bench& bench, const Reading& reading, double sensor_temp_c, const Compared& with,
                   Verdict& verdict) {
  const double true_c = with.reading->value;
  const double slope =
      (*sensor_ohm(reading.sensor_kind, sensor_temp_c + 0.5 > 150 ? 149 : sensor_temp_c + 0.5) -
       *sensor_ohm(reading.sensor_kind, sensor_temp_c - 0.5 < -50 ? -49 : sensor_temp_c - 0.5));
  Spread spread;
  spread.add(sensor_error_k(reading.sensor_kind, sensor_temp_c));
  spread.add(instrument_error(reading) / std::abs(slope));
  spread.add(instrument_error(*with.reading));
  const double off_k = sensor_temp_c - true_c;
  verdict.grade = std::abs(off_k) <= spread.likely()  ? Grade::pass
                  : std::abs(off_k) <= spread.worst() ? Grade::doubt
                                                      : Grade::fail;
  const auto ohm_at = [&](double temp_c) {
    return sensor_ohm(reading.sensor_kind, std::clamp(temp_c, -50.0, 150.0)).value_or(0);
  };
  verdict.expected.usual = ohm_at(true_c);
  verdict.expected.least = std::min(ohm_at(true_c - spread.likely()), ohm_at(true_c + spread.likely()));
  verdict.expected.most = std::max(ohm_at(true_c - spread.likely()), ohm_at(true_c + spread.likely()));
  auto& because = verdict.expected.because;
  because.push_back(
      fmt::format("the sensor itself ±{}", bench.kelvin(sensor_error_k(reading.sensor_kind, sensor_temp_c))));
  because.push_back(fmt::format("{} ±{}", with.with, bench.kelvin(instrument_error(*with.reading))));
  verdict.said = fmt::format("{} is {}; {} says {}, ±{} between them is allowed.", bench.value(reading),
                             bench.celsius(sensor_temp_c), with.with, bench.celsius(true_c),
                             bench.kelvin(spread.likely()));
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = off_k > 0
                        ? "The sensor lies beside the cable or near a heat source, has lead resistance in "
                          "series, or is of another kind."
                        : "The sensor has lost contact with the pipe or lies outside the insulation, or is "
                          "of another kind.";
  verdict.to_do =
      "Open the insulation at the sensor, see that it lies on the pipe opposite the cable, and measure again "
      "at its own terminals.";
}

/// Output strong or weak, insulation poor or good, voltage low or high, all together.
WarmCase warm_case(const Bench& bench, const power::Circuit& circuit, int run, double start_c) {
  const auto parts = plan::circuit_parts(bench.job(), bench.plan(), circuit);
  const auto place = std::ranges::find(circuit.runs, run) - circuit.runs.begin();
  const plan::RunPlan& planned = bench.plan().runs[at(run)];
  WarmCase warm;
  warm.pipe = parts[static_cast<std::size_t>(place)].pipe;
  warm.derating_frac = planned.derating_frac;
  warm.volts = bench.panel_of(circuit).voltage_v * planned.voltage_frac;
  warm.start_c = start_c;
  return warm;
}

/// By how much a run may lie off its nominal temperature through its own insulation alone: the balance of
/// output and loss at the group's duty, both straight lines there.
double own_spread_k(const Bench& bench, int run) {
  const plan::RunPlan& planned = bench.plan().runs[at(run)];
  const job::Run& described = bench.job().runs[at(run)];
  const power::Circuit& circuit = bench.plan().circuits[at(planned.circuit)];
  const physics::HeatingCable cable(bench.sheet_of(circuit));
  const double volts = bench.panel_of(circuit).voltage_v * planned.voltage_frac,
               held_c = planned.at_maintain_c;
  const double rise_k = held_c - job::air_around(bench.job(), described).usual_c;
  if (!(rise_k > 0)) return 0;
  const double fall_w_per_m_k =
      (cable.power_w_per_m(held_c - 1, volts) - cable.power_w_per_m(held_c + 1, volts)) / 2;
  const double heat_w_per_k = bench.plan().groups[at(circuit.group)].duty * planned.passes *
                              planned.derating_frac * described.length_m * fall_w_per_m_k;
  const double loss_w_per_k = planned.loss_w_per_m * planned.loss_length_m /
                              std::max(1.0, bench.job().groups[at(circuit.group)].maintain_c -
                                                job::air_around(bench.job(), described).usual_c);
  return loss_frac * rise_k * loss_w_per_k / (loss_w_per_k + heat_w_per_k);
}

struct SettledRange {
  double least_c = 0, most_c = 0;
};
/// The plan's worst cases, in which all runs of a group move together, and the run's own insulation.
SettledRange settled_range(const Bench& bench, int run) {
  const plan::RunPlan& planned = bench.plan().runs[at(run)];
  const auto [low, high] = std::minmax({planned.worst_cold_c, planned.at_maintain_c, planned.worst_hot_c});
  const double own_k = own_spread_k(bench, run);
  return {low - own_k, high + own_k};
}

struct Start {
  double temp_c = 0, error_k = 0;
};
Start start_of(const Bench& bench, const Reading& reading, int run, Verdict& verdict) {
  for (const Reading& other : bench.readings()) {
    if (other.what == What::pipe_temperature && other.run == reading.run && same_visit(other, reading) &&
        other.minutes == 0.0)
      return {other.value, instrument_error(other)};
  }
  const double air_c = job::air_around(bench.job(), bench.job().runs[at(run)]).usual_c;
  verdict.assumed.push_back(fmt::format("the pipe was at {} ±{} when it was switched on, the usual air there",
                                        bench.celsius(air_c), bench.kelvin(start_unknown_k)));
  return {air_c, start_unknown_k};
}

void advise_on_warm_up(const Bench& bench, const Reading& reading, Verdict& verdict) {
  if (verdict.grade == Grade::pass) return;
  if (reading.value < verdict.expected.usual) {
    verdict.suspect =
        "It warms too slowly: dead or weak cable on this run, insulation wet or missing, low "
        "voltage, or water was drawn.";
    verdict.to_do =
        "Close the taps below, wait and read again; compare with the runs before it, then measure "
        "the circuit's current.";
  } else {
    verdict.suspect =
        "It warms faster than the cable can: hot water was drawn, it began warmer, or another cable lies "
        "here.";
    verdict.to_do = "Note the temperature before switching on and draw no water meanwhile; read the marking.";
  }
  (void)bench;
}

void judge_warm_up(const Bench& bench, const Reading& reading, int run, const power::Circuit& circuit,
                   Verdict& verdict) {
  const physics::HeatingCable cable(bench.sheet_of(circuit));
  const job::Panel& panel = bench.panel_of(circuit);
  const plan::RunPlan& planned = bench.plan().runs[at(run)];
  const Start start = start_of(bench, reading, run, verdict);
  const double time_s = 60 * *reading.minutes, tolerance = cable.sheet().output_tolerance_frac;
  const WarmCase usual = warm_case(bench, circuit, run, start.temp_c);
  WarmCase weak = usual, strong = usual;
  weak.start_c -= start.error_k;
  strong.start_c += start.error_k;
  weak.output_frac = 1 - tolerance;
  strong.output_frac = 1 + tolerance;
  weak.loss_frac = 1 + loss_frac;
  strong.loss_frac = 1 - loss_frac;
  weak.volts *= panel.low_frac;
  strong.volts *= panel.high_frac;
  // The controller ends the rise: no pipe has to pass its settled range.
  const SettledRange held = settled_range(bench, run);
  const double held_high_c = held.most_c + overshoot_k, held_low_c = held.least_c;
  verdict.expected.usual = std::min(warm_pipe_c(cable, usual, time_s), planned.at_maintain_c);
  verdict.expected.least = std::min(warm_pipe_c(cable, weak, time_s), held_low_c);
  verdict.expected.most = std::max(std::min(warm_pipe_c(cable, strong, time_s), held_high_c), strong.start_c);
  verdict.expected.because = {fmt::format(
      "data sheet ±{:.0f} %, voltage {:.0f} % to {:.0f} %, insulation ±{:.0f} %, all at their worst "
      "together; water stands, cable on without a break",
      100 * tolerance, 100 * panel.low_frac, 100 * panel.high_frac, 100 * loss_frac)};
  grade_between(reading,
                instrument_error(reading) + (is_plastic(bench.job().runs[at(run)]) ? plastic_wall_k : 0),
                verdict);
  verdict.said = fmt::format("{} {:g} min after switching on; {} to {} expected.", bench.value(reading),
                             *reading.minutes, bench.celsius(verdict.expected.least),
                             bench.celsius(verdict.expected.most));
  advise_on_warm_up(bench, reading, verdict);
}

void advise_on_settled(const Reading& reading, Verdict& verdict) {
  if (verdict.grade == Grade::pass) return;
  if (reading.value < verdict.expected.least) {
    verdict.suspect =
        "Dead or weak cable here, insulation wet or missing, colder air than planned, or water drawn lately.";
    verdict.to_do =
        "Look at the insulation, read the next runs up and down, then the circuit's current; below "
        "the hygiene limit Legionella multiplies: tell who answers for the water.";
  } else {
    verdict.suspect =
        "The cable stays on (contactor, sensor off the pipe), the set-point is too high, or hot "
        "water was drawn lately.";
    verdict.to_do =
        "Compare with what the controller shows; if the heating does not stop, switch it off: "
        "water at the taps can scald.";
  }
}

void judge_settled(const Bench& bench, const Reading& reading, int run, Verdict& verdict) {
  const plan::RunPlan& planned = bench.plan().runs[at(run)];
  const bool sampled = std::isfinite(planned.water_c.p5) && bench.plan().options.samples > 0;
  const SettledRange worst = settled_range(bench, run);
  auto& expected = verdict.expected;
  expected.usual = planned.at_maintain_c;
  expected.least = sampled ? planned.water_c.p5 : worst.least_c;
  expected.most = sampled ? planned.water_c.p95 : worst.most_c;
  double reach = instrument_error(reading);
  if (sampled) {
    expected.because.emplace_back(
        "5 % to 95 % of buildings with the plan's tolerances; beyond that a doubt as "
        "far as the worst cases");
    reach += std::max({expected.least - worst.least_c, worst.most_c - expected.most, 0.0});
  } else {
    expected.because.push_back(
        fmt::format("the plan's worst cold and worst hot case, and insulation of this run "
                    "±{:.0f} %",
                    100 * loss_frac));
  }
  if (is_plastic(bench.job().runs[at(run)])) {
    reach += plastic_wall_k;
    expected.because.push_back(fmt::format("plastic pipe: its outside is up to {} off its water, our choice",
                                           bench.kelvin(plastic_wall_k)));
  }
  grade_between(reading, reach, verdict);
  verdict.said = fmt::format("{} on {}; {} to {} expected at the maintain temperature.", bench.value(reading),
                             reading.run, bench.celsius(expected.least), bench.celsius(expected.most));
  advise_on_settled(reading, verdict);
  if (!reading.stage)
    verdict.assumed.emplace_back("heating has been on for long: neither stage nor minutes are on record");
}

std::string burn_caution(double water_c) {
  for (const rules::BurnTime& burn : rules::burn_times()) {
    if (burn.water_c < water_c - 0.5) continue;
    return fmt::format(" Water this hot burns skin in about {:.0f} s; children and old people faster.",
                       burn.second_degree_s);
  }
  return " Water this hot burns skin within a second.";
}

const job::Outlet* outlet_of(const Bench& bench, const Reading& reading) {
  const auto found = std::ranges::find(bench.job().outlets, reading.run, &job::Outlet::id);
  return found == bench.job().outlets.end() ? nullptr : &*found;
}

/// What the hygiene guideline asks of a tap once its time has passed; nullopt while it has not.
std::optional<rules::HygieneGuideline> due_guideline(const Bench& bench, const Reading& reading) {
  const auto guideline = rules::find_guideline(bench.job().requirements.guideline);
  if (!guideline || !std::isfinite(guideline->distributed_c) || !reading.minutes) return std::nullopt;
  if (std::isfinite(guideline->within_s) && 60 * *reading.minutes < guideline->within_s - 1)
    return std::nullopt;
  return *guideline;
}

}  // namespace

void judge_sensor(const Bench& bench, const Reading& reading, Verdict& verdict) {
  verdict.sources = {{reading.sensor_kind == "ntc10k" ? "generic 10 kΩ thermistor" : "IEC 60751", "",
                      reading.sensor_kind == "ntc10k" ? "Steinhart-Hart" : "platinum table, class B",
                      "read"}};
  const auto temp_c = reading.at_least ? std::nullopt : sensor_c(reading.sensor_kind, reading.value);
  if (!temp_c) return judge_no_temperature(bench, reading, verdict);
  verdict.means = "sensor at " + bench.celsius(*temp_c);
  if (const Compared with = compare_with(bench, reading); with.reading) {
    judge_against(bench, reading, *temp_c, with, verdict);
  } else {
    const bool plausible = *temp_c >= plausible_low_c && *temp_c <= plausible_high_c;
    verdict.grade = plausible ? Grade::doubt : Grade::fail;
    verdict.said = fmt::format("{} is {}; nothing was read to compare it with.", bench.value(reading),
                               bench.celsius(*temp_c));
    verdict.suspect = plausible ? "The sensor answers; whether it tells the pipe's temperature is not shown."
                                : "No pipe is at this temperature: lead, terminal or another kind of sensor.";
    const std::string run = sensor_run_of(bench, reading);
    verdict.to_do = fmt::format("Read a contact thermometer on {} at the sensor on the same visit.",
                                run.empty() ? "the pipe" : run);
  }
  if (const std::string lead = lead_sentence(bench, reading.sensor_kind, *temp_c); !lead.empty())
    verdict.warnings.push_back(lead);
}

void judge_pipe_temperature(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const int run = bench.run_index(reading.run);
  const plan::RunPlan& planned = bench.plan().runs[at(run)];
  const bool live = reading.stage == Stage::energised || reading.stage == Stage::periodic || !reading.stage;
  const std::string noted = fmt::format("{} on {}", bench.value(reading), reading.run);
  if (!live) return no_expectation(verdict, noted + ": noted, nothing is expected before the heating is on.");
  if (planned.circuit == piping::none || !std::isfinite(planned.at_maintain_c))
    return no_expectation(verdict, noted + ": the run is not heated, nothing is expected of it.");
  const power::Circuit& circuit = bench.plan().circuits[at(planned.circuit)];
  if (reading.minutes) return judge_warm_up(bench, reading, run, circuit, verdict);
  judge_settled(bench, reading, run, verdict);
}

void judge_air_temperature(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const job::AirTemperatures air =
      job::air_around(bench.job(), bench.job().runs[at(bench.run_index(reading.run))]);
  verdict.expected.usual = air.usual_c;
  verdict.expected.least = air.low_c;
  verdict.expected.most = air.high_c;
  grade_between(reading, instrument_error(reading), verdict);
  verdict.said = fmt::format("{} around {}; the plan counts on {} to {}.", bench.value(reading), reading.run,
                             bench.celsius(air.low_c), bench.celsius(air.high_c));
  if (verdict.grade == Grade::pass) return;
  verdict.grade = Grade::doubt;  // the plan's assumption, not the installation, is in doubt
  verdict.suspect =
      reading.value < air.low_c
          ? "Colder than assumed: the cable may not hold the pipe, and open-loop duty is too low."
          : "Warmer than assumed: pipes get hotter than planned when the cable stays on.";
  verdict.to_do = "Correct the air temperatures of the space in job.toml and plan again.";
}

void judge_tap(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const job::Outlet* outlet = outlet_of(bench, reading);
  const auto limit = rules::outlet_limit(bench.job().requirements.rules, outlet->fixture,
                                         bench.job().requirements.building_kind);
  const double error_k = instrument_error(reading);
  if (std::isfinite(limit.water_c)) {
    verdict.expected.most = limit.water_c;
    verdict.sources.push_back(limit.citation);
  }
  const auto guideline = due_guideline(bench, reading);
  if (guideline && !outlet->safe_outlet_valve) {
    verdict.expected.least = guideline->distributed_c;
    verdict.sources.push_back(guideline->citation);
  }
  // Both are one-sided limits: a pass keeps off them by the instrument's error.
  auto& expected = verdict.expected;
  const bool hot = reading.value + error_k > expected.most, cold = reading.value - error_k < expected.least;
  const bool surely =
      hot ? reading.value - error_k > expected.most : reading.value + error_k < expected.least;
  verdict.grade = !hot && !cold ? Grade::pass : surely ? Grade::fail : Grade::doubt;
  verdict.said =
      fmt::format("{} at {}{}{}{}.", bench.value(reading), reading.run,
                  reading.minutes ? fmt::format(" after {:g} min", *reading.minutes) : "",
                  std::isfinite(expected.most) ? "; at most " + bench.celsius(expected.most) : "",
                  std::isfinite(expected.least) ? "; at least " + bench.celsius(expected.least) : "");
  if (!reading.minutes)
    verdict.assumed.emplace_back("the first water: minutes since the tap was opened are not on record");
  if (hot) {
    verdict.suspect = outlet->safe_outlet_valve ? "The safe-outlet valve is set too high or does not close."
                                                : "The water is hotter than this outlet may give.";
    verdict.to_do = "Put the tap out of use until a safe-outlet (thermostatic) valve is fitted or set." +
                    burn_caution(reading.value);
  } else if (cold) {
    verdict.suspect =
        "The pipe before the tap is too cold, too long a runout, or cold water gets in by a mixer.";
    verdict.to_do =
        "Read the pipe of the last traced run; water that stays lukewarm lets Legionella multiply: tell who "
        "answers for the water.";
  } else if (std::isfinite(reading.value) && reading.value > 50) {
    verdict.warnings.push_back("water above 50 °C (122 °F):" + burn_caution(reading.value));
  }
}

}  // namespace firstdraw::prove
