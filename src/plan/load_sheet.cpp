#include "plan/load_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "plan/check_context.hpp"
#include "plan/load_lines.hpp"
#include "power/phases.hpp"
#include "rules/panel_rules.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;

constexpr double percent = 100;

/// The lines of one panel itself.
class PanelSheet {
 public:
  PanelSheet(const job::Job& job, const power::PanelLoad& load, LoadLines& lines)
      : job_(job), panel_(job.panels[at(load.panel)]), load_(load), lines_(lines) {}

  void write() {
    connected();
    phases();
    main();
    places();
    supply();
    starts();
    lines_.requirements();
  }

 private:
  void connected() {
    lines_.add("Connected load", lines_.power(load_.settled_w),
               fmt::format("{} circuits, each {} after a start at {}; {} with every pipe at its maintain "
                           "temperature.",
                           load_.circuits.size(), "300 s", lines_.temperature(job_.requirements.start_c),
                           lines_.power(load_.working_w)),
               lines_.rule("continuous-load").citation);
    lines_.add_rule("continuous-load", "Continuous load",
                    fmt::format("{:.3g}", lines_.value("continuous-load")));
  }

  void phases() {
    if (load_.phase_a.empty()) return;
    std::string each;
    for (std::size_t i = 0; i < load_.phase_a.size(); ++i)
      each += fmt::format("{}L{} {}", i > 0 ? ", " : "", i + 1, lines_.current(load_.phase_a[i]));
    const double mean_a = std::accumulate(load_.phase_a.begin(), load_.phase_a.end(), 0.0) /
                          static_cast<double>(load_.phase_a.size());
    const double off = mean_a > 0 ? load_.settled_a / mean_a - 1 : 0;
    lines_.add("Load by phase", each,
               fmt::format("Settled currents; circuits go, heaviest first, to the phase that carries least; "
                           "currents of two pairs meet at 120°. The fullest is {:.0f} % above the mean.",
                           percent * off),
               common_practice());
  }

  void main() {
    const std::string other =
        panel_.other_a > 0 ? fmt::format(" and {} of other loads", lines_.current(panel_.other_a)) : "";
    lines_.add("Least main", lines_.current(load_.least_main_a),
               fmt::format("{:.3g} times the fullest phase of {}{}.", lines_.value("continuous-load"),
                           lines_.current(load_.settled_a), other),
               lines_.rule("continuous-load").citation);
    if (!(panel_.main_a > 0)) return;
    const bool enough = load_.least_main_a <= panel_.main_a * (1 + 1e-9);
    lines_.add("Main", lines_.current(panel_.main_a),
               enough ? "As given; it is not below what is asked for." : "As given; it is too small.",
               lines_.rule("continuous-load").citation);
  }

  void places() {
    lines_.add("Poles", fmt::format("{}", load_.poles),
               panel_.free_poles > 0 ? fmt::format("{} are free, as given.", panel_.free_poles)
                                     : "How many are free is not given.",
               common_practice());
  }

  void supply() {
    const power::PanelSupply& supply = load_.supply;
    if (supply.conductor.empty() && supply.trouble.empty()) return;
    if (!supply.trouble.empty()) lines_.add("Supply", "not settled", supply.trouble + ".", common_practice());
    if (supply.conductor.empty()) return;
    lines_.add("Supply conductor", supply.conductor,
               panel_.supply_size.empty() ? "Sized from the load; the reasons follow." : "As given.",
               lines_.rule("conductor-capacity").citation);
    lines_.add("Supply drop", fmt::format("{:.2f} %", percent * supply.drop_frac),
               fmt::format("{:.2f} % with the worst branch circuit: {} the advice.",
                           percent * supply.total_drop_frac, supply.within_advice ? "within" : "above"),
               lines_.rule("voltage-drop-total").citation);
    lines_.add_reasons(supply.reasons, {.earth = supply.earth});
  }

  void starts() {
    lines_.add("Peak, all at once", lines_.current(load_.together_peak_a),
               "Fullest phase when every circuit is switched on together from the coldest pipe.",
               start_model());
    if (!(load_.start_limit_a > 0)) return;
    lines_.add("Peak, in sequence", lines_.current(load_.peak_a),
               fmt::format("Circuits start one after another; {} is left to heating, which is {}.",
                           lines_.current(load_.start_limit_a), load_.within_limit ? "kept" : "not kept"),
               start_model());
  }

  const job::Job& job_;
  const job::Panel& panel_;
  const power::PanelLoad& load_;
  LoadLines& lines_;
};

/// The lines of one circuit.
class CircuitSheet {
 public:
  CircuitSheet(const job::Job& job, const Plan& plan, const power::Circuit& circuit, LoadLines& lines)
      : job_(job), plan_(plan), circuit_(circuit), lines_(lines) {}

  void write() {
    cable();
    device();
    wiring();
    leakage();
    switching();
    start();
  }

