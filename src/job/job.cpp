// Equality of jobs and the few questions a job answers about itself.
#include "job/job.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace firstdraw::job {

namespace {

// A price that was not given is NaN, and two of those are the same price.
bool same(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }

template <class T, class Same>
bool same_rows(const std::vector<T>& a, const std::vector<T>& b, Same same_row) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_row);
}

bool same_pipe(const physics::Pipe& a, const physics::Pipe& b) {
  return std::tie(a.material, a.type, a.size, a.outer_diameter_m, a.wall_m, a.conductivity_w_per_m_k,
                  a.density_kg_per_m3, a.heat_capacity_j_per_kg_k, a.max_c, a.source) ==
         std::tie(b.material, b.type, b.size, b.outer_diameter_m, b.wall_m, b.conductivity_w_per_m_k,
                  b.density_kg_per_m3, b.heat_capacity_j_per_kg_k, b.max_c, b.source);
}

bool same_tables(const physics::CableSheet& a, const physics::CableSheet& b) {
  return same_rows(a.output, b.output,
                   [](const auto& p, const auto& q) {
                     return p.pipe_c == q.pipe_c && p.power_w_per_m == q.power_w_per_m;
                   }) &&
         same_rows(a.voltage, b.voltage,
                   [](const auto& p, const auto& q) {
                     return p.voltage_v == q.voltage_v && p.output_factor == q.output_factor;
                   }) &&
         same_rows(a.cold_start, b.cold_start,
                   [](const auto& p, const auto& q) {
                     return p.start_c == q.start_c && p.peak_a_per_m == q.peak_a_per_m &&
                            p.settled_a_per_m == q.settled_a_per_m;
                   }) &&
         same_rows(a.max_length, b.max_length, [](const auto& p, const auto& q) {
           return p.breaker_a == q.breaker_a && p.voltage_v == q.voltage_v && p.start_c == q.start_c &&
                  p.length_m == q.length_m;
         });
}

bool same_sheet(const physics::CableSheet& a, const physics::CableSheet& b) {
  return std::tie(a.id, a.name, a.maker, a.source, a.bus_conductor, a.rated_voltage_v,
                  a.output_tolerance_frac, a.bus_loop_ohm_per_m, a.capacitance_f_per_m, a.max_powered_c,
                  a.max_unpowered_c, a.min_install_c, a.min_bend_radius_m, a.section.width_m,
                  a.section.thickness_m) ==
             std::tie(b.id, b.name, b.maker, b.source, b.bus_conductor, b.rated_voltage_v,
                      b.output_tolerance_frac, b.bus_loop_ohm_per_m, b.capacitance_f_per_m, b.max_powered_c,
                      b.max_unpowered_c, b.min_install_c, b.min_bend_radius_m, b.section.width_m,
                      b.section.thickness_m) &&
         same(a.price_per_m, b.price_per_m) && same_tables(a, b);
}

}  // namespace

bool Run::operator==(const Run& other) const {
  return std::tie(id, from, to, level, space, group, length_m, insulation, thickness_m, traced, cable, passes,
                  orientation, valves, elbows, tees, supports, air, emissivity,
                  note) == std::tie(other.id, other.from, other.to, other.level, other.space, other.group,
                                    other.length_m, other.insulation, other.thickness_m, other.traced,
                                    other.cable, other.passes, other.orientation, other.valves, other.elbows,
                                    other.tees, other.supports, other.air, other.emissivity, other.note) &&
         same_pipe(pipe, other.pipe);
}

bool Outlet::operator==(const Outlet& other) const {
  return std::tie(id, node, fixture, count, space, room, runout_length_m, runout_insulation,
                  runout_thickness_m, profile, safe_outlet_valve,
                  note) == std::tie(other.id, other.node, other.fixture, other.count, other.space, other.room,
                                    other.runout_length_m, other.runout_insulation, other.runout_thickness_m,
                                    other.profile, other.safe_outlet_valve, other.note) &&
         same_pipe(runout_pipe, other.runout_pipe);
}

bool Pin::operator==(const Pin& other) const {
  return std::tie(kind, runs, reason) == std::tie(other.kind, other.runs, other.reason);
}

bool KnownCircuit::operator==(const KnownCircuit& other) const {
  return std::tie(id, feed_node, runs, fixed, breaker_a, note) ==
         std::tie(other.id, other.feed_node, other.runs, other.fixed, other.breaker_a, other.note);
}

bool Job::operator==(const Job& other) const {
  return std::tie(site, units, paper, requirements, economics, design, wiring, supply, levels, spaces, panels,
                  groups, periods, profiles, fixture_uses, tariff, controller, week, runs, outlets, pins,
                  known_circuits, overrides, accepted, assumptions) ==
             std::tie(other.site, other.units, other.paper, other.requirements, other.economics, other.design,
                      other.wiring, other.supply, other.levels, other.spaces, other.panels, other.groups,
                      other.periods, other.profiles, other.fixture_uses, other.tariff, other.controller,
                      other.week, other.runs, other.outlets, other.pins, other.known_circuits,
                      other.overrides, other.accepted, other.assumptions) &&
         same_rows(cables, other.cables, same_sheet);
}

std::vector<rules::Override> overrides_of(const Job& job) {
  std::vector<rules::Override> overrides;
  for (const RuleOverride& by_user : job.overrides)
    overrides.push_back({by_user.rule, by_user.value.value_or(std::nan("")), by_user.reason, by_user.name});
  return overrides;
}

AirTemperatures air_around(const Job& job, const Run& run) {
  if (run.air) return *run.air;
  const auto space = std::ranges::find(job.spaces, run.space, &Space::id);
  return space == job.spaces.end() ? AirTemperatures{} : space->air;
}

}  // namespace firstdraw::job
