#include "plan/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "rules/rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::plan {
namespace {

using units::Kind;

using piping::at;

/// Writes the lines of one group.
class Sheet {
 public:
  Sheet(const job::Job& job, const Plan& plan, std::size_t group, std::vector<Setting>& lines)
      : job_(job),
        plan_(plan),
        index_(static_cast<int>(group)),
        group_(job.groups[group]),
        held_(plan.groups[group]),
        lines_(lines) {}

  void write() {
    if (group_.kind == job::ControlKind::pipe_sensor) sensor();
    temperatures();
    ambient();
    duties();
    limits();
    start_delays();
    first_day();
  }

 private:
  void add(std::string name, std::string value, std::string note = {}) {
    lines_.push_back({group_.id, std::move(name), std::move(value), std::move(note)});
  }
  std::string temperature(double c) const { return units::show(c, Kind::temperature, job_.units); }
  std::string difference(double k) const { return units::show(k, Kind::temperature_difference, job_.units); }

  void sensor() {
    const std::string place = group_.sensor_run.empty() ? "none given" : "run " + group_.sensor_run;
    const bool best = held_.best_sensor_run.empty() || held_.best_sensor_run == group_.sensor_run;
    add("Sensor place", place,
        best ? "on the pipe, under the insulation"
             : "on the pipe, under the insulation; run " + held_.best_sensor_run +
                   " needs the most heat for its output");
    const double degrees = group_.sensor_angle_rad * 180 / std::numbers::pi;
    add("Sensor angle from the cable", fmt::format("{:.0f}°", degrees),
        reading_note() + "; 180° is opposite the cable");
    add("Sensor kind", "pipe sensor", "as the controller's instructions list it");
  }

  std::string reading_note() const {
    if (!std::isfinite(held_.sensor_offset_k)) return "its reading against the water is not known";
    const std::string size = difference(std::abs(held_.sensor_offset_k));
    if (size == difference(0)) return "reads the same as the water";
    return fmt::format("reads about {} {} the water", size, held_.sensor_offset_k < 0 ? "below" : "above");
  }

  void temperatures() {
    add("Maintain temperature", temperature(group_.maintain_c),
        fmt::format("every run within {} below it", difference(group_.hold_tolerance_k)));
    add("Setback temperature", temperature(group_.setback_c), setback_note());
    method();
  }

  void method() {
    if (group_.kind == job::ControlKind::entered_ambient) {
      add("Control method", "open loop", "a share of every cycle, from the entered ambient");
      add("Cycle", duration(group_.cycle_s), "one on and one off");
    } else if (group_.method == job::ControlMethod::pulsed) {
      add("Control method", "pulsed", "a share of every cycle, from the sensor");
      add("Cycle", duration(group_.cycle_s), "one on and one off");
    } else {
      add("Control method", "thermostat", "on below, off above the set-point");
      add("Differential", difference(group_.differential_k), "between on and off");
    }
    if (group_.min_on_s > 0) add("Shortest time on", duration(group_.min_on_s), "");
    if (group_.min_off_s > 0) add("Shortest time off", duration(group_.min_off_s), "");
    if (group_.kind == job::ControlKind::pipe_sensor) add("When the sensor is lost", lost_words(), "");
  }

  std::string lost_words() const {
    switch (group_.when_lost) {
      case job::SensorLost::on:
        return "on";
      case job::SensorLost::entered_ambient:
        return "by the entered ambient";
      case job::SensorLost::off:
        break;
    }
    return "off";
  }

  std::string setback_note() const {
    const rules::GrowthBand band = rules::growth_band();
    if (group_.setback_c >= group_.maintain_c) return "no setback: held at maintain all the time";
    if (group_.setback_c > band.high_c) return {};
    return fmt::format(
        "Legionella multiplies between {} and {} ({}): agree with the person responsible for the water",
        temperature(band.low_c), temperature(band.high_c), band.citation.text());
  }

  void ambient() {
    if (!group_.entered_ambient_c) {
      add("Ambient to enter", "none given", "without it nothing holds the duty when the sensor fails");
      return;
    }
    add("Ambient to enter", temperature(*group_.entered_ambient_c),
        group_.kind == job::ControlKind::pipe_sensor ? "fallback when the sensor fails" : "sets the duty");
  }

  void duties() {
    add("Duty expected at maintain", percent(held_.duty), "share of the time the cable is on, usual air");
    add("Duty expected at setback", percent(held_.setback_duty), "usual air");
    add("Mean power expected at maintain", units::show(held_.power_w, Kind::power, job_.units), "usual air");
  }

  void limits() {
    add_limit("Low alarm", group_.low_alarm_c, "");
    add_limit("High alarm", group_.high_alarm_c, "");
    add_limit("High-temperature cut-out", group_.high_cutout_c, "needs a working sensor");
  }

  void add_limit(const char* name, double limit_c, const char* note) {
    add(name, limit_c > 0 ? temperature(limit_c) : "none given", note);
  }

  /// When the panel starts its circuits in turn: after every return of power.
  void start_delays() {
    for (const auto& circuit : plan_.circuits) {
      if (circuit.group != index_ || circuit.panel == piping::none) continue;
      const auto load = std::ranges::find(plan_.panels, circuit.panel, &power::PanelLoad::panel);
      if (load == plan_.panels.end() || !(load->start_limit_a > 0)) continue;
      add(fmt::format("{} start delay", circuit.id), fmt::format("{:.0f} s", circuit.start.delay_s),
          fmt::format("after every return of power, not only the first start; heating keeps within {}",
                      current(load->start_limit_a)));
    }
  }

  void first_day() {
    add("Warm-up expected", units::show(held_.heat_up_s, Kind::duration, job_.units),
        fmt::format("slowest run, from {}, water standing", temperature(job_.requirements.start_c)));
    for (const auto& circuit : plan_.circuits) {
      if (circuit.group != index_) continue;
      const double voltage_v = circuit.panel == piping::none ? 0 : job_.panels[at(circuit.panel)].voltage_v;
      add(fmt::format("{} current, pipe at maintain", circuit.id), current(circuit.working_a),
          fmt::format("cable on, {}; breaker {:.0f} A", units::show(voltage_v, Kind::voltage, job_.units),
                      circuit.breaker_a));
      add(fmt::format("{} current, 5 min after a cold start", circuit.id), current(circuit.settled_a),
          fmt::format("pipe at {}; {} at switching on", temperature(job_.requirements.start_c),
                      current(circuit.peak_a)));
    }
  }

  std::string duration(double s) const { return units::show(s, Kind::duration, job_.units); }
  std::string current(double a) const { return units::show(a, Kind::current, job_.units); }
  static std::string percent(double frac) { return fmt::format("{:.0f} %", 100 * frac); }

  const job::Job& job_;
  const Plan& plan_;
  int index_;
  const job::ControlGroup& group_;
  const GroupPlan& held_;
  std::vector<Setting>& lines_;
};

}  // namespace

std::vector<Setting> settings_sheet(const job::Job& job, const Plan& plan) {
  std::vector<Setting> lines;
  for (std::size_t g = 0; g < job.groups.size(); ++g) Sheet(job, plan, g, lines).write();
  return lines;
}

}  // namespace firstdraw::plan
