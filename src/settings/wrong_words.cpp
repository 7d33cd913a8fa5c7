#include "settings/wrong_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "physics/heating_cable.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;
using units::Kind;

// What is worth a word: our choices, no source.
constexpr double current_frac = 0.08, energy_frac = 0.05, reading_k = 1.5, water_k = 1, hot_frac = 0.02;

using Sentences = std::vector<std::string>;

struct Words {
  const Lab& lab;
  const Wrong& wrong;
  const WrongSetting& setting;

  std::string temperature(double c) const { return units::show(c, Kind::temperature, lab.job().units); }
  std::string difference(double k) const {
    return units::show(std::abs(k), Kind::temperature_difference, lab.job().units);
  }
  bool closed_loop() const {
    return lab.nominal().groups[at(wrong.group)].control.mode != draw::ControlMode::open_loop;
  }
  bool of_ambient() const {
    return wrong.kind == WrongKind::ambient_low || wrong.kind == WrongKind::ambient_high;
  }
};

std::string more(double frac) {
  return fmt::format("{:.0f} % {}", 100 * std::abs(frac), frac < 0 ? "less" : "more");
}

/// Where to look, whatever the figures are.
const char* where(WrongKind kind) {
  using enum WrongKind;
  switch (kind) {
    case ambient_low:
    case ambient_high:
      return "in the controller's settings, beside a thermometer in the air";
    case voltage_low:
    case voltage_high:
      return "with a voltmeter at the power connection";
    case weaker_cable:
    case stronger_cable:
      return "in the print on the cable";
    case clock_ahead:
    case clock_opposite:
      return "on the controller's clock, beside a watch";
    case sensor_beside:
    case sensor_upstream:
      break;
  }
  return "at the sensor itself, and with a contact thermometer on the group's pipes";
}

std::string seen(const Words& words) {
  const WrongSetting& s = words.setting;
  Sentences signs;
  if (std::abs(s.current_change_frac) >= current_frac)
    signs.push_back("current while on " + more(s.current_change_frac));
  if (std::abs(s.reading_change_k) >= reading_k)
    signs.push_back(fmt::format("mean reading {} instead of {}", words.temperature(s.mean_reading_c),
                                words.temperature(s.mean_reading_c - s.reading_change_k)));
  if (std::abs(s.kwh_change_frac) >= energy_frac) signs.push_back("energy " + more(s.kwh_change_frac));
  const std::string place = fmt::format("Seen {}", where(words.wrong.kind));
  if (signs.empty()) return place + "; current, reading and energy hardly change.";
  return fmt::format("{}; also {}.", place, fmt::join(signs, ", "));
}

void cold_harm(const Words& words, Sentences& harm) {
  const WrongSetting& s = words.setting;
  if (s.coldest_change_k <= -water_k)
    harm.push_back(fmt::format("the coldest run averages {} instead of {}",
                               words.temperature(s.coldest_run_c),
                               words.temperature(s.coldest_run_c - s.coldest_change_k)));
  if (s.hot_change_frac <= -hot_frac)
    harm.push_back(fmt::format("{:.0f} % of the draws are hot within 10 s instead of {:.0f} %",
                               100 * s.hot_in_10_s_frac, 100 * (s.hot_in_10_s_frac - s.hot_change_frac)));
}

void hot_harm(const Words& words, Sentences& harm) {
  const WrongSetting& s = words.setting;
  if (s.coldest_change_k >= water_k)
    harm.push_back(
        fmt::format("pipes are hotter, even the coldest run by {}: scalding comes closer at taps "
                    "without a safe-outlet valve",
                    words.difference(s.coldest_change_k)));
  if (s.kwh_change_frac >= energy_frac)
    harm.push_back(fmt::format("{:.1f} kWh a week are wasted",
                               s.kwh_per_week - s.kwh_per_week / (1 + s.kwh_change_frac)));
}

/// The sheet of every cable in the group lists this voltage.
void voltage_harm(const Words& words, Sentences& harm) {
  if (words.wrong.kind != WrongKind::voltage_low && words.wrong.kind != WrongKind::voltage_high) return;
  const int cable = main_cable(words.lab, words.wrong.group);
  const physics::CableSheet& sheet = words.lab.job().cables[at(cable)];
  if (physics::HeatingCable(sheet).allows_voltage(words.wrong.fault.value)) return;
  harm.push_back(fmt::format(
      "the data sheet of {} does not list {:g} V: the figures here are a guess beyond it, "
      "{}do not connect it",
      sheet.id, words.wrong.fault.value,
      words.wrong.kind == WrongKind::voltage_high ? "the cable may overheat and the breaker trip; " : ""));
}

/// With a sensor the entered ambient waits for the day the sensor is lost.
void ambient_harm(const Words& words, Sentences& harm) {
  if (!words.of_ambient() || !words.closed_loop()) return;
  const auto& group = words.lab.job().groups[at(words.wrong.group)];
  if (group.when_lost != job::SensorLost::entered_ambient) {
    harm.emplace_back("none: the controller does not use it, not even when the sensor is lost");
    return;
  }
  double most_k = 0;
  for (const draw::SceneRun& run : words.lab.nominal().runs)
    if (run.group == words.wrong.group)
      most_k = std::fmax(most_k, std::abs(words.lab.plan().runs[at(run.job_run)].open_loop_error_k_per_k));
  const double off_k = (words.wrong.fault.value - *group.entered_ambient_c) * most_k;
  harm.push_back(
      fmt::format("nothing as long as the sensor works; when it is lost, runs settle up to {} too {}",
                  words.difference(off_k), off_k > 0 ? "cold" : "hot"));
}

std::string sentence(const Sentences& parts) {
  if (parts.empty()) return {};
  std::string text = fmt::format("{}.", fmt::join(parts, "; "));
  if (text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text;
}

}  // namespace

void say(const Lab& lab, const Wrong& wrong, WrongSetting& setting) {
  const Words words{lab, wrong, setting};
  setting.seen = seen(words);
  Sentences harm;
  voltage_harm(words, harm);
  ambient_harm(words, harm);
  cold_harm(words, harm);
  hot_harm(words, harm);
  setting.harm = sentence(harm);
}

}  // namespace firstdraw::settings
