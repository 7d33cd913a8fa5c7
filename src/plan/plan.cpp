#include "plan/plan.hpp"

#include "plan/checks.hpp"
#include "plan/circuit_parts.hpp"
#include "plan/decide.hpp"
#include "plan/held.hpp"
#include "plan/load_sheet.hpp"
#include "plan/materials.hpp"
#include "plan/settings.hpp"
#include "plan/sources.hpp"
#include "power/circuits.hpp"
#include "power/starts.hpp"

namespace firstdraw::plan {
namespace {

constexpr double not_held = std::numeric_limits<double>::quiet_NaN();

using piping::at;

/// A run or group that nothing holds must not look as if it sat at 0 °C.
RunPlan unheld_run() {
  RunPlan run;
  for (double* value :
       {&run.at_maintain_c, &run.at_setback_c, &run.worst_cold_c, &run.worst_hot_c, &run.stuck_on_c,
        &run.open_loop_c, &run.open_loop_error_k_per_k, &run.water_c.p5, &run.water_c.p50, &run.water_c.p95,
        &run.holds_prob, &run.first_to_fail_prob, &run.spare_frac, &run.warm_up_s})
    *value = not_held;
  return run;
}

void apply_choice(Workshop& shop, const RunClass& run_class, const Option& option, const job::Run& run,
                  RunPlan& plan) {
  const job::Job& job = shop.job;
  plan.run_class = run_class.name;
  plan.cable = option.cable;
  plan.passes = option.passes;
  plan.insulation = option.insulation;
  plan.thickness_chosen = !run.thickness_m.has_value() && option.insulation.nominal_thickness_m > 0;
  plan.loss_length_m = piping::loss_length_m(run);
  const bool heated = option.cable != piping::none;
  const double water_c = heated ? job.groups[at(run_class.group)].maintain_c : job.supply.delivered_c;
  plan.loss_w_per_m =
      shop.sections.loss(run, option.insulation).loss_w_per_m(water_c, job::air_around(job, run).usual_c);
  if (!heated) return;
  const job::ControlGroup& group = job.groups[at(run_class.group)];
  const double voltage_v = job.panels[at(index_of(job.panels, group.panel))].voltage_v;
  plan.cable_chosen = !run.cable && !group.cable;
  plan.cable_length_m = piping::cable_length_m(run, option.passes);
  plan.derating_frac = option.derating_frac;
  plan.output_w_per_m =
      option.passes * option.derating_frac * shop.cables[at(option.cable)].power_w_per_m(water_c, voltage_v);
  plan.spare_frac =
      (1 + option.own.strength) * run_class.loss_ratio_max * heated_length_m(run) / plan.loss_length_m - 1;
}

void apply_choices(Workshop& shop, const RunClasses& classes, const Decision& decision, Plan& plan) {
  for (std::size_t i = 0; i < shop.job.runs.size(); ++i) {
    const auto c = at(classes.of_run[i]);
    plan.runs.push_back(unheld_run());
    apply_choice(shop, classes.classes[c], decision.chosen[c], shop.job.runs[i], plan.runs.back());
  }
}

power::Layout lay_out(Workshop& shop, Plan& plan) {
  std::vector<power::RunCable> runs;
  for (const RunPlan& run : plan.runs) {
    const double per_cable_w_per_m = run.passes > 0 ? run.output_w_per_m / run.passes : 0;
    runs.push_back({run.cable, run.passes, run.cable_length_m, per_cable_w_per_m});
  }
  power::Layout layout = power::lay_out(shop.job, plan.network, shop.cables, runs);
  for (std::size_t i = 0; i < plan.runs.size(); ++i) plan.runs[i].circuit = layout.circuit_of_run[i];
  return layout;
}

void judge_starts(Workshop& shop, const Plan& plan, power::Layout& layout) {
  std::vector<std::vector<power::CircuitPart>> parts;
  for (const power::Circuit& circuit : layout.circuits)
    parts.push_back(circuit_parts(shop.job, plan, circuit));
  power::judge_starts(shop.job, shop.known->starts(), parts, layout);
}

void keep(power::Layout layout, Plan& plan) {
  plan.circuits = std::move(layout.circuits);
  plan.panels = std::move(layout.panels);
  plan.switching = std::move(layout.switching);
  plan.division = std::move(layout.division);
}

void add_up(const job::Job& job, Plan& plan) {
  Totals& totals = plan.totals;
  for (std::size_t i = 0; i < plan.runs.size(); ++i) {
    if (plan.runs[i].cable == piping::none) continue;
    totals.traced_m += job.runs[i].length_m;
    totals.cable_m += plan.runs[i].cable_length_m;
  }
  for (const power::PanelLoad& panel : plan.panels) {
    totals.working_w += panel.working_w;
    totals.settled_w += panel.settled_w;
  }
  for (const GroupPlan& group : plan.groups) {
    totals.energy_kwh_per_day += group.energy_kwh_per_day;
    totals.energy_kwh_per_year += group.energy_kwh_per_year;
    totals.cost_per_year += group.cost_per_year;
  }
}

}  // namespace

Plan make_plan(const job::Job& job, const Options& options) {
  return make_plan(job, options, std::make_shared<power::Known>());
}

Plan make_plan(const job::Job& job, const Options& options, std::shared_ptr<power::Known> known) {
  Plan plan;
  plan.options = options;
  plan.assumptions = job.assumptions;
  plan.network = piping::build_network(job);
  plan.groups.resize(job.groups.size());
  plan.totals.all_hold_prob = not_held;
  for (GroupPlan& group : plan.groups) group.holds_prob = not_held;

  Workshop shop(job, std::move(known));
  const RunClasses classes = classify(job);
  Decision decision = decide(shop, classes);
  apply_choices(shop, classes, decision, plan);
  power::Layout layout = lay_out(shop, plan);
  hold_all(shop, building_of(shop, plan), layout.circuits, plan);
  power::add_up_panels(job, layout);
  judge_starts(shop, plan, layout);
  keep(std::move(layout), plan);
  plan.choices = std::move(decision.choices);
  plan.assumptions.insert(plan.assumptions.end(), decision.assumptions.begin(), decision.assumptions.end());

  add_up(job, plan);
  plan.load = load_sheet(job, plan);
  plan.materials = bill_of_materials(job, plan);
  plan.settings = settings_sheet(job, plan);
  plan.findings = all_findings(job, plan);
  count_findings(plan.findings, plan.totals);
  plan.sources = sources_of(job, plan);
  return plan;
}

}  // namespace firstdraw::plan
