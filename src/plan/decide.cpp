#include "plan/decide.hpp"

#include <fmt/format.h>

#include <cmath>

#include "units/quantity.hpp"

namespace firstdraw::plan {
namespace {

using units::Kind;

using piping::at;

std::string percent(double frac) { return fmt::format("{:.1f} %", 100 * frac); }

std::string money(const job::Job& job, double amount) {
  return fmt::format("{:.0f} {}", amount, job.economics.currency);
}

/// The classes of one group with their options, and what was chosen among them.
struct GroupDesign {
  int group = piping::none;
  std::vector<int> classes;  // indices into RunClasses.classes
  GroupProblem problem;
  GroupChoice choice;

  const Duties* duties() const { return choice.duty.usual > 0 ? &choice.duty : nullptr; }
};

std::string why_too_hot(const job::Job& job, const Option& option) {
  const double more = 1 / (1 + option.own.heat) - 1;
  return fmt::format(
      "too hot: with the control stuck on it still gives {} more heat than is lost at {}, the limit of the "
      "{}",
      percent(more), units::show(option.limit_c, Kind::temperature, job.units), option.limit_of);
}

std::string why_thin(const job::Job& job, const Option& option) {
  return fmt::format("thinner than the {} the energy code asks for",
                     units::show(option.code_least_m, Kind::size, job.units));
}

std::string why_weak(const Option& option) {
  return fmt::format("weak: {} short of loss and margin at the coldest air, lowest voltage and weakest cable",
                     percent(-option.own.strength));
}

std::string away_from_maintain(const job::Job& job, const job::ControlGroup& group, const Option& option,
                               const Duties& duty) {
  const double away_k = std::abs(option.water_at_c(duty.usual) - group.maintain_c);
  return units::show(away_k, Kind::temperature_difference, job.units);
}

std::string why_cold_or_hot(const job::Job& job, const job::ControlGroup& group, const Option& option,
                            const Duties& duty) {
  const double usual = duty.usual / option.needed.usual - 1, worst = duty.worst / option.needed.worst - 1;
  if (is_met(usual) && is_met(worst))
    return fmt::format(
        "hot: about {} above maintain under the group's duty, its hottest run above the high alarm",
        away_from_maintain(job, group, option, duty));
  if (worst < usual)
    return fmt::format("cold: {} less heat than it needs under the group's duty on the worst day",
                       percent(-worst));
  return fmt::format("cold: {} less heat than it needs under the group's duty, about {} below maintain",
                     percent(-usual), away_from_maintain(job, group, option, duty));
}

/// Why an option fails, the least margin first; empty when it holds.
std::string why_fails(const job::Job& job, const job::ControlGroup* group, const Option& option,
                      const Duties* duties) {
  if (is_met(margin(option, duties))) return {};
  const Margins& own = option.own;
  if (own.voltage < 0) return "its data sheet does not list the panel's voltage";
  if (own.thickness < 0) return why_thin(job, option);
  if (own.heat < 0) return why_too_hot(job, option);
  if (own.strength < 0) return why_weak(option);
  return why_cold_or_hot(job, *group, option, *duties);
}

Choice::Rejected lost(const job::Job& job, const Option& option, std::string why) {
  return {option_text(job, option), std::move(why), std::numeric_limits<double>::quiet_NaN()};
}

std::string dearer_by(const job::Job& job, double amount) {
  return fmt::format("dearer by {} over the life", money(job, amount));
}

bool is_other_cable(const GroupDesign& design, std::size_t local, const Option& option) {
  return design.choice.cable && option.cable != *design.choice.cable &&
         !design.problem.classes[local].cable_fixed;
}

Choice::Rejected held_but_lost(const job::Job& job, const GroupDesign& design, std::size_t local,
                               const Option& option, double chosen_cost) {
  Choice::Rejected rejected = lost(job, option, {});
  rejected.lifetime_cost = lifetime_cost(option, design.duties(), design.problem.cost_per_held_w);
  rejected.why = is_other_cable(design, local, option)
                     ? fmt::format("the group keeps to one cable, and {} suits it better",
                                   job.cables[at(*design.choice.cable)].id)
                     : dearer_by(job, rejected.lifetime_cost - chosen_cost);
  return rejected;
}

/// In the sensor's class another option means another duty for the whole group.
Choice::Rejected held_but_led_badly(const job::Job& job, const GroupDesign& design, std::size_t local,
                                    int option, double chosen_cost) {
  const Option& other = design.problem.classes[local].options[at(option)];
  if (is_other_cable(design, local, other)) return held_but_lost(job, design, local, other, chosen_cost);
  const auto group = choose_given(design.problem, design.choice.cable, option);
  Choice::Rejected rejected = lost(job, other, {});
  rejected.lifetime_cost = lifetime_cost(other, &other.as_sensor, design.problem.cost_per_held_w);
  const GroupChoice& best = design.choice;
  if (group && group->failing() > best.failing())
    rejected.why = fmt::format("with the sensor on it {} more of the group's run classes would fail",
                               group->failing() - best.failing());
  else if (group && group->failing() == best.failing() && group->cost >= best.cost)
    rejected.why = "for the whole group " + dearer_by(job, group->cost - best.cost);
  else
    rejected.why = "the group as a whole fails by more";
  return rejected;
}

Choice::Rejected reject(const job::Job& job, const GroupDesign& design, std::size_t local, int option,
                        double chosen_cost) {
  const job::ControlGroup* group = design.group == piping::none ? nullptr : &job.groups[at(design.group)];
  const Option& other = design.problem.classes[local].options[at(option)];
  const bool leads = static_cast<int>(local) == design.problem.sensor_class;
  std::string why = why_fails(job, group, other, leads ? &other.as_sensor : design.duties());
  if (!why.empty()) return lost(job, other, std::move(why));
  return leads ? held_but_led_badly(job, design, local, option, chosen_cost)
               : held_but_lost(job, design, local, other, chosen_cost);
}

std::string describe(const job::Job& job, const RunClass& run_class) {
  const job::Run& run = job.runs[at(run_class.runs.front())];
  const job::AirTemperatures air = job::air_around(job, run);
  const auto degrees = [&job](double c) { return units::show_number(c, Kind::temperature, job.units); };
  std::string pipe = run.pipe.material;
  for (const std::string& part : {run.pipe.type, run.pipe.size})
    if (!part.empty()) pipe += " " + part;
  return fmt::format("{}, {}, {}, air {} to {} {}, {}", pipe, run.insulation,
                     run.orientation == physics::Orientation::vertical ? "vertical" : "horizontal",
                     degrees(air.low_c), degrees(air.high_c),
                     units::display_unit(Kind::temperature, job.units),
                     run_class.group == piping::none ? "not heated" : "group " + run.group);
}

std::string shortfall_note(const job::Job& job, const GroupDesign& design, const Option& option) {
  const job::ControlGroup* group = design.group == piping::none ? nullptr : &job.groups[at(design.group)];
  const std::string why = why_fails(job, group, option, design.duties());
  return why.empty() ? std::string{} : " (nothing offered is enough; this fails least: " + why + ")";
}

Choice word(const job::Job& job, const RunClass& run_class, const GroupDesign& design, std::size_t local) {
  const GroupProblem::Class& options = design.problem.classes[local];
  const int picked = design.choice.option[local];
  const Option& chosen = options.options[at(picked)];
  Choice choice;
  choice.run_class = run_class.name;
  choice.description = describe(job, run_class);
  choice.runs = static_cast<int>(run_class.runs.size());
  choice.pipe_length_m = run_class.pipe_length_m;
  choice.chosen = option_text(job, chosen) + shortfall_note(job, design, chosen);
  choice.lifetime_cost = lifetime_cost(chosen, design.duties(), design.problem.cost_per_held_w);
  for (int i = 0; i < static_cast<int>(options.options.size()); ++i)
    if (i != picked) choice.rejected.push_back(reject(job, design, local, i, choice.lifetime_cost));
  return choice;
}

/// One design per group with heated classes, and one per class that is not heated.
std::vector<GroupDesign> split(const job::Job& job, const RunClasses& classes) {
  std::vector<GroupDesign> designs(job.groups.size());
  for (std::size_t g = 0; g < designs.size(); ++g) designs[g].group = static_cast<int>(g);
  for (std::size_t c = 0; c < classes.classes.size(); ++c) {
    const int group = classes.classes[c].group;
    if (group == piping::none) designs.emplace_back();
    GroupDesign& design = group == piping::none ? designs.back() : designs[at(group)];
    design.classes.push_back(static_cast<int>(c));
  }
  return designs;
}

void pose(Workshop& shop, const RunClasses& classes, GroupDesign& design) {
  const int sensor = design.group == piping::none ? piping::none : sensor_run_of(shop.job, design.group);
  const int sensor_class = sensor == piping::none ? piping::none : classes.of_run[at(sensor)];
  if (design.group != piping::none) {
    const job::ControlGroup& control = shop.job.groups[at(design.group)];
    design.problem.follows_ambient =
        control.kind == job::ControlKind::entered_ambient && control.entered_ambient_c.has_value();
  }
  design.problem.cost_per_held_w = design.group == piping::none ? 0 : cost_per_held_w(shop.job.economics);
  for (std::size_t local = 0; local < design.classes.size(); ++local) {
    const int c = design.classes[local];
    const RunClass& run_class = classes.classes[at(c)];
    const bool carries_sensor = c == sensor_class;
    if (carries_sensor) design.problem.sensor_class = static_cast<int>(local);
    design.problem.classes.push_back(
        design.group == piping::none
            ? insulation_options(shop, run_class)
            : heating_options(shop, run_class, carries_sensor ? sensor : piping::none));
  }
}

std::vector<job::Assumption> price_assumptions(const Workshop& shop) {
  std::vector<job::Assumption> result;
  for (std::size_t i = 0; i < shop.job.cables.size(); ++i)
    if (!std::isfinite(shop.job.cables[i].price_per_m))
      result.push_back({"cable." + shop.job.cables[i].id + ".price",
                        fmt::format("{:.2f} {}/m", shop.cable_price_per_m[i], shop.job.economics.currency),
                        "the data sheet gives no price: the dearest cable's is reckoned with in the choice"});
  return result;
}

}  // namespace

int sensor_run_of(const job::Job& job, int group) {
  const job::ControlGroup& control = job.groups[at(group)];
  if (control.kind != job::ControlKind::pipe_sensor || control.sensor_run.empty()) return piping::none;
  const int run = index_of(job.runs, control.sensor_run);
  return run != piping::none && heating_group(job, job.runs[at(run)]) == group ? run : piping::none;
}

std::string option_text(const job::Job& job, const Option& option) {
  const double thickness_m = option.insulation.nominal_thickness_m;
  std::string thickness = thickness_m > 0 ? units::show(thickness_m, Kind::size, job.units) : "no insulation";
  if (option.cable == piping::none) return thickness;
  return fmt::format("{}, {}, {}", job.cables[at(option.cable)].id,
                     option.passes == 1 ? "1 pass" : fmt::format("{} passes", option.passes), thickness);
}

Decision decide(Workshop& shop, const RunClasses& classes) {
  Decision decision;
  decision.chosen.resize(classes.classes.size());
  decision.choices.resize(classes.classes.size());
  for (GroupDesign& design : split(shop.job, classes)) {
    if (design.classes.empty()) continue;
    pose(shop, classes, design);
    design.choice = choose(design.problem);
    for (std::size_t local = 0; local < design.classes.size(); ++local) {
      const auto c = at(design.classes[local]);
      decision.chosen[c] = design.problem.classes[local].options[at(design.choice.option[local])];
      decision.choices[c] = word(shop.job, classes.classes[c], design, local);
    }
  }
  decision.assumptions = price_assumptions(shop);
  return decision;
}

}  // namespace firstdraw::plan
