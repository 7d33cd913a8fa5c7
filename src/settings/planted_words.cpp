#include "settings/planted_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/run_classes.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;
using enum forecast::FaultKind;

std::string runs_of(const Lab& lab, const std::string& circuit) {
  constexpr std::size_t most = 4;
  const int index = plan::index_of(lab.plan().circuits, circuit);
  std::string text;
  const auto& runs = lab.plan().circuits[at(index)].runs;
  for (std::size_t i = 0; i < std::min(most, runs.size()); ++i)
    text += (i > 0 ? ", " : "") + lab.job().runs[at(runs[i])].id;
  return runs.size() > most ? fmt::format("{} and {} more", text, runs.size() - most) : text;
}

std::string what_finds(const Lab& lab, forecast::FaultKind kind, const std::string& place) {
  switch (kind) {
    case breaker_open:
      return fmt::format(
          "Measure the current of circuit {} with a clamp meter while it is on, at fixed intervals, or fit a "
          "current monitor in each circuit; a tap it heats ({}) that runs cold after standing tells it too.",
          place, runs_of(lab, place));
    case contactor_stuck_on:
      return fmt::format(
          "Check for voltage behind group {}'s contactor with a tester while its controller rests, at fixed "
          "intervals, or fit an independent limiter with a sensor and a contactor of its own.",
          place);
    case contactor_stuck_off:
      return fmt::format("Measure group {}'s current with a clamp meter while its controller calls for heat.",
                         place);
    case sensor_off_pipe:
      return fmt::format(
          "Compare the reading of group {} with a contact thermometer on the pipe beside its "
          "sensor, at fixed intervals.",
          place);
    default:
      return fmt::format(
          "Switch on the controller's own alarm for a broken or shorted sensor in group {}, and "
          "test it by opening the sensor's terminals: no limit trips on a reading that is "
          "not there.",
          place);
  }
}

}  // namespace

std::string fault_words(const Lab& lab, forecast::FaultKind kind, const std::string& place) {
  switch (kind) {
    case breaker_open:
      return fmt::format("circuit {} lost ({})", place, runs_of(lab, place));
    case contactor_stuck_on:
      return "contactor stuck on";
    case contactor_stuck_off:
      return "contactor stuck off";
    case sensor_off_pipe:
      return "sensor off the pipe";
    default:
      return "sensor lost";
  }
}

std::string otherwise_words(const Lab& lab, forecast::FaultKind kind, const std::string& place,
                            double followed_after_s) {
  std::string text = what_finds(lab, kind, place);
  if (std::isfinite(followed_after_s))
    text += fmt::format(" A low alarm that follows the set-point would show it within {}.",
                        units::show(followed_after_s, units::Kind::duration, lab.job().units));
  return text;
}

}  // namespace firstdraw::settings