 private:
  void cable() {
    const std::string sheet = circuit_.cable == piping::none ? "" : job_.cables[at(circuit_.cable)].source;
    lines_.add(
        "Cable",
        fmt::format("{} of {}", lines_.length(circuit_.cable_length_m), lines_.length(circuit_.max_length_m)),
        fmt::format("Of what its breaker may have at most: the least of {}, settled current and "
                    "standing leakage.",
                    circuit_.length_listed ? "the data sheet's length" : "the layout's own limits"),
        {sheet, "", "longest circuit", "as the text says"});
    lines_.add(
        "Settled current", lines_.current(circuit_.settled_a),
        fmt::format("Data sheet, 300 s after a start at {}.", lines_.temperature(job_.requirements.start_c)),
        start_model());
    lines_.add("Current at first", lines_.current(circuit_.peak_a), "Data sheet, at the same start.",
               start_model());
    lines_.add("Working current", lines_.current(circuit_.working_a),
               "With the pipe at what it holds, voltage as it falls in wiring and cable.",
               {"Firstdraw", "", "voltage along the cable, docs/circuits.md", "computed"});
  }

  void device() {
    const auto set = job_.requirements.rules;
    const auto& rule = lines_.rule(set == rules::RuleSet::us ? "shared-rating" : "standard-rating");
    const double factor = lines_.value("continuous-load");
    lines_.add(
        "Breaker",
        fmt::format("{:g} A, {} pole{}; {} asked for", circuit_.breaker_a, circuit_.poles,
                    circuit_.poles > 1 ? "s" : "", lines_.current(factor * circuit_.settled_a)),
        fmt::format("{:.3g} times the settled current, and the rating has to allow the length of cable.",
                    factor),
        rule.citation);
    lines_.add_override(rule.id);
  }

  void wiring() {
    const power::BranchWiring& wiring = circuit_.wiring;
    if (!wiring.trouble.empty()) lines_.add("Wiring", "not settled", wiring.trouble + ".", common_practice());
    if (wiring.conductor.empty()) return;
    lines_.add("Conductor", wiring.conductor,
               wiring.conductor_before_drop == wiring.conductor
                   ? "The currents ask for it."
                   : fmt::format("The currents ask for {}, the voltage drop for more.",
                                 wiring.conductor_before_drop),
               lines_.rule("conductor-capacity").citation);
    const double drop_frac = wiring.loop_ohm_per_m * wiring.one_way_m * circuit_.settled_a /
                             job_.panels[at(circuit_.panel)].voltage_v;
    lines_.add_reasons(
        wiring.reasons,
        {.ampacity = lines_.current(wiring.ampacity_a),
         .earth = wiring.earth,
         .drop = fmt::format("{:.2f} %", percent * drop_frac),
         .raceway = wiring.conduit.empty() ? "" : fmt::format("{} {}", wiring.conduit_kind, wiring.conduit)});
  }

  void leakage() {
    if (!circuit_.ground_fault) {
      lines_.add("Ground-fault protection", "none", "The panel's breakers have none, as given.",
                 lines_.rule("ground-fault-trip").citation);
      return;
    }
    if (!(circuit_.cable_length_m > 0)) return;
    const auto budget =
        rules::leakage_budget(job_.requirements.rules, circuit_.leakage_a / circuit_.cable_length_m,
                              circuit_.cable_length_m, 0, lines_.overrides());
    lines_.add_reasons(budget.reasons, {.leakage = milli(budget.standing_a),
                                        .trip = milli(budget.trip_a),
                                        .leakage_most = milli(budget.standing_max_a)});
  }

  static std::string milli(double a) { return fmt::format("{:.3g} mA", 1000 * a); }

  void switching() {
    const auto found = std::ranges::find(plan_.switching, circuit_.group, &power::Switching::group);
    if (found == plan_.switching.end()) return;
    if (found->contactor)
      lines_.add("Switching", fmt::format("contactor, {} poles", found->poles),
                 fmt::format("The controller's contacts do not carry the group; each pole takes {} or more, "
                             "resistive (AC-1).",
                             lines_.current(found->pole_a)),
                 common_practice());
    else
      lines_.add("Switching", "controller",
                 fmt::format("Its contacts are given as {}.", lines_.current(found->contacts_a)),
                 common_practice());
  }

  void start() {
    const rules::TripCheck& check = circuit_.start.check;
    if (circuit_.start.decides.empty()) return;
    lines_.add("Start", std::string(rules::words(check.verdict)), lines_.sentence(circuit_.start.decides),
               check.point ? check.point->citation : start_model());
  }

  const job::Job& job_;
  const Plan& plan_;
  const power::Circuit& circuit_;
  LoadLines& lines_;
};

}  // namespace

std::vector<LoadLine> load_sheet(const job::Job& job, const Plan& plan) {
  LoadLines lines(job);
  for (const power::PanelLoad& load : plan.panels) {
    if (load.circuits.empty()) continue;
    lines.begin(job.panels[at(load.panel)].id, "");
    PanelSheet(job, load, lines).write();
    for (const int c : load.circuits) {
      const power::Circuit& circuit = plan.circuits[at(c)];
      lines.begin(job.panels[at(load.panel)].id, circuit.id);
      CircuitSheet(job, plan, circuit, lines).write();
    }
  }
  return lines.take();
}

}  // namespace firstdraw::plan
