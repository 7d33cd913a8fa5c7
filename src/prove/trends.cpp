// Readings that move from test to test although each may pass.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "prove/bench.hpp"
#include "prove/instruments.hpp"

namespace firstdraw::prove {
namespace {

using units::Kind;

constexpr double unknown_temperature_k = 10;  // a cable whose temperature is not on record: our choice
constexpr double unknown_usual_c = 20;
// What two visits leave open of a current that is compared with its expectation: thermometer and voltmeter,
// twice each. Our choice, no source.
constexpr double like_current_frac = 0.05;

/// One reading brought to like conditions, with how far off it may be, as factors.
struct Like {
  std::size_t reading = 0;
  double value = 0;
  double low_factor = 1, high_factor = 1;
  bool at_least = false;
};

/// By time as written where both have one, then stage, then order.
std::vector<std::size_t> in_order(std::span<const Reading> readings, What what, std::string_view circuit) {
  std::vector<std::size_t> found;
  for (std::size_t each = 0; each < readings.size(); ++each)
    if (readings[each].what == what && readings[each].circuit == circuit) found.push_back(each);
  const bool dated = std::ranges::all_of(found, [&](std::size_t each) { return !readings[each].at.empty(); });
  std::ranges::stable_sort(found, [&](std::size_t a, std::size_t b) {
    if (dated && readings[a].at != readings[b].at) return readings[a].at < readings[b].at;
    return readings[a].stage < readings[b].stage;
  });
  return found;
}

Like insulation_at_20(std::span<const Reading> readings, std::size_t index) {
  const Reading& reading = readings[index];
  const double spread = (reading.cable_c.value_or(20) - 20) / 20;
  const auto [low, high] = std::minmax({std::pow(0.75, spread), std::pow(1.5, spread)});
  const double unknown = reading.cable_c ? 1 : std::exp2(unknown_temperature_k / 10);
  const double error = instrument_error(reading) / reading.value;
  Like like{index, insulation_ohm_at_20(reading.value, reading.cable_c.value_or(unknown_usual_c)), 1, 1,
            reading.at_least};
  like.low_factor = low * (1 - error) / unknown;
  like.high_factor = high * (1 + error) * unknown;
  return like;
}

Like current_of_expected(std::span<const Reading> readings, std::span<const Verdict> verdicts,
                         std::size_t index) {
  const Reading& reading = readings[index];
  const double error = instrument_error(reading) / reading.value + like_current_frac;
  return {index, reading.value / verdicts[index].expected.usual, 1 - error, 1 + error, reading.at_least};
}

Like length_of(std::span<const Reading> readings, std::size_t index) {
  const double error = instrument_error(readings[index]) / readings[index].value;
  return {index, readings[index].value, 1 - error, 1 + error, readings[index].at_least};
}

/// Last against first beyond what both leave open. A first one beyond the range is at least its range; a last
/// one beyond the range has not fallen.
bool has_fallen(const Like& first, const Like& last) {
  return !last.at_least && last.value * last.high_factor < first.value * first.low_factor;
}
bool has_risen(const Like& first, const Like& last) {
  return !first.at_least && last.value * last.low_factor > first.value * first.high_factor;
}

/// The one before the last from which the last differs most surely: usually the first, but a value that first
/// rose and then fell has fallen too.
template <class Differs>
const Like* reference_for(const std::vector<Like>& all, Differs differs) {
  const Like* found = nullptr;
  for (std::size_t each = 0; each + 1 < all.size(); ++each)
    if (differs(all[each], all.back()) && (!found || all[each].value > found->value)) found = &all[each];
  return found;
}

Trend trend_of(What what, std::string_view circuit, const std::vector<Like>& all, const Like& from) {
  Trend trend{what, std::string(circuit), {}, all.back().value / from.value - 1, "", "", ""};
  for (const Like& each : all) trend.readings.push_back(each.reading);
  return trend;
}

std::string when(const Reading& reading) {
  if (reading.stage) return " (" + std::string(name_of(*reading.stage)) + ")";
  return reading.at.empty() ? "" : " (" + std::string(day_of(reading)) + ")";
}

std::string from_to(const Bench& bench, const Like& from, const Like& to) {
  const Reading &a = bench.readings()[from.reading], &b = bench.readings()[to.reading];
  return fmt::format("from {}{} to {}{}", bench.value(a), when(a), bench.value(b), when(b));
}

void add_insulation(const Bench& bench, std::string_view circuit, std::vector<Trend>& trends) {
  std::vector<Like> all;
  for (const std::size_t each : in_order(bench.readings(), What::insulation_resistance, circuit))
    if (bench.readings()[each].value > 0) all.push_back(insulation_at_20(bench.readings(), each));
  const Like* from = all.size() < 2 ? nullptr : reference_for(all, has_fallen);
  if (!from) return;
  Trend trend = trend_of(What::insulation_resistance, circuit, all, *from);
  trend.said = fmt::format("{}: insulation resistance fell {}, {:.0f} % at like temperature.", circuit,
                           from_to(bench, *from, all.back()), -100 * trend.change_frac);
  trend.suspect = "Moisture is getting in, or the jacket was hurt since the earlier test.";
  trend.to_do =
      "Find it while it is small: test branch by branch, look at end seals, splices and the work done "
      "since. " +
      std::string(mains_caution);
  trends.push_back(std::move(trend));
}

void add_current(const Bench& bench, std::span<const Verdict> verdicts, std::string_view circuit,
                 std::vector<Trend>& trends) {
  std::vector<Like> all;
  for (const std::size_t each : in_order(bench.readings(), What::current, circuit)) {
    const Reading& reading = bench.readings()[each];
    if (reading.minutes || !(reading.value > 0) || !(verdicts[each].expected.usual > 0)) continue;
    all.push_back(current_of_expected(bench.readings(), verdicts, each));
  }
  const Like* from = all.size() < 2 ? nullptr : reference_for(all, has_fallen);
  if (!from) return;
  Trend trend = trend_of(What::current, circuit, all, *from);
  trend.said = fmt::format("{}: the current fell {}, {:.0f} % at like temperature and voltage.", circuit,
                           from_to(bench, *from, all.back()), -100 * trend.change_frac);
  trend.suspect = "The cable has aged or was overheated, or part of it has gone dead.";
  trend.to_do =
      "Measure the installed length by capacitance; if it is unchanged the cable ages: read the pipe at "
      "the coldest places. " +
      std::string(mains_caution);
  trends.push_back(std::move(trend));
}

void add_length(const Bench& bench, What what, std::string_view circuit, std::vector<Trend>& trends) {
  std::vector<Like> all;
  for (const std::size_t each : in_order(bench.readings(), what, circuit)) {
    const Reading& reading = bench.readings()[each];
    if (reading.stage != Stage::on_receipt && reading.value > 0)  // a reel is longer than its circuit
      all.push_back(length_of(bench.readings(), each));
  }
  const auto changed = [](const Like& a, const Like& b) { return has_fallen(a, b) || has_risen(a, b); };
  const Like* from = all.size() < 2 ? nullptr : reference_for(all, changed);
  if (!from) return;
  Trend trend = trend_of(what, circuit, all, *from);
  const bool shorter = trend.change_frac < 0;
  trend.said = fmt::format("{}: the length by capacitance became {:.0f} % {}, {}.", circuit,
                           100 * std::abs(trend.change_frac), shorter ? "shorter" : "longer",
                           from_to(bench, *from, all.back()));
  trend.suspect = shorter ? "Cable was cut, or bus wires broke, since the earlier test."
                          : "Cable was added that no drawing shows, or moisture got in.";
  trend.to_do = shorter ? "Measure from the far end too: the two lengths add up at the break. " +
                              std::string(mains_caution)
                        : "Ask what was done since; measure insulation resistance and correct the drawing.";
  trends.push_back(std::move(trend));
}

}  // namespace

std::vector<Trend> trends(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings,
                          std::span<const Verdict> verdicts) {
  const Bench bench(job, plan, readings);
  std::vector<Trend> found;
  for (const power::Circuit& circuit : plan.circuits) {
    add_insulation(bench, circuit.id, found);
    add_current(bench, verdicts, circuit.id, found);
    add_length(bench, What::capacitance, circuit.id, found);
  }
  return found;
}

}  // namespace firstdraw::prove
