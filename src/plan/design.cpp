#include "plan/design.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>
#include <tuple>

namespace firstdraw::plan {
namespace {

// Margins come from two rounds of physics that agree to 1e-6 only.
constexpr double slack_frac = 1e-6;

using CableRule = std::optional<int>;  // the one cable of the group; none: any mixture

/// Linear between the points, held beyond them; 0 without points.
double interpolate(const std::vector<double>& x, const std::vector<double>& y, double at) {
  if (x.empty()) return 0;
  if (at <= x.front()) return y.front();
  if (at >= x.back()) return y.back();
  const auto above = static_cast<std::size_t>(std::upper_bound(x.begin(), x.end(), at) - x.begin());
  const double share = (at - x[above - 1]) / (x[above] - x[above - 1]);
  return y[above - 1] + share * (y[above] - y[above - 1]);
}

bool may_take(const GroupProblem::Class& run_class, const Option& option, const CableRule& rule) {
  return run_class.cable_fixed || !rule || option.cable == piping::none || option.cable == *rule;
}

enum class Fault { none, shared, alone };

struct Pick {
  int option = piping::none;
  double own = -unbounded, shared = -unbounded, cost = unbounded;

  Fault fault() const { return !is_met(own) ? Fault::alone : !is_met(shared) ? Fault::shared : Fault::none; }
  double margin() const { return std::min(own, shared); }
};

Pick judged(int index, const Option& option, const Duties* duties, double cost_per_held_w) {
  return {index, option.own.least(), shared_margin(option, duties),
          lifetime_cost(option, duties, cost_per_held_w)};
}

/// Among options that hold the cheapest is better; among failing ones the one that fails least.
bool better(const Pick& a, const Pick& b) {
  if (a.fault() != b.fault()) return a.fault() < b.fault();
  if (a.fault() == Fault::none) return a.cost < b.cost;
  return std::make_pair(-a.margin(), a.cost) < std::make_pair(-b.margin(), b.cost);
}

Pick best_option(const GroupProblem::Class& run_class, const CableRule& rule, const Duties* duties,
                 double cost_per_held_w) {
  Pick best;
  for (std::size_t i = 0; i < run_class.options.size(); ++i) {
    if (!may_take(run_class, run_class.options[i], rule)) continue;
    const Pick pick = judged(static_cast<int>(i), run_class.options[i], duties, cost_per_held_w);
    if (best.option == piping::none || better(pick, best)) best = pick;
  }
  return best;
}

std::pair<int, int> faults(const GroupChoice& choice) {
  return {choice.failing_alone, choice.failing_shared};
}

/// Order in which whole answers are preferred.
auto rank(const GroupChoice& choice) {
  const double shortfall = choice.failing() > 0 ? -choice.least_margin : 0;
  return std::make_tuple(faults(choice), shortfall, choice.cost);
}

void keep_better(std::optional<GroupChoice>& best, std::optional<GroupChoice> choice) {
  if (choice && (!best || rank(*choice) < rank(*best))) best = std::move(choice);
}

void add(GroupChoice& choice, const Pick& pick) {
  choice.option.push_back(pick.option);
  choice.cost += pick.cost;
  choice.failing_alone += pick.fault() == Fault::alone ? 1 : 0;
  choice.failing_shared += pick.fault() == Fault::shared ? 1 : 0;
  choice.least_margin = std::min(choice.least_margin, pick.margin());
}

/// Every class on its own, the sensor's class held to `sensor_option`. None when a class has nothing to take.
std::optional<GroupChoice> choose_at(const GroupProblem& problem, const CableRule& rule, const Duties* duties,
                                     int sensor_option) {
  GroupChoice choice;
  choice.cable = rule;
  if (duties) choice.duty = *duties;
  for (std::size_t i = 0; i < problem.classes.size(); ++i) {
    const GroupProblem::Class& run_class = problem.classes[i];
    const bool has_sensor = static_cast<int>(i) == problem.sensor_class;
    const Pick pick = has_sensor
                          ? judged(sensor_option, run_class.options[static_cast<std::size_t>(sensor_option)],
                                   duties, problem.cost_per_held_w)
                          : best_option(run_class, rule, duties, problem.cost_per_held_w);
    if (pick.option == piping::none) return std::nullopt;
    add(choice, pick);
  }
  return choice;
}

/// What the entered ambient makes of a choice: as hold::open_loop_duty, the average run weighted by output.
/// The duty does not follow a cold day, so only the usual one is asked of it.
Duties open_loop_duties(const GroupProblem& problem, const std::vector<int>& options) {
  double lost_w = 0, full_w = 0;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const Option& option = problem.classes[i].options[static_cast<std::size_t>(options[i])];
    lost_w += option.open_loop_lost_w;
    full_w += option.full_w;
  }
  return {full_w > 0 ? std::min(1.0, lost_w / full_w) : 1, unbounded};
}

/// Duties that single options would ask for, rising; evenly thinned to a few dozen so that the search stays
/// linear in the number of classes.
std::vector<double> target_duties(const GroupProblem& problem) {
  std::set<double> all;
  for (const auto& run_class : problem.classes)
    for (const Option& option : run_class.options) all.insert(option.as_sensor.usual);
  std::vector<double> sorted(all.begin(), all.end());
  constexpr std::size_t most = 48;
  if (sorted.size() <= most) return sorted;
  std::vector<double> thinned;
  for (std::size_t i = 0; i < most; ++i) thinned.push_back(sorted[i * (sorted.size() - 1) / (most - 1)]);
  return thinned;
}

std::optional<GroupChoice> choose_open_loop(const GroupProblem& problem, const CableRule& rule) {
  std::optional<GroupChoice> best;
  for (const double target : target_duties(problem)) {
    const Duties wanted{target, unbounded};
    const auto aimed = choose_at(problem, rule, &wanted, piping::none);
    if (!aimed) continue;
    GroupChoice choice;
    choice.cable = rule;
    choice.duty = open_loop_duties(problem, aimed->option);
    for (std::size_t i = 0; i < aimed->option.size(); ++i) {
      const Option& option = problem.classes[i].options[static_cast<std::size_t>(aimed->option[i])];
      add(choice, judged(aimed->option[i], option, &choice.duty, problem.cost_per_held_w));
    }
    keep_better(best, std::move(choice));
  }
  return best;
}

std::optional<GroupChoice> choose_with(const GroupProblem& problem, const CableRule& rule) {
  if (problem.sensor_class == piping::none)
    return problem.follows_ambient ? choose_open_loop(problem, rule)
                                   : choose_at(problem, rule, nullptr, piping::none);
  const auto& sensor = problem.classes[static_cast<std::size_t>(problem.sensor_class)];
  std::optional<GroupChoice> best;
  for (std::size_t i = 0; i < sensor.options.size(); ++i) {
    if (may_take(sensor, sensor.options[i], rule))
      keep_better(best, choose_given(problem, rule, static_cast<int>(i)));
  }
  return best;
}

std::set<int> open_cables(const GroupProblem& problem) {
  std::set<int> cables;
  for (const auto& run_class : problem.classes)
    for (const Option& option : run_class.options)
      if (!run_class.cable_fixed && option.cable != piping::none) cables.insert(option.cable);
  return cables;
}

}  // namespace

