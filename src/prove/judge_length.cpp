// Installed length from capacitance and from loop resistance, continuity, and the path to earth.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "prove/bench.hpp"
#include "prove/cable_line.hpp"
#include "prove/instruments.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using units::Kind;

// Our choices, no source. Cable makers state capacitance and bus-wire resistance as nominal values.
constexpr double sheet_capacitance_frac = 0.1;
constexpr double laying_frac = 0.05;  // allowances for fittings against what was really laid
constexpr double bus_wire_frac = 0.03;
constexpr double core_frac = 0.3;  // of the core without load, which no data sheet states
constexpr double cable_known_k = 2, cable_unknown_k = 10;
constexpr double usual_indoor_c = 20;

constexpr std::string_view open_joints =
    "Before the join is opened again: switch off, lock out and prove dead; fit the end seal afterwards.";

/// A length that was measured, and what it may be off by.
struct Measured {
  double length_m = 0;
  Spread spread;  // m, everything but the plan's own
};

std::string where_it_ends(const Bench& bench, const CircuitLine& line, double length_m) {
  if (line.branches) return "on one of the branches";
  const int run = run_at(line, length_m);
  const std::string place = run == piping::none ? "" : " on " + bench.job().runs[at(run)].id;
  return fmt::format("about {} from the feed{}", bench.length(length_m), place);
}

void advise_on_length(const Bench& bench, const CircuitLine& line, double length_m, Verdict& verdict) {
  if (verdict.grade == Grade::pass) return;
  if (length_m < line.length_m) {
    verdict.suspect = fmt::format(
        "Less cable is connected than planned: cut short, a branch left off, or bus "
        "wires broken {}.",
        where_it_ends(bench, line, length_m));
    verdict.to_do =
        "Measure again from the far end: the two lengths add up at a break. Look at the splices and tees on "
        "the way. " +
        std::string(mains_caution);
  } else {
    verdict.suspect =
        "More cable is connected than planned: cable that nobody drew, more passes, or another cable type.";
    verdict.to_do =
        "Read the marking, follow the cable along the pipe and correct runs.csv; a longer circuit may need "
        "another breaker.";
  }
}

/// Least and most of the reading follow those of the length, which `reading_of` turns back.
template <class ReadingOf>
void judge_measured_length(const Bench& bench, const Reading& reading, const CircuitLine& line,
                           const Measured& measured, ReadingOf reading_of, Verdict& verdict) {
  Spread spread = measured.spread;
  spread.add(laying_frac * line.length_m);
  verdict.expected.because.push_back(
      fmt::format("cable as laid against the plan's allowances ±{:.0f} %: our choice", 100 * laying_frac));
  const double likely_m = spread.likely(), worst_m = spread.worst();
  const double off_m = std::abs(measured.length_m - line.length_m);
  verdict.grade = off_m <= likely_m ? Grade::pass : off_m <= worst_m ? Grade::doubt : Grade::fail;
  verdict.expected.usual = reading_of(line.length_m);
  verdict.expected.least = reading_of(std::max(0.0, line.length_m - likely_m));
  verdict.expected.most = reading_of(line.length_m + likely_m);
  verdict.means = "length " + bench.length(measured.length_m);
  verdict.said =
      fmt::format("{} means {} of cable; the plan has {}, ±{} counted.", bench.value(reading),
                  bench.length(measured.length_m), bench.length(line.length_m), bench.length(likely_m));
  advise_on_length(bench, line, measured.length_m, verdict);
}

double cable_c_of(const Bench& bench, const Reading& reading, Verdict& verdict) {
  if (reading.cable_c) return *reading.cable_c;
  verdict.assumed.push_back(
      fmt::format("the cable is at {}: its temperature is not on record", bench.celsius(usual_indoor_c)));
  return usual_indoor_c;
}

double copper_frac(const Reading& reading) {
  return 0.00393 * (reading.cable_c ? cable_known_k : cable_unknown_k);
}

bool same_circuit(const Reading& a, const Reading& b) { return a.circuit == b.circuit; }

/// The loop opened: nothing to reckon a length from.
void judge_open_loop(const Bench& bench, const Reading& reading, double expected_ohm, Verdict& verdict) {
  verdict.grade = Grade::fail;
  verdict.expected.usual = expected_ohm;
  verdict.assumed.emplace_back("an ohmmeter that shows OL is taken to say more than 1 MΩ");
  verdict.said = fmt::format("{} between the bus wires; about {} was expected.", bench.value(reading),
                             bench.show(expected_ohm, Kind::resistance));
  verdict.suspect = "A bus wire is broken close to the feed, or the cable is not connected.";
  verdict.to_do = "Open the power connection and measure the cable itself. " + std::string(mains_caution);
}

