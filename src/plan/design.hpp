// Which cable, how many passes and how much insulation for every run class of a control group, at least
// lifetime cost. Pure numbers: options.hpp reduces physics and prices to them.
// docs/decisions/0020-design-choice.md says why so.
//
// All runs of a group share one duty, that of the run with the sensor. For a given option of the sensor's
// class the duty is known, and then every other class is on its own: it takes its cheapest option that holds
// at that duty. Trying every option of the sensor's class is therefore an exact search, linear in the number
// of classes.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "physics/insulation.hpp"
#include "piping/network.hpp"

namespace firstdraw::plan {

/// By how much an option passes each condition, as a fraction: 0 is just enough, negative fails, infinity:
/// not asked.
struct Margins {
  double strength =
      std::numeric_limits<double>::infinity();  // output over loss with margin, worst case, minus 1
  double thickness = std::numeric_limits<double>::infinity();  // over the energy code's least, minus 1
  double heat =
      std::numeric_limits<double>::infinity();  // loss over output at the temperature limit, minus 1
  double voltage = std::numeric_limits<double>::infinity();  // -1 when the data sheet does not list it

  double least() const;
};

/// Duty on the usual day, and on the worst: coldest air, low voltage, weak cable, loss with margin.
struct Duties {
  double usual = 1, worst = 1;
};

/// One way of heating a run class, reduced to what the choice needs.
struct Option {
  int cable = piping::none;  // index into job.cables; none: not heated
  int passes = 0;
  physics::InsulationSize insulation;
  double derating_frac = 1;
  Margins own;
  Duties needed{0, 0};    // that keeps the class's weakest run at maintain minus the tolerance
  Duties as_sensor;       // that the group gets when the sensor's run is heated this way; at most 1
  double first_cost = 0;  // cable, labour, insulation and share of connections, whole class
  double limit_c =
      std::numeric_limits<double>::infinity();  // what the pipe may reach with the control stuck on
  std::string limit_of;                         // "pipe", "insulation", "cable"
  double code_least_m = 0;                      // thickness the energy code wants; 0: nothing
  // What the class comes to on the usual day at a duty of its group; all rising with it, same length.
  std::vector<double> duty, water_c, held_w;  // held_w: heat held by the whole class

  double held_at_w(double group_duty) const;
  double water_at_c(double group_duty) const;
};

struct GroupProblem {
  struct Class {
    std::vector<Option> options;
    bool cable_fixed = false;  // by the user: the group's one cable does not bind it
  };
  std::vector<Class> classes;
  int sensor_class = piping::none;  // none: no sensor; every class is then taken at the duty it needs itself
  double cost_per_held_w = 0;       // over the life, discounted
};

struct GroupChoice {
  std::vector<int> option;   // per class
  std::optional<int> cable;  // the group's one cable; none when cables were mixed
  Duties duty;               // 0 when the group has no sensor
  double cost = 0;
  int failing_classes = 0;
  double least_margin = 0;  // over all classes
};

/// Margin of one option at the group's duties (nullptr: no sensor, own margins alone).
double margin(const Option& option, const Duties* duties);
/// First cost and energy of one option at the group's duties.
double lifetime_cost(const Option& option, const Duties* duties, double cost_per_held_w);

/// Fewest failing classes, then the least lifetime cost; where classes fail, the largest margin first. One
/// cable type for the whole group unless only a mixture leaves fewer classes failing. Every class must have
/// at least one option.
GroupChoice choose(const GroupProblem& problem);

/// The best the group can do when its sensor's class takes this option and the others keep to `cable` (none:
/// any mixture); none when a class then has nothing to take.
std::optional<GroupChoice> choose_given(const GroupProblem& problem, std::optional<int> cable,
                                        int sensor_option);

}  // namespace firstdraw::plan