double Margins::least() const { return std::min({strength, thickness, heat, voltage}); }

double Option::held_at_w(double group_duty) const { return interpolate(duty, held_w, group_duty); }

double Option::water_at_c(double group_duty) const { return interpolate(duty, water_c, group_duty); }

bool is_met(double margin_frac) { return margin_frac >= -slack_frac; }

double shared_margin(const Option& option, const Duties* duties) {
  if (!duties || option.cable == piping::none) return unbounded;
  return std::min({duties->usual / option.needed.usual - 1, duties->worst / option.needed.worst - 1,
                   option.most / duties->usual - 1});
}

double margin(const Option& option, const Duties* duties) {
  return std::min(option.own.least(), shared_margin(option, duties));
}

double lifetime_cost(const Option& option, const Duties* duties, double cost_per_held_w) {
  const double group_duty = duties ? duties->usual : option.as_sensor.usual;
  return option.first_cost + cost_per_held_w * option.held_at_w(group_duty);
}

std::optional<GroupChoice> choose_given(const GroupProblem& problem, std::optional<int> cable,
                                        int sensor_option) {
  const auto& sensor = problem.classes[static_cast<std::size_t>(problem.sensor_class)];
  const Option& option = sensor.options[static_cast<std::size_t>(sensor_option)];
  return choose_at(problem, cable, &option.as_sensor, sensor_option);
}

GroupChoice choose(const GroupProblem& problem) {
  std::optional<GroupChoice> best;
  for (const int cable : open_cables(problem)) keep_better(best, choose_with(problem, cable));
  if (best && best->failing() == 0) return *best;
  // No single cable will do for every class (or all are fixed): see whether a mixture fails less.
  std::optional<GroupChoice> mixed = choose_with(problem, std::nullopt);
  if (mixed && (!best || faults(*mixed) < faults(*best))) best = std::move(mixed);
  if (!best) throw std::logic_error("choose: a run class has no option");
  return *best;
}

}  // namespace firstdraw::plan
