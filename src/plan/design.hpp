// Which cable, how many passes and how much insulation for every run class of a control group, at least
// lifetime cost. Pure numbers: options.hpp reduces physics and prices to them.
// docs/decisions/0004-design-choice.md says why so.
//
// All runs of a group share one duty, that of the run with the sensor. For a given option of the sensor's
// class the duty is known, and then every other class is on its own: it takes its cheapest option that holds
// at that duty. Trying every option of the sensor's class is therefore an exact search, linear in the number
// of classes. Driven by an entered ambient, the duty comes from the average run, hence from the choice
// itself: the duties that single options ask for are tried as targets, which is a search, not an exact one.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "physics/insulation.hpp"
#include "piping/network.hpp"

namespace firstdraw::plan {

inline constexpr double unbounded = std::numeric_limits<double>::infinity();

/// By how much an option passes each condition, as a fraction: 0 is just enough, negative fails, unbounded:
/// not asked.
struct Margins {
  double strength = unbounded;   // output over loss with margin, worst case, minus 1
  double thickness = unbounded;  // over the energy code's least, minus 1
  double heat = unbounded;       // loss over output at the temperature limit, minus 1
  double voltage = unbounded;    // -1 when the data sheet does not list it

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
  Duties needed{0, 0};      // keeps the class's weakest run at maintain minus the tolerance
  double most = unbounded;  // usual duty that keeps its hottest run at the high alarm
  Duties as_sensor;         // what the group gets when the sensor's run is heated this way; at most 1
  double open_loop_lost_w = 0, full_w = 0;  // whole class at maintain: loss to the entered ambient, output
  double first_cost = 0;                    // cable, labour, insulation and share of connections, whole class
  double limit_c = unbounded;               // what the pipe may reach with the control stuck on…
  std::string limit_of;                     // …and whose limit that is: "pipe", "insulation", "cable"
  double code_least_m = 0;                  // thickness the energy code wants; 0: nothing
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
  int sensor_class = piping::none;  // none: no sensor; every class is then taken at the duty it needs itself…
  bool follows_ambient = false;     // …unless the group is driven by an entered ambient
  double cost_per_held_w = 0;       // over the life, discounted
};

struct GroupChoice {
  std::vector<int> option;   // per class
  std::optional<int> cable;  // the group's one cable; none when cables were mixed
  Duties duty{0, 0};         // 0: each class at its own; worst unbounded for an entered ambient
  double cost = 0;
  int failing_alone = 0;  // classes too weak, too hot with the control stuck on, too thin, at a wrong voltage
  int failing_shared = 0;           // classes that fail only under the shared duty: too cold or too hot
  double least_margin = unbounded;  // over all classes

  int failing() const { return failing_alone + failing_shared; }
};

/// Margin of an option under the group's duties, against cold and against heat; unbounded for nullptr (no
/// sensor).
double shared_margin(const Option& option, const Duties* duties);
/// The least of its own margins and the shared one.
double margin(const Option& option, const Duties* duties);
/// True for margins that are nil or more; they are computed to about 1e-6.
bool is_met(double margin_frac);
/// First cost and energy of one option at the group's duties.
double lifetime_cost(const Option& option, const Duties* duties, double cost_per_held_w);

/// Fewest classes that fail alone, then fewest that fail under the shared duty, then least lifetime cost;
/// where classes fail, the largest margin comes before cost. One cable type for the whole group unless only
/// a mixture leaves fewer classes failing. Every class must have at least one option.
GroupChoice choose(const GroupProblem& problem);

/// The best the group can do when its sensor's class takes this option and the others keep to `cable` (none:
/// any mixture); none when a class then has nothing to take.
std::optional<GroupChoice> choose_given(const GroupProblem& problem, std::optional<int> cable,
                                        int sensor_option);

}  // namespace firstdraw::plan
