// Faults as people write them: "wet-insulation:R12=3".
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "forecast/scene_parts.hpp"
#include "plan/decide.hpp"
#include "plan/run_classes.hpp"
#include "units/quantity.hpp"

namespace firstdraw::forecast {
namespace {

using std::unexpected;
using Trouble = unexpected<std::string>;
using enum FaultKind;

constexpr std::array help = {
    FaultHelp{sensor_beside_cable, "sensor-beside-cable", "group", "",
              "the sensor lies beside the cable instead of where the job has it"},
    FaultHelp{sensor_upstream, "sensor-upstream", "group", "",
              "the sensor is on the untraced pipe above the group, where water from the heater flows"},
    FaultHelp{sensor_lost, "sensor-lost", "group", "", "the controller gets no reading"},
    FaultHelp{contactor_stuck_on, "contactor-stuck-on", "group", "", "the cable is on all the time"},
    FaultHelp{contactor_stuck_off, "contactor-stuck-off", "group", "", "the cable is never on"},
    FaultHelp{breaker_open, "breaker-open", "circuit", "", "the circuit has no power"},
    FaultHelp{wrong_voltage, "wrong-voltage", "group", "voltage at the cable, as 120 V",
              "the group's cables are fed with another voltage"},
    FaultHelp{wrong_ambient, "wrong-ambient", "group", "temperature entered, as 30 °C",
              "the controller was told another air temperature"},
    FaultHelp{wet_insulation, "wet-insulation", "run", "factor on conductivity, as 3",
              "the run's insulation is wet"},
    FaultHelp{missing_insulation, "missing-insulation", "run", "", "the run is bare"},
    FaultHelp{dead_cable, "dead-cable", "run", "share of its length from which it is dead, as 0.5",
              "the run's cable is dead from there on, with all that follows on its circuit"},
    FaultHelp{clock_off, "clock-off", "group", "time the controller is ahead, as 1 h or -30 min",
              "the controller's clock is wrong"},
    FaultHelp{wrong_cable, "wrong-cable", "group", "id of a sheet of the catalogue",
              "the group's runs carry another cable"},
    FaultHelp{sensor_off_pipe, "sensor-off-pipe", "group", "",
              "the sensor has come off and reads the air around its run"},
};

/// " (did you mean ...?)" or nothing.
std::string hint(std::string_view word, const std::vector<std::string>& known) {
  const auto near = units::nearest(word, known);
  return near ? fmt::format("; did you mean \"{}\"?", *near) : std::string{};
}

template <class Items>
std::vector<std::string> ids_of(const Items& items) {
  std::vector<std::string> ids;
  for (const auto& item : items) ids.push_back(item.id);
  return ids;
}

std::vector<std::string> places(const FaultHelp& kind, const job::Job& job, const plan::Plan& plan) {
  if (kind.place == "group") return ids_of(job.groups);
  if (kind.place == "circuit") return ids_of(plan.circuits);
  return ids_of(job.runs);
}

/// "name:place=value"; an id may hold a colon or an equals sign only where the parts stay clear.
struct Parts {
  std::string_view name, place;
  std::optional<std::string_view> value;
};

Parts split(std::string_view text) {
  const auto colon = text.find(':');
  Parts parts{text.substr(0, colon), {}, {}};
  if (colon == std::string_view::npos) return parts;
  parts.place = text.substr(colon + 1);
  const auto equals = parts.place.rfind('=');
  if (equals == std::string_view::npos) return parts;
  parts.value = parts.place.substr(equals + 1);
  parts.place = parts.place.substr(0, equals);
  return parts;
}

struct ValueRule {
  units::Kind kind;
  double least, most;
  std::string_view range;
};

ValueRule value_rule(FaultKind kind) {
  switch (kind) {
    case wrong_voltage:
      return {units::Kind::voltage, 1, 1000, "1 V to 1000 V"};
    case wrong_ambient:
      return {units::Kind::temperature, -50, 100, "-50 °C to 100 °C"};
    case dead_cable:
      return {units::Kind::fraction, 0, 1, "0 to 1"};
    case clock_off:
      return {units::Kind::duration, -86400, 86400, "-24 h to 24 h"};
    default:
      return {units::Kind::fraction, 0.1, 100, "0.1 to 100"};
  }
}

std::expected<double, std::string> read_value(const FaultHelp& kind, const Parts& parts) {
  if (kind.value.empty()) {
    if (!parts.value) return 0;
    return Trouble(fmt::format("{} takes no value", kind.name));
  }
  if (!parts.value)
    return Trouble(fmt::format("{} needs a value: {}:{}={}", kind.name, kind.name, parts.place, kind.value));
  const ValueRule rule = value_rule(kind.kind);
  const auto value = units::parse(*parts.value, rule.kind);
  if (!value) return Trouble(fmt::format("{}: {}", kind.name, value.error()));
  if (!(*value >= rule.least && *value <= rule.most))
    return Trouble(fmt::format("{}: \"{}\" is outside {}", kind.name, *parts.value, rule.range));
  return *value;
}

/// Value of a fault that is no figure: the sheet of another cable.
std::expected<std::string, std::string> read_cable(const FaultHelp& kind, const Parts& parts,
                                                   const job::Job& job) {
  const auto known = ids_of(job.cables);
  if (!parts.value || parts.value->empty())
    return Trouble(fmt::format("{} needs a value: {}:{}={}", kind.name, kind.name, parts.place,
                               known.empty() ? std::string(kind.value) : known.front()));
  std::string id(*parts.value);
  if (std::ranges::find(known, id) != known.end()) return id;
  return Trouble(fmt::format("{}: no cable is called \"{}\"{}", kind.name, id, hint(id, known)));
}

bool has_cable(const job::Job& job, const plan::Plan& plan, int group) {
  for (std::size_t r = 0; r < job.runs.size(); ++r)
    if (plan.runs.at(r).cable != draw::none && plan::heating_group(job, job.runs[r]) == group) return true;
  return false;
}

/// What is wrong with this fault at this place; nothing when it can be.
std::optional<std::string> misfit(const Fault& fault, const job::Job& job, const plan::Plan& plan) {
  const int group = plan::index_of(job.groups, fault.place), run = plan::index_of(job.runs, fault.place);
  switch (fault.kind) {
    case sensor_beside_cable:
    case sensor_lost:
    case sensor_off_pipe:
      if (plan::sensor_run_of(job, group) != draw::none) return {};
      return fmt::format("group \"{}\" has no sensor on heated pipe", fault.place);
    case sensor_upstream:
      if (plan::sensor_run_of(job, group) == draw::none)
        return fmt::format("group \"{}\" has no sensor on heated pipe", fault.place);
      if (untraced_above(job, plan, group) != draw::none) return {};
      return fmt::format("no untraced pipe lies above group \"{}\"", fault.place);
    case wrong_ambient:
      if (job.groups[draw::at(group)].entered_ambient_c) return {};
      return fmt::format("group \"{}\" has no entered ambient", fault.place);
    case dead_cable:
      if (plan.runs.at(draw::at(run)).circuit != draw::none) return {};
      return fmt::format("run \"{}\" is on no circuit", fault.place);
    case wet_insulation:
    case missing_insulation:
      if (physics::find_insulation(job.runs[draw::at(run)].insulation)) return {};
      return fmt::format("run \"{}\" has no insulation", fault.place);
    case wrong_cable:
      if (has_cable(job, plan, group)) return {};
      return fmt::format("group \"{}\" has no heated pipe", fault.place);
    default:
      return {};
  }
}

/// Figure or cable of a fault whose kind and place are known.
std::expected<Fault, std::string> read_rest(const FaultHelp& kind, const Parts& parts, const job::Job& job) {
  Fault fault{kind.kind, std::string(parts.place)};
  if (kind.kind == wrong_cable) {
    auto cable = read_cable(kind, parts, job);
    if (!cable) return Trouble(cable.error());
    fault.cable = std::move(*cable);
    return fault;
  }
  const auto value = read_value(kind, parts);
  if (!value) return Trouble(value.error());
  fault.value = *value;
  return fault;
}

}  // namespace

bool may_begin_later(FaultKind kind) {
  return kind == sensor_lost || kind == sensor_off_pipe || kind == contactor_stuck_on ||
         kind == contactor_stuck_off || kind == breaker_open;
}

std::span<const FaultHelp> fault_help() { return help; }

std::expected<Fault, std::string> read_fault(std::string_view text, const job::Job& job,
                                             const plan::Plan& plan) {
  const Parts parts = split(text);
  const auto kind = std::find_if(help.begin(), help.end(),
                                 [&parts](const FaultHelp& known) { return known.name == parts.name; });
  if (kind == help.end()) {
    std::vector<std::string> names;
    for (const FaultHelp& known : help) names.emplace_back(known.name);
    return Trouble(fmt::format("no fault is called \"{}\"{}", parts.name, hint(parts.name, names)));
  }
  const auto known = places(*kind, job, plan);
  if (parts.place.empty())
    return Trouble(fmt::format("{} needs a {}: {}:{}", kind->name, kind->place, kind->name,
                               known.empty() ? std::string(kind->place) : known.front()));
  if (std::find(known.begin(), known.end(), parts.place) == known.end())
    return Trouble(
        fmt::format("no {} is called \"{}\"{}", kind->place, parts.place, hint(parts.place, known)));
  auto fault = read_rest(*kind, parts, job);
  if (!fault) return fault;
  if (const auto wrong = misfit(*fault, job, plan)) return Trouble(fmt::format("{}: {}", kind->name, *wrong));
  return fault;
}

}  // namespace firstdraw::forecast
