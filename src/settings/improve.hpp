// What would make the week cheaper: another place for the sensor, thicker insulation where it limits the
// group.
#pragma once

#include <string>
#include <vector>

#include "draw/demand.hpp"
#include "settings/inputs.hpp"
#include "settings/prices.hpp"
#include "settings/proof.hpp"
#include "settings/timetable.hpp"

namespace firstdraw::settings {

/// One place of the sensor, lived through by the full simulation under the same draws.
struct SensorChoice {
  std::string group, run;
  bool present = false;        // where the job has it
  double set_point_c = 0;      // that keeps the group's needs with the sensor there
  double cost_per_year = 0;    // constant set-point, energy at the mean price
  double coldest_c = 0;        // lowest water of a heated run of the group
  double longest_below_s = 0;  // of any run below what the guideline asks
  bool keeps = false;          // every run held what was asked of it
  bool best = false;           // cheapest of those that keep; of none the one that keeps longest
};
std::vector<SensorChoice> sensor_choices(const job::Job& job, const plan::Plan& plan, const Inputs& inputs,
                                         const Timetable& timetable, const ProofOptions& options);

/// Thicker insulation on one run class of a group.
struct InsulationChange {
  std::string group, run_class;
  std::vector<std::string> runs;
  double pipe_length_m = 0;
  std::string from, to;  // nominal thickness in the job's units
  double first_cost = 0, saving_per_year = 0;
  double pays_back_years = 0;
  double worth = 0;  // present value of the savings over the life, less the first cost
};
/// Steps that pay back within the life, in the order in which they should be taken: each assumes those before
/// it, since they share a duty. Thicknesses that design.thicknesses allows.
std::vector<InsulationChange> insulation_changes(const job::Job& job, const plan::Plan& plan,
                                                 double mean_price_per_kwh, const Timetable& timetable);

}  // namespace firstdraw::settings
