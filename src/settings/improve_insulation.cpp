// All runs of a group share a duty, the largest that any of them needs. Thicker insulation where it is needed
// most lets the whole group be off for longer; elsewhere it only makes warm runs warmer.
#include <algorithm>
#include <cmath>

#include "plan/decide.hpp"
#include "plan/held.hpp"
#include "settings/coldest_run.hpp"
#include "settings/improve.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

using piping::at;

constexpr double hours_per_year = 8760, watt_per_kilowatt = 1000;
constexpr double same_thickness_m = 1e-6;

/// One run class as it stands, and what else it could be wrapped in; thinnest first.
struct WrappedClass {
  const plan::RunClass* run_class = nullptr;
  std::vector<plan::Option> options;
  std::size_t now = 0;
};

bool is_same(double a_m, double b_m) { return std::abs(a_m - b_m) < same_thickness_m; }

/// The job with every choice but the thickness as the plan made it.
job::Job open_in_thickness(const job::Job& job, const plan::Plan& plan) {
  job::Job open = job;
  auto& offered = open.design.thicknesses_m;
  for (std::size_t r = 0; r < open.runs.size(); ++r) {
    const plan::RunPlan& planned = plan.runs[r];
    if (planned.cable == piping::none) continue;
    open.runs[r].thickness_m.reset();
    open.runs[r].cable = job.cables[at(planned.cable)].id;
    open.runs[r].passes = planned.passes;
    offered.push_back(planned.insulation.nominal_thickness_m);
  }
  std::ranges::sort(offered);
  offered.erase(std::ranges::unique(offered, is_same).begin(), offered.end());
  return open;
}

bool offers(const job::Job& job, double thickness_m) {
  return std::ranges::any_of(job.design.thicknesses_m,
                             [thickness_m](double offered_m) { return is_same(offered_m, thickness_m); });
}

WrappedClass wrapped(plan::Workshop& shop, const job::Job& job, const plan::Plan& plan,
                     const plan::RunClass& run_class) {
  const double now_m = plan.runs[at(run_class.runs.front())].insulation.nominal_thickness_m;
  WrappedClass made{&run_class, plan::heating_options(shop, run_class, piping::none).options};
  std::erase_if(made.options, [&](const plan::Option& option) {
    const double thickness_m = option.insulation.nominal_thickness_m;
    return !is_same(thickness_m, now_m) && (thickness_m < now_m || !offers(job, thickness_m));
  });
  std::ranges::sort(made.options, {},
                    [](const plan::Option& option) { return option.insulation.nominal_thickness_m; });
  // A pipe that keeps its heat too well comes too hot with the control stuck on: not to buy savings with.
  const double heat_now = made.options.front().own.heat;
  std::erase_if(made.options, [&](const plan::Option& option) {
    return !plan::is_met(option.own.heat) && option.own.heat < heat_now;
  });
  return made;
}

void wrap(plan::Workshop& shop, hold::Building& building, const WrappedClass& wrapped_class,
          const plan::Option& option) {
  const std::vector<int>& runs = wrapped_class.run_class->runs;
  for (hold::HeldRun& held : building.runs) {
    if (std::ranges::find(runs, held.job_run) == runs.end()) continue;
    held.loss = shop.sections.loss(shop.job.runs[at(held.job_run)], option.insulation);
    held.derating_frac = option.derating_frac;
  }
}

/// A control group, step by step.
class Wrapping {
 public:
  Wrapping(plan::Workshop& shop, const job::Job& job, hold::Building only, int group, double money_per_w,
           double least_c)
      : shop_(shop),
        job_(job),
        building_(std::move(only)),
        group_(group),
        money_per_w_(money_per_w),
        least_c_(least_c),
        factor_(plan::present_value_factor(job.economics)),
        power_w_(hold_by_coldest(building_, group, least_c).power_w) {}

  void add(WrappedClass wrapped_class) { classes_.push_back(std::move(wrapped_class)); }