/// What one cable's loop shows, by length.
struct LoopCase {
  const CircuitLine& line;
  LineMetre metre;
  double short_ohm = 0;
  std::optional<double> open_ohm;

  std::optional<double> length_m(double short_now, double loop_frac = 1, double core_factor = 1) const {
    const double loop = metre.loop_ohm_per_m * loop_frac;
    if (open_ohm && !line.branches) return length_from_loop_m(short_now, *open_ohm, loop);
    const auto scale =
        open_ohm ? scale_from_both(line.stretches, loop, short_now, *open_ohm)
                 : scale_from_short(line.stretches, {loop, metre.core_s_per_m * core_factor}, short_now);
    if (!scale) return std::nullopt;
    return *scale * line.length_m;
  }
};

void add_spread(const LoopCase& loop, const Reading& reading, Measured& measured) {
  const auto shift = [&](std::optional<double> other) {
    measured.spread.add(other ? *other - measured.length_m : measured.length_m);
  };
  shift(loop.length_m(loop.short_ohm + instrument_error(reading)));
  shift(loop.length_m(loop.short_ohm, 1 - bus_wire_frac));
  shift(loop.length_m(loop.short_ohm, 1 - copper_frac(reading)));
  if (!loop.open_ohm) shift(loop.length_m(loop.short_ohm, 1, 1 + core_frac));
}

void name_spread(const Bench& bench, const LoopCase& loop, const Reading& reading, Verdict& verdict) {
  auto& because = verdict.expected.because;
  because.push_back(fmt::format("resistance of the bus wires ±{:.0f} %: our choice", 100 * bus_wire_frac));
  because.push_back(fmt::format("copper ±{} warmer or colder",
                                bench.kelvin(reading.cable_c ? cable_known_k : cable_unknown_k)));
  if (!loop.open_ohm)
    because.push_back(
        fmt::format("the core between the bus wires ±{:.0f} %, from the model fitted to the "
                    "data sheet; a reading with open ends would do away with it",
                    100 * core_frac));
  if (loop.line.branches)
    because.emplace_back("with tees, all far ends joined, and every branch longer or shorter in proportion");
}

}  // namespace

void judge_capacitance(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const power::Circuit& circuit = *bench.circuit(reading.circuit);
  const double per_m = bench.sheet_of(circuit).capacitance_f_per_m;
  const CircuitLine line = circuit_line(bench.plan(), circuit);
  Measured measured{length_from_capacitance_m(reading.value, per_m), {}};
  measured.spread.add(instrument_error(reading) / per_m);
  measured.spread.add(sheet_capacitance_frac * line.length_m);
  verdict.expected.because.push_back(fmt::format(
      "capacitance per length in the data sheet ±{:.0f} %: our choice, makers state a nominal value",
      100 * sheet_capacitance_frac));
  verdict.sources = {{"electrical textbook", "", "L = C / c", "computed"}};
  judge_measured_length(
      bench, reading, line, measured, [per_m](double length_m) { return per_m * length_m; }, verdict);
}

void judge_loop(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const power::Circuit& circuit = *bench.circuit(reading.circuit);
  const physics::CableSheet& sheet = bench.sheet_of(circuit);
  const CircuitLine line = circuit_line(bench.plan(), circuit);
  const double cable_c = cable_c_of(bench, reading, verdict);
  const LineMetre metre{copper_ohm_at(sheet.bus_loop_ohm_per_m, cable_c), core_s_per_m(sheet, cable_c)};
  LoopCase loop{line, metre, reading.value, std::nullopt};
  if (const Reading* open = bench.companion(
          reading, What::open_resistance, [&](const Reading& other) { return same_circuit(other, reading); });
      open && !open->at_least)
    loop.open_ohm = open->value;
  if (reading.at_least)
    return judge_open_loop(bench, reading, line_ohm(line.stretches, metre, Ends::joined), verdict);
  const auto length_m = loop.length_m(reading.value);
  if (!length_m) {
    verdict.grade = Grade::fail;
    verdict.expected.usual = line_ohm(line.stretches, metre, Ends::joined);
    verdict.said = fmt::format("{} fits no length of this cable; about {} was expected.",
                               bench.value(reading), bench.show(verdict.expected.usual, Kind::resistance));
    verdict.suspect = "The far end is not joined, or both readings were taken with the ends alike.";
    verdict.to_do = "Join every far end and measure again. " + std::string(open_joints);
    return;
  }
  Measured measured{*length_m, {}};
  add_spread(loop, reading, measured);
  name_spread(bench, loop, reading, verdict);
  verdict.sources = {
      {"electrical textbook", "", "line with shunt: L = atanh(sqrt(Rs/Ro)) sqrt(Rs Ro)/r", "computed"}};
  judge_measured_length(
      bench, reading, line, measured,
      [&](double long_m) {
        auto scaled = line.stretches;
        for (LineStretch& stretch : scaled) stretch.length_m *= std::max(long_m, 1e-6) / line.length_m;
        return line_ohm(scaled, metre, Ends::joined);
      },
      verdict);
}

