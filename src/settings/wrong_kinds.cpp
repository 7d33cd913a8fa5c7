#include "settings/wrong_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/run_classes.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;
using units::Kind;

constexpr double ambient_off_k = 10;
constexpr double same_voltage_frac = 0.1;  // one class: 220 V to 240 V
constexpr double same_output_frac = 0.02;

/// What a kind is in a group: words, and the fault as people write it.
struct Said {
  std::string what, text;
};

std::optional<Said> ambient(const Lab& lab, const job::ControlGroup& group, double off_k) {
  if (!group.entered_ambient_c) return std::nullopt;
  const units::System system = lab.job().units;
  const double entered_c = *group.entered_ambient_c + off_k;
  return Said{
      fmt::format("ambient entered {} too {}",
                  units::show(std::abs(off_k), Kind::temperature_difference, system),
                  off_k < 0 ? "low" : "high"),
      fmt::format("wrong-ambient:{}={}", group.id, units::exact_text(entered_c, Kind::temperature, system))};
}

/// The next class below or above the panel's voltage.
std::optional<Said> voltage(const Lab& lab, const job::ControlGroup& group, bool higher) {
  const int panel = plan::index_of(lab.job().panels, group.panel);
  if (panel == draw::none) return std::nullopt;
  const double now_v = lab.job().panels[at(panel)].voltage_v;
  std::optional<double> next_v;
  for (const double volts : voltage_classes(lab.job().requirements.rules)) {
    if (higher && volts > now_v * (1 + same_voltage_frac) && !next_v) next_v = volts;
    if (!higher && volts < now_v * (1 - same_voltage_frac)) next_v = volts;
  }
  if (!next_v) return std::nullopt;
  return Said{fmt::format("fed with {:g} V instead of {:g} V", *next_v, now_v),
              fmt::format("wrong-voltage:{}={:g} V", group.id, *next_v)};
}

/// The sheet of the catalogue whose output at maintain is next below or above the planned one's.
std::optional<Said> cable(const Lab& lab, int index, bool stronger) {
  const int planned = main_cable(lab, index);
  if (planned == draw::none) return std::nullopt;
  const job::ControlGroup& group = lab.job().groups[at(index)];
  const auto output = [&](std::size_t sheet) { return lab.nominal().cables[sheet].at(group.maintain_c); };
  const double own = output(at(planned));
  std::optional<std::size_t> best;
  for (std::size_t c = 0; c < lab.job().cables.size(); ++c) {
    const double apart = stronger ? output(c) / own - 1 : 1 - output(c) / own;
    if (apart > same_output_frac && (!best || std::abs(output(c) - own) < std::abs(output(*best) - own)))
      best = c;
  }
  if (!best) return std::nullopt;
  const auto& sheets = lab.job().cables;
  return Said{fmt::format("cable {} fitted instead of {}", sheets[*best].id, sheets[at(planned)].id),
              fmt::format("wrong-cable:{}={}", group.id, sheets[*best].id)};
}

std::optional<Said> clock(const Timetable& timetable, const job::ControlGroup& group, int hours) {
  const auto own = std::ranges::find(timetable.groups, group.id, &GroupTimetable::group);
  if (own == timetable.groups.end() || own->constant()) return std::nullopt;
  return Said{hours == 12 ? "clock 12 h off" : fmt::format("clock {} h ahead", hours),
              fmt::format("clock-off:{}={} h", group.id, hours)};
}

std::optional<Said> said(const Lab& lab, const Timetable& timetable, WrongKind kind, int index) {
  const job::ControlGroup& group = lab.job().groups[at(index)];
  using enum WrongKind;
  switch (kind) {
    case ambient_low:
      return ambient(lab, group, -ambient_off_k);
    case ambient_high:
      return ambient(lab, group, ambient_off_k);
    case voltage_low:
      return voltage(lab, group, false);
    case voltage_high:
      return voltage(lab, group, true);
    case weaker_cable:
      return cable(lab, index, false);
    case stronger_cable:
      return cable(lab, index, true);
    case clock_ahead:
      return clock(timetable, group, 3);
    case clock_opposite:
      return clock(timetable, group, 12);
    case sensor_beside:
      return Said{"sensor on the cable's side", "sensor-beside-cable:" + group.id};
    case sensor_upstream:
      break;
  }
  return Said{"sensor upstream, on untraced pipe", "sensor-upstream:" + group.id};
}

bool has_cable(const Lab& lab, int group) {
  return std::ranges::any_of(lab.nominal().runs,
                             [&](const draw::SceneRun& run) { return run.group == group; });
}

/// A sensor that the controller does not go by can be anywhere.
bool matters(const Lab& lab, WrongKind kind, int group) {
  const bool of_sensor = kind == WrongKind::sensor_beside || kind == WrongKind::sensor_upstream;
  const bool open_loop = lab.nominal().groups[at(group)].control.mode == draw::ControlMode::open_loop;
  return has_cable(lab, group) && !(of_sensor && open_loop);
}

}  // namespace

std::vector<double> voltage_classes(rules::RuleSet rules) {
  if (rules == rules::RuleSet::us) return {120, 208, 240, 277};
  return {230, 400};
}

int main_cable(const Lab& lab, int group) {
  std::vector<double> length_m(lab.job().cables.size(), 0);
  for (const draw::SceneRun& run : lab.nominal().runs)
    if (run.group == group) length_m[at(run.cable)] += run.length_m;
  const auto most = std::ranges::max_element(length_m);
  return most == length_m.end() || *most <= 0 ? draw::none : static_cast<int>(most - length_m.begin());
}

std::optional<Wrong> wrong_in(const Lab& lab, const Timetable& timetable, WrongKind kind, int group) {
  if (!matters(lab, kind, group)) return std::nullopt;
  auto words = said(lab, timetable, kind, group);
  if (!words) return std::nullopt;
  auto fault = forecast::read_fault(words->text, lab.job(), lab.plan());
  if (!fault) return std::nullopt;
  return Wrong{kind, group, std::move(words->what), std::move(words->text), std::move(*fault)};
}

}  // namespace firstdraw::settings
