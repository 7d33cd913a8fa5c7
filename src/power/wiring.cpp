// Conductors together in a raceway are counted as circuits alike. Both wires of a heating circuit carry its
// whole current, line to line as well as line to neutral: a neutral of its own is a loaded conductor (NEC
// 310.15(E)). One earth conductor serves all of them (NEC 250.122(C)).
#include "power/wiring.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "rules/cited_row.hpp"
#include "rules/conductor_sizing.hpp"
#include "rules/conductor_tables.hpp"
#include "rules/conduit.hpp"
#include "rules/panel_rules.hpp"

namespace firstdraw::power {

namespace {

using rules::RuleSet;

using Names = std::span<const std::string>;

void require(std::string& trouble, std::string_view what, std::string_view name, Names known) {
  if (trouble.empty() && std::ranges::find(known, name) == known.end())
    trouble = rules::unknown_name(what, name, known);
}

/// What the job says of wiring that the tables do not know, one sentence; empty: usable.
std::string unusable(const job::Job& job) {
  const RuleSet set = job.requirements.rules;
  const job::WiringPractice& practice = job.wiring;
  std::string trouble;
  require(trouble, "insulation", practice.insulation, rules::wire_insulations(set));
  require(trouble, "installation method", practice.method, rules::installation_methods(set));
  require(trouble, "make of conductor", practice.make, rules::conductor_makes(set));
  if (trouble.empty() && practice.circuits_together < 1) trouble = "circuits_together must be at least 1";
  const auto overrides = job::overrides_of(job);
  const auto wrong = rules::check_overrides(set, overrides);
  return trouble.empty() && !wrong.empty() ? wrong.front() : trouble;
}

constexpr int kBothWires = 2;

rules::ConductorCase conductor_case(const job::Job& job, double load_a, double device_a) {
  rules::ConductorCase one;
  one.rules = job.requirements.rules;
  one.load_a = load_a;
  one.device_a = device_a;
  one.ambient_c = job.wiring.ambient_c;
  one.terminal_c = job.wiring.terminal_c;
  one.insulation = job.wiring.insulation;
  one.method = job.wiring.method;
  one.make = job.wiring.make;
  return one;
}

rules::Citation loaded_wires(RuleSet set) {
  return set == RuleSet::us ? rules::Citation{"NFPA 70 (NEC)", "2023", "310.15(C)(1), 310.15(E)", "memory"}
                            : rules::Citation{"IEC 60364-5-52", "2009", "523.6", "memory"};
}

void count_wires(RuleSet set, const BranchCase& branch, BranchWiring& wiring) {
  wiring.reasons.push_back(
      {fmt::format("{} carry the whole current: {} loaded conductors of {} lie together.",
                   branch.two_live ? "Both lines" : "Line and neutral",
                   kBothWires * wiring.circuits_in_conduit,
                   wiring.circuits_in_conduit == 1
                       ? "one circuit"
                       : fmt::format("{} circuits, counted as alike,", wiring.circuits_in_conduit)),
       loaded_wires(set), "grouping-factor"});
}

std::vector<rules::RacewayConductors> bundle_of(const job::Job& job, const BranchWiring& wiring) {
  return {{.size = wiring.conductor,
           .insulation = job.wiring.insulation,
           .count = kBothWires * wiring.circuits_in_conduit,
           .outer_diameter_m = {}},
          {.size = wiring.earth, .insulation = job.wiring.insulation, .count = 1, .outer_diameter_m = {}}};
}

/// The notice of the authority stands once, at the end of all reasons.
void append(std::vector<rules::Reason>& all, const std::vector<rules::Reason>& more) {
  all.insert(all.end(), more.begin(), more.empty() ? more.end() : more.end() - 1);
}

void share_earth(BranchWiring& wiring) {
  if (wiring.circuits_in_conduit == 1) return;
  wiring.reasons.push_back(
      {fmt::format("One earth conductor {}, of the largest device, serves the {} circuits of the raceway.",
                   wiring.earth, wiring.circuits_in_conduit),
       {"NFPA 70 (NEC)", "2023", "250.122(C)", "memory"},
       "earth-conductor"});
}

void run_in_conduit(const job::Job& job, BranchWiring& wiring) {
  const std::string& kind = job.wiring.conduit;
  if (kind.empty()) return;
  if (job.requirements.rules != RuleSet::us) {
    wiring.reasons.push_back({"No raceway is sized: the rules have no table; ask the maker of the conduit.",
                              rules::authority_notice(RuleSet::intl).citation, "raceway"});
    return;
  }
  require(wiring.trouble, "raceway", kind, rules::conduit_kinds());
  if (wiring.trouble.empty() && std::ranges::find(rules::conduit_insulations(), job.wiring.insulation) ==
                                    rules::conduit_insulations().end())
    wiring.trouble = fmt::format("no raceway is sized: Table 5 is at hand for {} only, not for {}",
                                 fmt::join(rules::conduit_insulations(), ", "), job.wiring.insulation);
  if (!wiring.trouble.empty()) return;
  share_earth(wiring);
  const auto overrides = job::overrides_of(job);
  const auto choice = rules::conduit_for(kind, bundle_of(job, wiring), false, overrides);
  if (!choice) {
    wiring.trouble = choice.error();
    return;
  }
  wiring.conduit_kind = kind;
  wiring.conduit = choice->trade_size;
  wiring.conduit_metric = choice->metric_size;
  wiring.fill_frac = choice->fill_frac;
  append(wiring.reasons, choice->reasons);
}

void size_branch(const job::Job& job, const job::Panel& panel, const BranchCase& branch,
                 BranchWiring& wiring) {
  rules::ConductorCase one = conductor_case(job, branch.load_a, branch.device_a);
  one.current_carrying = kBothWires * wiring.circuits_in_conduit;
  one.one_way_m = branch.one_way_m;
  one.voltage_v = panel.voltage_v;
  one.max_drop_frac = job.wiring.max_drop_frac;
  const auto overrides = job::overrides_of(job);
  const auto sizing = rules::size_conductor(one, overrides);
  if (!sizing) {
    wiring.trouble = sizing.error();
    return;
  }
  wiring.conductor = sizing->size;
  wiring.earth = sizing->earth;
  wiring.ampacity_a = sizing->ampacity_a;
  wiring.loop_ohm_per_m = kBothWires * sizing->conductor_ohm_per_m;
  wiring.conductor_before_drop = sizing->size_before_drop;
  append(wiring.reasons, sizing->reasons);
}

bool three_phase(const job::Panel& panel) { return panel.phases >= 3; }

/// Between the lines: that is what the drop of three phases is counted against.
double line_voltage_v(const job::Panel& panel) {
  constexpr double kRoot3 = 1.7320508075688772;
  return three_phase(panel) && !panel.line_to_line ? kRoot3 * panel.voltage_v : panel.voltage_v;
}

std::expected<double, std::string> supply_device_a(const job::Job& job, const job::Panel& panel,
                                                   double load_a) {
  if (panel.main_a > 0) return panel.main_a;
  const auto overrides = job::overrides_of(job);
  const auto device = rules::device_for(job.requirements.rules, load_a, true, false, overrides);
  if (!device) return std::unexpected(device.error());
  return device->rating_a;
}

rules::ConductorCase supply_case(const job::Job& job, const job::Panel& panel, double load_a,
                                 double device_a) {
  rules::ConductorCase one = conductor_case(job, load_a, device_a);
  one.three_phase = three_phase(panel);
  one.current_carrying = one.three_phase ? 3 : 2;
  one.voltage_v = line_voltage_v(panel);
  one.feeder = true;
  return one;
}

/// What the advice leaves to the supply once the worst branch circuit has taken its share.
double drop_left(RuleSet set, std::span<const rules::Override> overrides, double branch_frac) {
  const rules::Ruling ruling(set, overrides);
  const double feeder = ruling.value("voltage-drop-feeder");
  const double left = ruling.value("voltage-drop-total") - branch_frac;
  return left > 0 ? std::min(feeder, left) : feeder;
}

std::string unknown_size(const job::Job& job, const job::Panel& panel) {
  std::vector<std::string> known;
  for (const auto& one : rules::conductor_sizes(job.requirements.rules))
    if (rules::has_resistance(job.requirements.rules, one.size, job.wiring.make)) known.push_back(one.size);
  std::string trouble;
  if (!panel.supply_size.empty())
    require(trouble, fmt::format("{} conductor size", job.wiring.make), panel.supply_size, known);
  return trouble;
}

void size_supply(const job::Job& job, const job::Panel& panel, const SupplyCase& load, double device_a,
                 PanelSupply& supply) {
  const auto overrides = job::overrides_of(job);
  rules::ConductorCase one = supply_case(job, panel, load.load_a, device_a);
  one.one_way_m = panel.supply_length_m;
  one.max_drop_frac = drop_left(one.rules, overrides, load.branch_drop_frac);
  one.stated_size = supply.conductor = panel.supply_size;
  const auto sizing = rules::size_conductor(one, overrides);
  if (!sizing) {
    supply.trouble = sizing.error();
    return;
  }
  supply.conductor = sizing->size;
  supply.earth = sizing->earth;
  append(supply.reasons, sizing->reasons);
}

void count_drop(const job::Job& job, const job::Panel& panel, const SupplyCase& load, PanelSupply& supply) {
  constexpr double kTable8C = 75;
  rules::FeederCase feeder;
  feeder.rules = job.requirements.rules;
  feeder.size = supply.conductor;
  feeder.make = job.wiring.make;
  feeder.conductor_c = feeder.rules == RuleSet::us
                           ? kTable8C
                           : rules::insulation_limit_c(feeder.rules, job.wiring.insulation).value;
  feeder.current_a = load.load_a;
  feeder.one_way_m = panel.supply_length_m;
  feeder.voltage_v = line_voltage_v(panel);
  feeder.three_phase = three_phase(panel);
  feeder.branch_drop_frac = load.branch_drop_frac;
  const auto overrides = job::overrides_of(job);
  const rules::FeederDrop drop = rules::feeder_drop(feeder, overrides);
  supply.drop_frac = drop.drop_frac;
  supply.total_drop_frac = drop.total_frac;
  supply.within_advice = drop.within_feeder && drop.within_total;
  supply.reasons.insert(supply.reasons.end(), drop.reasons.begin(), drop.reasons.end());
}

}  // namespace

BranchWiring wire_branch(const job::Job& job, const job::Panel& panel, const BranchCase& branch) {
  BranchWiring wiring;
  wiring.one_way_m = branch.one_way_m;
  wiring.circuits_in_conduit = std::max(1, job.wiring.circuits_together);
  wiring.trouble = unusable(job);
  if (wiring.trouble.empty() && !(branch.load_a > 0 && branch.device_a > 0))
    wiring.trouble = "a circuit without current or device has no conductors";
  if (!wiring.trouble.empty()) return wiring;
  const RuleSet set = job.requirements.rules;
  count_wires(set, branch, wiring);
  size_branch(job, panel, branch, wiring);
  if (wiring.trouble.empty()) run_in_conduit(job, wiring);
  wiring.reasons.push_back(rules::authority_notice(set));
  return wiring;
}

PanelSupply wire_supply(const job::Job& job, const job::Panel& panel, const SupplyCase& load) {
  PanelSupply supply;
  if (!(panel.supply_length_m > 0) || !(load.load_a > 0)) return supply;
  supply.trouble = unusable(job);
  if (supply.trouble.empty()) supply.trouble = unknown_size(job, panel);
  if (!supply.trouble.empty()) return supply;
  const auto device_a = supply_device_a(job, panel, load.load_a);
  if (!device_a) {
    supply.trouble = device_a.error();
    return supply;
  }
  supply.reasons.push_back(
      {fmt::format("{} supply behind {:g} A: every phase is counted as full as the fullest, {:.4g} A.",
                   three_phase(panel) ? "Three-phase" : "Single-phase", *device_a, load.load_a),
       rules::circuit_rule(job.requirements.rules, "continuous-load").citation, "supply"});
  size_supply(job, panel, load, *device_a, supply);
  if (!supply.conductor.empty()) count_drop(job, panel, load, supply);
  return supply;
}

}  // namespace firstdraw::power
