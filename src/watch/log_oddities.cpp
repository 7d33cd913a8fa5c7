// What is odd about the samples of one series: gaps, stretches in which a sensor stuck, values that cannot
// be.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include "units/quantity.hpp"
#include "watch/log_clock.hpp"
#include "watch/log_import.hpp"
#include "watch/log_stuck.hpp"
#include "watch/log_words.hpp"

namespace firstdraw::watch {
namespace {

using Samples = std::vector<store::Sample>;

struct Possible {
  std::string_view quantity;
  double least = 0, most = 0;
  std::string_view says;
};
// What hot-water piping and its heating cable can show; wide on purpose (common practice, no source).
constexpr std::array possible{Possible{"temperature", -40, 130, "a pipe, its water or the air around it"},
                              Possible{"set-point", -40, 130, "a set-point"},
                              Possible{"current", -0.5, 2000, "a circuit's current"},
                              Possible{"voltage", -1, 1000, "a supply voltage"},
                              Possible{"power", -50, 1e6, "a circuit's power"},
                              Possible{"duty", -0.005, 1.005, "a share"},
                              Possible{"on", 0, 1, "a switch"}};

std::string value_text(const LogColumn& column, double value, units::System shown) {
  return units::show(value, kind_of_quantity(column.quantity), shown);
}

Oddity oddity_of(Oddity::Kind kind, const LogColumn& column, const store::Sample& from,
                 const store::Sample& to, std::int64_t count, std::string said) {
  Oddity oddity;
  oddity.kind = kind;
  oddity.series = column.series;
  oddity.from_ms = from.at_ms;
  oddity.to_ms = to.at_ms;
  oddity.count = count;
  oddity.said = std::move(said);
  return oddity;
}

void add_gaps(const LogColumn& column, const Samples& samples, std::vector<Oddity>& oddities) {
  std::vector<std::int64_t> at_ms;
  at_ms.reserve(samples.size());
  for (const auto& sample : samples) at_ms.push_back(sample.at_ms);
  const std::int64_t step_ms = usual_step_ms(at_ms);
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const std::int64_t gap_ms = at_ms[i] - at_ms[i - 1];
    if (gap_ms <= 3 * step_ms) continue;
    oddities.push_back(oddity_of(Oddity::Kind::gap, column, samples[i - 1], samples[i], gap_ms / step_ms - 1,
                                 fmt::format("no readings for {}", length_text(gap_ms))));
  }
}

void add_stuck(const LogColumn& column, const Samples& samples, units::System shown,
               std::vector<Oddity>& oddities) {
  // A switch, a set-point and a cable that is off stay as they are.
  if (column.quantity == "on" || column.quantity == "set-point" || column.quantity == "duty") return;
  for (const StuckRun& run : stuck_runs(samples)) {
    const store::Sample &from = samples[run.begin], &to = samples[run.end - 1];
    if (from.value == 0 && column.quantity != "temperature") continue;
    oddities.push_back(oddity_of(
        Oddity::Kind::stuck, column, from, to, static_cast<std::int64_t>(run.end - run.begin),
        run.whole ? fmt::format("{} in every one of {} readings over {}: no working sensor is that still",
                                value_text(column, from.value, shown), run.end - run.begin,
                                length_text(to.at_ms - from.at_ms))
                  : fmt::format(
                        "{} for {} without a change; by its own noise the longest of such stretches would be "
                        "about {}",
                        value_text(column, from.value, shown), length_text(to.at_ms - from.at_ms),
                        length_text(run.longest_expected_ms))));
  }
}

void add_out_of_range(const LogColumn& column, const Samples& samples, units::System shown,
                      std::vector<Oddity>& oddities) {
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (is_possible(column.quantity, samples[i].value)) continue;
    std::size_t end = i + 1;
    while (end < samples.size() && !is_possible(column.quantity, samples[end].value)) ++end;
    const auto* limits = std::ranges::find(possible, column.quantity, &Possible::quantity);
    oddities.push_back(oddity_of(Oddity::Kind::out_of_range, column, samples[i], samples[end - 1],
                                 static_cast<std::int64_t>(end - i),
                                 fmt::format("{}: {} never has that, so it is left out",
                                             value_text(column, samples[i].value, shown), limits->says)));
    i = end;
  }
}

}  // namespace

std::string_view name_of(Oddity::Kind kind) {
  constexpr std::array<std::string_view, 6> names{"gap",   "duplicate",    "clock-jump",
                                                  "stuck", "out-of-range", "unreadable"};
  return names.at(static_cast<std::size_t>(kind));
}

bool is_possible(std::string_view quantity, double value) {
  const auto* limits = std::ranges::find(possible, quantity, &Possible::quantity);
  return limits == possible.end() ? std::isfinite(value) : value >= limits->least && value <= limits->most;
}

std::vector<Oddity> oddities_of(const LogColumn& column, const Samples& samples, units::System shown) {
  std::vector<Oddity> oddities;
  add_out_of_range(column, samples, shown, oddities);
  add_gaps(column, samples, oddities);
  if (oddities.empty()) {
    add_stuck(column, samples, shown, oddities);
    return oddities;
  }
  Samples sound;
  std::ranges::copy_if(samples, std::back_inserter(sound),
                       [&](const store::Sample& one) { return is_possible(column.quantity, one.value); });
  add_stuck(column, sound, shown, oddities);
  return oddities;
}

}  // namespace firstdraw::watch
