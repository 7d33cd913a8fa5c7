// What a controller shows, and what is printed on the cable.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "prove/bench.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

constexpr double shown_k = 1;             // between the sensor and what is shown: our choice
constexpr double insulation_frac = 0.15;  // hold::Tolerances
constexpr double duty_read_frac = 0.1;    // of a duty read over a day rather than on average: our choice

/// The set-points that a group may have in force by the job.
std::vector<double> set_points(const Bench& bench, const job::ControlGroup& group) {
  std::vector<double> all{group.maintain_c, group.setback_c};
  for (const job::Period& period : bench.job().periods)
    if (period.group == group.id && period.setting == job::Period::Setting::temperature)
      all.push_back(period.hold_c);
  return all;
}

double nearest_to(const std::vector<double>& all, double value) {
  return *std::ranges::min_element(all, {}, [value](double each) { return std::abs(each - value); });
}

/// The set-point in force at this visit: as read, else maintain.
double held_c(const Bench& bench, const Reading& reading, const job::ControlGroup& group, Verdict& verdict) {
  const Reading* shown = bench.companion(reading, What::set_point,
                                         [&](const Reading& other) { return other.group == reading.group; });
  if (shown) return shown->value;
  verdict.assumed.push_back(
      fmt::format("the set-point in force is the maintain temperature, {}", bench.celsius(group.maintain_c)));
  return group.maintain_c;
}

/// Letters and digits in lower case.
std::string bare(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte)) out += static_cast<char>(std::tolower(byte));
  }
  return out;
}

bool names(std::string_view marking, const physics::CableSheet& sheet) {
  const std::string printed = bare(marking), id = bare(sheet.id), name = bare(sheet.name);
  return (!id.empty() && printed.find(id) != std::string::npos) ||
         (!name.empty() && printed.find(name) != std::string::npos);
}

/// The sheet of the catalogue with the longest name that the marking holds: "SR5-W" is not "SR5".
const physics::CableSheet* marked_sheet(const Bench& bench, std::string_view marking) {
  const physics::CableSheet* best = nullptr;
  for (const physics::CableSheet& sheet : bench.job().cables)
    if (names(marking, sheet) && (!best || sheet.id.size() > best->id.size())) best = &sheet;
  return best;
}

}  // namespace

void judge_sensor_reading(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const job::ControlGroup& group = *bench.group(reading.group);
  const bool live = reading.stage == Stage::energised || reading.stage == Stage::periodic || !reading.stage;
  if (!live || reading.minutes)
    return no_expectation(verdict,
                          fmt::format("The controller shows {}: noted, nothing is expected before it "
                                      "has settled.",
                                      bench.celsius(reading.value)));
  const double set_c = held_c(bench, reading, group, verdict);
  verdict.expected.usual = set_c;
  verdict.expected.least = set_c - group.hold_tolerance_k - shown_k;
  verdict.expected.most = set_c + std::max(group.differential_k, group.hold_tolerance_k) + shown_k;
  verdict.expected.because.push_back(
      fmt::format("set-point {} with the differential and hold tolerance of {}, and {} between sensor and "
                  "display: our choice",
                  bench.celsius(set_c), group.id, bench.kelvin(shown_k)));
  grade_between(reading, instrument_error(reading), verdict);
  verdict.said =
      fmt::format("The controller shows {}; {} to {} expected once settled.", bench.celsius(reading.value),
                  bench.celsius(verdict.expected.least), bench.celsius(verdict.expected.most));
  if (verdict.grade == Grade::pass) return;
  if (reading.value < set_c) {
    verdict.suspect = "The cable cannot hold the sensor's run, does not heat, or the sensor is off the pipe.";
    verdict.to_do =
        "Read a contact thermometer at the sensor and the circuit's current. " + std::string(mains_caution);
  } else {
    verdict.suspect =
        "Hot water was drawn lately, the contactor stays closed, or the sensor lies beside the "
        "cable.";
    verdict.to_do =
        "See whether it falls with the heating off; if the heating does not stop, switch it off at "
        "the breakers: water at the taps can scald.";
  }
}

