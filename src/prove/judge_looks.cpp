// What is looked at along the pipes: insulation, its jacket, the sensor.
#include <fmt/format.h>

#include <algorithm>

#include "plan/sections.hpp"
#include "prove/bench.hpp"
#include "prove/surface_rise.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

constexpr double film_frac = 0.3;  // jackets and draughts; our choice

std::string_view insulation_suspect() {
  return "A leak, or insulation that was taken off and not put back: the pipe loses several times "
         "what was planned.";
}
std::string insulation_to_do() {
  return "Find and stop the water, replace the insulation, and measure insulation resistance of the "
         "cable before it is energised again. " +
         std::string(mains_caution);
}

/// Around the run: as measured on the same visit, else the job's warmest.
double air_beside(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const Reading* air = bench.companion(reading, What::air_temperature,
                                       [&](const Reading& other) { return other.run == reading.run; });
  if (air) {
    verdict.expected.because.push_back(fmt::format("air of {} measured beside it", bench.value(*air)));
    return air->value;
  }
  verdict.assumed.emplace_back("the air is the warmest that the job counts on: nobody measured it");
  return job::air_around(bench.job(), bench.job().runs[at(bench.run_index(reading.run))]).high_c;
}

}  // namespace

void judge_surface(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const int index = bench.run_index(reading.run);
  const job::Run& run = bench.job().runs[at(index)];
  const plan::RunPlan& planned = bench.plan().runs[at(index)];
  if (planned.cable == piping::none) return no_expectation(verdict, "The run carries no heating cable.");
  const double air_c = air_beside(bench, reading, verdict);
  plan::Sections sections;
  const hold::LossCurve& loss = sections.loss(run, planned.insulation);
  const auto rise_k = [&](double water_c) {
    return SurfaceRise(loss, air_c).at(loss.loss_w_per_m(water_c, air_c)).rise_k;
  };
  verdict.expected.usual = air_c + rise_k(planned.at_maintain_c);
  verdict.expected.because.push_back(
      fmt::format("dry insulation over the warmest pipe of the plan, {}, and {:.0f} % for jacket and draught",
                  bench.celsius(planned.worst_hot_c), 100 * film_frac));
  const double most_c =
      air_c + (1 + film_frac) * rise_k(std::max(planned.worst_hot_c, planned.at_maintain_c));
  grade_at_most(reading, most_c, verdict);
  verdict.said = fmt::format("{} on the jacket of {}; at most {} where insulation is dry.",
                             bench.value(reading), reading.run, bench.celsius(most_c));
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = "Insulation is wet or thin there, or the pipe is hotter than planned.";
  verdict.to_do =
      "Measure the pipe under the insulation and the air beside it, and look at the insulation: jacket open, "
      "damp, crushed? A bright jacket fools an infra-red thermometer: use a dull tape.";
}

void judge_insulation_seen(const Bench&, const Reading& reading, Verdict& verdict) {
  verdict.grade = reading.value != 0 ? Grade::pass : Grade::fail;
  verdict.expected.least = 1;
  const bool whole = reading.what == What::insulation_walked;
  verdict.said =
      fmt::format("Insulation {} {}: {}.", whole ? "all along" : "on", whole ? reading.circuit : reading.run,
                  reading.value != 0 ? "in place and dry" : "wet or missing");
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = insulation_suspect();
  verdict.to_do = insulation_to_do();
}

void judge_sensor_position(const Bench&, const Reading& reading, Verdict& verdict) {
  const auto position = sensor_position_named(reading.text);
  if (!position) return no_expectation(verdict, fmt::format("\"{}\" is no place of a sensor.", reading.text));
  verdict.grade = *position == SensorPosition::as_planned ? Grade::pass : Grade::fail;
  verdict.said = fmt::format("The sensor of {} was found: {}.", reading.group, reading.text);
  switch (*position) {
    case SensorPosition::as_planned:
      return;
    case SensorPosition::beside_cable:
      verdict.suspect = "It reads the cable's warmth: the pipes are held too cold.";
      break;
    case SensorPosition::untraced_pipe:
      verdict.suspect = "It follows the water from the heater, not the traced pipe.";
      break;
    case SensorPosition::off_pipe:
      verdict.suspect = "It reads the air: the cable stays on, and pipes may scald.";
      break;
  }
  verdict.to_do =
      "Fix it to the pipe of the run that the plan names, away from the cable, and close the insulation over "
      "it.";
}

}  // namespace firstdraw::prove