  /// The step that is worth most; false when none pays.
  bool step(std::vector<InsulationChange>& changes) {
    Step best;
    for (std::size_t c = 0; c < classes_.size(); ++c)
      for (std::size_t o = classes_[c].now + 1; o < classes_[c].options.size(); ++o) {
        const Step step = judge(c, o);
        if (step.worth > best.worth) best = step;
      }
    if (!(best.worth > 0)) return false;
    changes.push_back(told(best));
    WrappedClass& changed = classes_[best.wrapped_class];
    wrap(shop_, building_, changed, changed.options[best.option]);
    changed.now = best.option;
    power_w_ = best.power_w;
    return true;
  }

 private:
  struct Step {
    std::size_t wrapped_class = 0, option = 0;
    double power_w = 0, first_cost = 0, saving_per_year = 0, worth = 0;
  };

  Step judge(std::size_t c, std::size_t o) {
    const WrappedClass& wrapped_class = classes_[c];
    hold::Building changed = building_;
    wrap(shop_, changed, wrapped_class, wrapped_class.options[o]);
    Step step{c, o};
    step.power_w = hold_by_coldest(std::move(changed), group_, least_c_).power_w;
    step.first_cost =
        wrapped_class.options[o].first_cost - wrapped_class.options[wrapped_class.now].first_cost;
    step.saving_per_year = (power_w_ - step.power_w) * money_per_w_;
    step.worth = step.saving_per_year * factor_ - step.first_cost;
    return step;
  }

  InsulationChange told(const Step& step) const {
    const WrappedClass& changed = classes_[step.wrapped_class];
    const auto thickness = [&](std::size_t option) {
      return units::show(changed.options[option].insulation.nominal_thickness_m, units::Kind::size,
                         job_.units);
    };
    InsulationChange change;
    change.group = job_.groups[at(group_)].id;
    change.run_class = changed.run_class->name;
    for (const int run : changed.run_class->runs) change.runs.push_back(job_.runs[at(run)].id);
    change.pipe_length_m = changed.run_class->pipe_length_m;
    change.from = thickness(changed.now);
    change.to = thickness(step.option);
    change.first_cost = step.first_cost;
    change.saving_per_year = step.saving_per_year;
    change.pays_back_years = std::max(0.0, step.first_cost / step.saving_per_year);
    change.worth = step.worth;
    return change;
  }

  plan::Workshop& shop_;
  const job::Job& job_;
  hold::Building building_;
  int group_;
  double money_per_w_, least_c_, factor_, power_w_;
  std::vector<WrappedClass> classes_;
};

}  // namespace

std::vector<InsulationChange> insulation_changes(const job::Job& job, const plan::Plan& plan,
                                                 double mean_price_per_kwh, const Timetable& timetable) {
  std::vector<InsulationChange> changes;
  const job::Job open = open_in_thickness(job, plan);
  plan::Workshop shop(open);
  const hold::Building building = plan::building_of(shop, plan);
  const plan::RunClasses classes = plan::classify(job);
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    const int group = static_cast<int>(g);
    const MeanSetting setting = mean_setting(timetable.groups.at(g));
    hold::Building only = only_group(building, group);
    if (only.runs.empty() || !(setting.on_frac > 0)) continue;
    const bool open_loop = only.groups[g].sensor == piping::none;
    const double least_c = coldest_c(only, group, setting.set_c, open_loop);
    const double money_per_w = setting.on_frac * hours_per_year / watt_per_kilowatt * mean_price_per_kwh;
    Wrapping wrapping(shop, job, std::move(only), group, money_per_w, least_c);
    for (const plan::RunClass& run_class : classes.classes)
      if (run_class.group == group && plan.runs[at(run_class.runs.front())].cable != piping::none)
        wrapping.add(wrapped(shop, job, plan, run_class));
    while (wrapping.step(changes)) {
    }
  }
  return changes;
}

}  // namespace firstdraw::settings