void judge_duty(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const int index = bench.group_index(reading.group);
  const job::ControlGroup& group = bench.job().groups[at(index)];
  const plan::GroupPlan& planned = bench.plan().groups[at(index)];
  const int run = bench.run_index(group.sensor_run) != piping::none ? bench.run_index(group.sensor_run)
                                                                    : planned.coldest_run;
  if (run == piping::none || !(planned.duty > 0))
    return no_expectation(verdict, "The plan gives no duty for this group.");
  const job::AirTemperatures air = job::air_around(bench.job(), bench.job().runs[at(run)]);
  const int cable = bench.plan().runs[at(run)].cable;
  const double tolerance = cable == piping::none ? 0.1 : bench.job().cables[at(cable)].output_tolerance_frac;
  // Duty is loss over output: loss goes with the distance to the air.
  const double rise_k = group.maintain_c - air.usual_c;
  const double warm = rise_k > 0 ? std::max(0.0, group.maintain_c - air.high_c) / rise_k : 1;
  const double cold = rise_k > 0 ? (group.maintain_c - air.low_c) / rise_k : 1;
  Spread spread;
  spread.add(planned.duty * tolerance);
  spread.add(planned.duty * insulation_frac);
  spread.add(planned.duty * duty_read_frac);
  verdict.expected.usual = planned.duty;
  verdict.expected.least = std::max(0.0, warm * planned.duty - spread.likely());
  verdict.expected.most = std::min(1.0, cold * planned.duty + spread.likely());
  verdict.expected.because = {
      fmt::format("air {} to {}", bench.celsius(air.low_c), bench.celsius(air.high_c)),
      fmt::format("data sheet ±{:.0f} %, insulation ±{:.0f} %, {:.0f} % for a short look: our choice",
                  100 * tolerance, 100 * insulation_frac, 100 * duty_read_frac)};
  grade_between(reading, instrument_error(reading) + spread.worst() - spread.likely(), verdict);
  verdict.said =
      fmt::format("On for {:.0f} % of the time; {:.0f} % to {:.0f} % expected, settled, no water drawn.",
                  100 * reading.value, 100 * verdict.expected.least, 100 * verdict.expected.most);
  if (verdict.grade == Grade::pass) return;
  if (reading.value > planned.duty) {
    verdict.suspect =
        "The pipe loses more than planned (insulation wet or missing, colder air), or the cable "
        "gives less.";
    verdict.to_do = "Look along the pipe for wet or missing insulation, then read the circuit's current.";
  } else {
    verdict.suspect = "Hot water is drawn often, the air is warmer, or the sensor is warmed by the cable.";
    verdict.to_do = "Read again at night without draws, and a contact thermometer far from the sensor.";
  }
}

void judge_set_point(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const job::ControlGroup& group = *bench.group(reading.group);
  const double near_c = nearest_to(set_points(bench, group), reading.value);
  const double error_k = instrument_error(reading);
  verdict.expected.usual = near_c;
  verdict.expected.least = near_c - error_k;
  verdict.expected.most = near_c + error_k;
  verdict.expected.because.push_back("maintain, setback and the periods of " + group.id);
  grade_between(reading, error_k, verdict);
  verdict.said =
      fmt::format("The controller is set to {}; {} is maintain, {} setback.", bench.celsius(reading.value),
                  bench.celsius(group.maintain_c), bench.celsius(group.setback_c));
  if (verdict.grade == Grade::pass) return;
  verdict.suspect =
      "The controller was set otherwise than the settings sheet says, or another period is in force.";
  verdict.to_do =
      reading.value > near_c
          ? "Set it by the settings sheet; a higher set-point makes water at the taps hotter and can "
            "scald."
          : "Set it by the settings sheet; a lower set-point can leave water in the growth band of "
            "Legionella.";
}

void judge_entered_ambient(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const job::ControlGroup& group = *bench.group(reading.group);
  if (!group.entered_ambient_c)
    return no_expectation(verdict, "The job enters no ambient for this group: nothing is expected.");
  const double error_k = instrument_error(reading);
  verdict.expected.usual = *group.entered_ambient_c;
  verdict.expected.least = *group.entered_ambient_c - error_k;
  verdict.expected.most = *group.entered_ambient_c + error_k;
  grade_between(reading, error_k, verdict);
  verdict.said = fmt::format("{} is entered as ambient; the settings sheet has {}.",
                             bench.celsius(reading.value), bench.celsius(*group.entered_ambient_c));
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = reading.value > *group.entered_ambient_c
                        ? "Too warm an ambient is entered: the pipe is kept too cold."
                        : "Too cold an ambient is entered: the pipe is kept too hot, and taps can scald.";
  verdict.to_do = "Enter the ambient of the settings sheet, or measure the air and plan again.";
}

void judge_marking(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const physics::CableSheet& planned = bench.sheet_of(*bench.circuit(reading.circuit));
  const physics::CableSheet* marked = marked_sheet(bench, reading.text);
  verdict.grade = !marked ? Grade::doubt : marked == &planned ? Grade::pass : Grade::fail;
  verdict.said =
      fmt::format("The cable is marked \"{}\"; {} ({}) is planned.", reading.text, planned.id, planned.name);
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = marked ? fmt::format("Another cable is fitted: {}.", marked->id)
                           : "The marking names no cable of the catalogue.";
  verdict.to_do =
      marked ? "Do not energise: the cable, its breaker and its settings do not belong together. Replace "
               "it, or plan again with the cable that is fitted."
             : "Compare the marking with the data sheet: type, voltage and output must agree.";
}

}  // namespace firstdraw::prove