void judge_open(const Bench& bench, const Reading& reading, Verdict& verdict) {
  const power::Circuit& circuit = *bench.circuit(reading.circuit);
  const physics::CableSheet& sheet = bench.sheet_of(circuit);
  const CircuitLine line = circuit_line(bench.plan(), circuit);
  const double cable_c = cable_c_of(bench, reading, verdict);
  const double loop = copper_ohm_at(sheet.bus_loop_ohm_per_m, cable_c), core = core_s_per_m(sheet, cable_c);
  const auto shown = [&](double factor) {
    return line_ohm(line.stretches, {loop, core * factor}, Ends::open);
  };
  if (reading.at_least && reading.value > 10 * shown(1))
    return judge_open_loop(bench, reading, shown(1), verdict);
  verdict.expected.usual = shown(1);
  verdict.expected.least = shown(1 + core_frac);
  verdict.expected.most = shown(1 - core_frac);
  verdict.expected.because.push_back(
      fmt::format("the core without load ±{:.0f} %, from the model fitted to the data sheet: our choice",
                  100 * core_frac));
  grade_between(reading, instrument_error(reading) + core_frac * verdict.expected.usual, verdict);
  verdict.said = fmt::format("{} between the bus wires with open ends; {} to {} expected.",
                             bench.value(reading), bench.show(verdict.expected.least, Kind::resistance),
                             bench.show(verdict.expected.most, Kind::resistance));
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = reading.value < verdict.expected.usual
                        ? "The bus wires touch somewhere, an end is still joined, or more cable is connected."
                        : "Less cable is connected than planned, another cable type, or a warm cable.";
  verdict.to_do =
      "See that every end is open and sealed, write down the cable's temperature and measure again; then "
      "measure capacitance. " +
      std::string(mains_caution);
}

void judge_continuity(const Bench&, const Reading& reading, Verdict& verdict) {
  verdict.grade = reading.value != 0 ? Grade::pass : Grade::fail;
  verdict.expected.least = 1;
  verdict.said = reading.value != 0 ? "The loop is closed to its far end."
                                    : "The loop is open although the far end is joined.";
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = "A broken bus wire, an open splice or tee, or a join at the far end that does not touch.";
  verdict.to_do =
      "Make the join again; if the loop stays open measure capacitance from both ends, which says where. " +
      std::string(mains_caution);
}

void judge_earth(const Bench& bench, const Reading& reading, Verdict& verdict) {
  constexpr double connections_ohm = 1, braid_ohm_per_m = 0.02;
  const power::Circuit& circuit = *bench.circuit(reading.circuit);
  const double wire_ohm = circuit.wiring.loop_ohm_per_m * circuit.wiring.one_way_m;
  const double limit = connections_ohm + braid_ohm_per_m * circuit.cable_length_m + wire_ohm;
  verdict.sources = {{"usual practice", "", "", "common practice, no source"}};
  verdict.expected.because = {
      fmt::format("braid {:g} Ω/m over {}, earth conductor taken as the circuit's loop, {:g} Ω for the "
                  "connections: common practice, no source",
                  braid_ohm_per_m, bench.length(circuit.cable_length_m), connections_ohm)};
  grade_at_most(reading, limit, verdict);
  verdict.said = fmt::format("{} from the braid to the earth bar; at most {} is expected.",
                             bench.value(reading), bench.show(limit, Kind::resistance));
  if (verdict.grade == Grade::pass) return;
  verdict.suspect = "The braid is not connected through at a splice, a tee or the power connection.";
  verdict.to_do =
      "Do not energise: without the earth path the ground-fault protection cannot work. Follow the braid "
      "from "
      "connection to connection. " +
      std::string(mains_caution);
}

}  // namespace firstdraw::prove
