#include "plan/design.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>
#include <tuple>

namespace firstdraw::plan {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// Duties are compared after two rounds of physics that agree to 1e-6 only.
constexpr double slack_frac = 1e-6;

/// Linear between the points, held beyond them; 0 without points.
double interpolate(const std::vector<double>& x, const std::vector<double>& y, double at) {
  if (x.empty()) return 0;
  if (at <= x.front()) return y.front();
  if (at >= x.back()) return y.back();
  const auto above = static_cast<std::size_t>(std::upper_bound(x.begin(), x.end(), at) - x.begin());
  const double share = (at - x[above - 1]) / (x[above] - x[above - 1]);
  return y[above - 1] + share * (y[above] - y[above - 1]);
}

using CableRule = std::optional<int>;  // the one cable of the group; none: any mixture

bool may_take(const GroupProblem::Class& run_class, const Option& option, const CableRule& rule) {
  return run_class.cable_fixed || !rule || option.cable == piping::none || option.cable == *rule;
}

struct Pick {
  int option = piping::none;
  double margin = -infinity, cost = infinity;
  bool holds() const { return margin >= -slack_frac; }
};

/// Among options that hold the cheapest is better; among failing ones the one that fails least.
bool better(const Pick& a, const Pick& b) {
  if (a.holds() != b.holds()) return a.holds();
  if (a.holds()) return a.cost < b.cost;
  return std::make_pair(-a.margin, a.cost) < std::make_pair(-b.margin, b.cost);
}

Pick best_option(const GroupProblem::Class& run_class, const CableRule& rule, const Duties* duties,
                 double cost_per_held_w) {
  Pick best;
  for (std::size_t i = 0; i < run_class.options.size(); ++i) {
    const Option& option = run_class.options[i];
    if (!may_take(run_class, option, rule)) continue;
    const Pick pick{static_cast<int>(i), margin(option, duties),
                    lifetime_cost(option, duties, cost_per_held_w)};
    if (best.option == piping::none || better(pick, best)) best = pick;
  }
  return best;
}

/// Order in which whole answers are preferred.
auto rank(const GroupChoice& choice) {
  const double shortfall = choice.failing_classes > 0 ? -choice.least_margin : 0;
  return std::make_tuple(choice.failing_classes, shortfall, choice.cost);
}

void keep_better(std::optional<GroupChoice>& best, std::optional<GroupChoice> choice) {
  if (choice && (!best || rank(*choice) < rank(*best))) best = std::move(choice);
}

/// Every class on its own, the sensor's class held to `sensor_option`. None when a class has nothing to take.
std::optional<GroupChoice> choose_at(const GroupProblem& problem, const CableRule& rule, const Duties* duties,
                                     int sensor_option) {
  GroupChoice choice{{}, rule, duties ? *duties : Duties{0, 0}, 0, 0, infinity};
  for (std::size_t i = 0; i < problem.classes.size(); ++i) {
    const GroupProblem::Class& run_class = problem.classes[i];
    Pick pick;
    if (static_cast<int>(i) == problem.sensor_class) {
      const Option& option = run_class.options[static_cast<std::size_t>(sensor_option)];
      pick = {sensor_option, margin(option, duties), lifetime_cost(option, duties, problem.cost_per_held_w)};
    } else {
      pick = best_option(run_class, rule, duties, problem.cost_per_held_w);
    }
    if (pick.option == piping::none) return std::nullopt;
    choice.option.push_back(pick.option);
    choice.cost += pick.cost;
    choice.failing_classes += pick.holds() ? 0 : 1;
    choice.least_margin = std::min(choice.least_margin, pick.margin);
  }
  return choice;
}

std::optional<GroupChoice> choose_with(const GroupProblem& problem, const CableRule& rule) {
  if (problem.sensor_class == piping::none) return choose_at(problem, rule, nullptr, piping::none);
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

double margin(const Option& option, const Duties* duties) {
  const double own = option.own.least();
  if (!duties || option.cable == piping::none) return own;
  return std::min({own, duties->usual / option.needed.usual - 1, duties->worst / option.needed.worst - 1});
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
  const std::set<int> cables = open_cables(problem);
  std::optional<GroupChoice> best;
  for (const int cable : cables) keep_better(best, choose_with(problem, cable));
  if (best && best->failing_classes == 0) return *best;
  // No single cable will do for every class (or all cables are fixed): see whether a mixture fails less.
  std::optional<GroupChoice> mixed = choose_with(problem, std::nullopt);
  if (mixed && (!best || mixed->failing_classes < best->failing_classes)) best = std::move(mixed);
  if (!best) throw std::logic_error("choose: a run class has no option");
  return *best;
}

}  // namespace firstdraw::plan
