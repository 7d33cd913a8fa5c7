#include "plan/options.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "physics/pipe_loss.hpp"
#include "physics/wall_angle.hpp"
#include "plan/code_minimum.hpp"
#include "plan/sensor.hpp"
#include "power/protection.hpp"
#include "rules/rules.hpp"

namespace firstdraw::plan {
namespace {

// Where the heat held is tabulated, K from the maintain temperature; straight lines between are good to 0.1
// %.
constexpr std::array<double, 15> nodes_k{-20, -12, -8, -5, -3, -1.5, 0, 1.5, 3, 5, 8, 12, 17, 23, 30};

template <class T>
const T& at(const std::vector<T>& items, int index) {
  return items.at(static_cast<std::size_t>(index));
}

/// What a group asks of the runs of one class.
struct Demand {
  const job::ControlGroup& group;
  int panel_index;
  const job::Panel& panel;
  job::AirTemperatures air;
  double margin_frac;
};

Demand demand_of(const job::Job& job, const RunClass& run_class) {
  const job::ControlGroup& group = at(job.groups, run_class.group);
  const int panel = index_of(job.panels, group.panel);
  return {group, panel, at(job.panels, panel), job::air_around(job, at(job.runs, run_class.runs.front())),
          job.requirements.margin_frac};
}

std::vector<double> offered_thicknesses_m(const job::Job& job, const job::Run& run) {
  if (run.thickness_m) return {*run.thickness_m};
  if (job.design.thicknesses_m.empty()) throw std::logic_error("the job offers no insulation thickness");
  return job.design.thicknesses_m;
}

bool is_offered(const job::Job& job, const job::Run& run, const job::ControlGroup& group,
                const std::string& id) {
  if (run.cable) return *run.cable == id;
  if (group.cable) return *group.cable == id;
  const auto& offered = job.design.cables;
  return offered.empty() || std::find(offered.begin(), offered.end(), id) != offered.end();
}

std::vector<int> offered_passes(const job::Job& job, const job::Run& run) {
  if (run.passes) return {*run.passes};
  std::vector<int> passes;
  for (int n = 1; n <= std::max(1, job.design.max_passes); ++n) passes.push_back(n);
  return passes;
}

/// Thickness the energy code asks for; 0 when it is silent or the user has fixed the thickness.
double code_least_m(Workshop& shop, const job::Run& run, double water_c) {
  const physics::Insulation* insulation = shop.sections.insulation(run);
  if (run.thickness_m || insulation == nullptr) return 0;
  const auto least = code_minimum(shop.job.requirements.energy_code, run, *insulation, water_c);
  return least ? least->thickness_m : 0;
}

double insulation_cost_per_m(const job::Economics& economics, const physics::InsulationSize& size) {
  const double section_m2 =
      0.25 * std::numbers::pi * (size.outer_diameter_m * size.outer_diameter_m - size.bore_m * size.bore_m);
  return section_m2 * economics.insulation_price_per_m3 + economics.insulation_fixed_per_m;
}

double cable_metres(const job::Job& job, const RunClass& run_class, int passes) {
  double sum_m = 0;
  for (const int run : run_class.runs) sum_m += piping::cable_length_m(at(job.runs, run), passes);
  return sum_m;
}

double first_cost(const Workshop& shop, const RunClass& run_class, const Option& option, int panel) {
  const job::Economics& economics = shop.job.economics;
  double cost = insulation_cost_per_m(economics, option.insulation) * run_class.pipe_length_m;
  if (option.cable == piping::none) return cost;
  const double per_cable_m = at(shop.cable_price_per_m, option.cable) + economics.cable_labour_per_m +
                             at(at(shop.connection_per_m, panel), option.cable);
  return cost + per_cable_m * cable_metres(shop.job, run_class, option.passes);
}

/// Heat given and lost by the weakest, mean or hottest run of a class, per metre of heated pipe.
struct Balance {
  const hold::LossCurve& loss;
  const physics::HeatingCable& cable;
  double cable_m_per_m;  // passes times derating

  double given(double water_c, double voltage_v) const {
    return cable_m_per_m * cable.power_w_per_m(water_c, voltage_v);
  }
  double lost(double water_c, double air_c, double loss_ratio) const {
    return loss_ratio * loss.loss_w_per_m(water_c, air_c);
  }
};

double share_of(double over, double under) { return under > 0 ? over / under : unbounded; }

/// Duty that holds `water_c`: on the usual day, and on the worst.
Duties duties_for(const Balance& balance, const Demand& demand, double water_c, double loss_ratio) {
  const job::Panel& panel = demand.panel;
  const double weak_frac = 1 - balance.cable.sheet().output_tolerance_frac;
  const double low_v = panel.voltage_v * panel.low_frac;
  return {share_of(balance.lost(water_c, demand.air.usual_c, loss_ratio),
                   balance.given(water_c, panel.voltage_v)),
          share_of((1 + demand.margin_frac) * balance.lost(water_c, demand.air.low_c, loss_ratio),
                   weak_frac * balance.given(water_c, low_v))};
}

void tabulate(Option& option, const Balance& balance, const Demand& demand, const RunClass& run_class) {
  for (const double step_k : nodes_k) {
    const double water_c = demand.group.maintain_c + step_k;
    const double lost_w_per_m = balance.lost(water_c, demand.air.usual_c, run_class.loss_ratio_mean());
    const double duty = share_of(lost_w_per_m, balance.given(water_c, demand.panel.voltage_v));
    if (!std::isfinite(duty) || (!option.duty.empty() && duty <= option.duty.back())) continue;
    option.duty.push_back(duty);
    option.water_c.push_back(water_c);
    option.held_w.push_back(lost_w_per_m * run_class.heated_length_m);
  }
}

void find_limit(Option& option, const job::Run& run, const physics::Insulation* insulation,
                const physics::CableSheet& sheet) {
  const auto consider = [&option](double limit_c, const char* of) {
    if (!(limit_c > 0) || limit_c >= option.limit_c) return;
    option.limit_c = limit_c;
    option.limit_of = of;
  };
  consider(run.pipe.max_c, "pipe");
  if (insulation != nullptr) consider(insulation->max_c, "insulation");
  consider(sheet.max_powered_c, "cable");
}

/// With the control stuck on, voltage high, cable strong and air hottest: is more lost than given at the
/// limit? A cut-out below the limit stops it first, so the option is not rejected for it.
double heat_margin(const Option& option, const Balance& balance, const Demand& demand,
                   double loss_ratio_min) {
  const job::ControlGroup& group = demand.group;
  const bool cut_out =
      group.high_cutout_c > 0 && !group.sensor_run.empty() && group.high_cutout_c <= option.limit_c;
  if (cut_out || !std::isfinite(option.limit_c)) return unbounded;
  const double strong_frac = 1 + balance.cable.sheet().output_tolerance_frac;
  const double high_v = demand.panel.voltage_v * demand.panel.high_frac;
  return share_of(least_loss_frac * balance.lost(option.limit_c, demand.air.high_c, loss_ratio_min),
                  strong_frac * balance.given(option.limit_c, high_v)) -
         1;
}

double thickness_margin(const Option& option) {
  return option.code_least_m > 0 ? option.insulation.nominal_thickness_m / option.code_least_m - 1
                                 : unbounded;
}

void judge(Option& option, const Balance& balance, const Demand& demand, const RunClass& run_class,
           double sensor_ratio) {
  const job::ControlGroup& group = demand.group;
  option.needed =
      duties_for(balance, demand, group.maintain_c - group.hold_tolerance_k, run_class.loss_ratio_max);
  if (group.high_alarm_c > group.maintain_c)
    option.most = duties_for(balance, demand, group.high_alarm_c, run_class.loss_ratio_min).usual;
  const Duties at_maintain = duties_for(balance, demand, group.maintain_c, sensor_ratio);
  option.as_sensor = {std::min(1.0, at_maintain.usual), std::min(1.0, at_maintain.worst)};
  const Duties weakest = duties_for(balance, demand, group.maintain_c, run_class.loss_ratio_max);
  option.own.strength = 1 / weakest.worst - 1;
  option.own.thickness = thickness_margin(option);
  option.own.heat = heat_margin(option, balance, demand, run_class.loss_ratio_min);
  if (!balance.cable.allows_voltage(demand.panel.voltage_v)) option.own.voltage = -1;
  tabulate(option, balance, demand, run_class);
  option.full_w = run_class.heated_length_m * balance.given(group.maintain_c, demand.panel.voltage_v);
  if (group.entered_ambient_c)
    option.open_loop_lost_w =
        run_class.loss_length_m * balance.loss.loss_w_per_m(group.maintain_c, *group.entered_ambient_c);
}

Option heating_option(Workshop& shop, const RunClass& run_class, const Demand& demand, Option option,
                      double thickness_m, double sensor_ratio) {
  const job::Run& run = at(shop.job.runs, run_class.runs.front());
  const physics::HeatingCable& cable = at(shop.cables, option.cable);
  option.insulation = size_for(shop, run, cable.sheet().section, option.passes, thickness_m);
  const hold::LossCurve& loss = shop.sections.loss(run, option.insulation);
  option.derating_frac = derating_frac(run.pipe, loss, demand.group.maintain_c, demand.air.usual_c, cable,
                                       demand.panel.voltage_v);
  option.code_least_m = code_least_m(shop, run, demand.group.maintain_c);
  find_limit(option, run, shop.sections.insulation(run), cable.sheet());
  judge(option, {loss, cable, option.passes * option.derating_frac}, demand, run_class, sensor_ratio);
  option.first_cost = first_cost(shop, run_class, option, demand.panel_index);
  return option;
}

/// Sheets without a price are reckoned at the dearest that has one, so that none wins for want of a price.
std::vector<double> prices(const job::Job& job) {
  double dearest = 0;
  for (const auto& sheet : job.cables)
    if (std::isfinite(sheet.price_per_m)) dearest = std::max(dearest, sheet.price_per_m);
  std::vector<double> result;
  for (const auto& sheet : job.cables)
    result.push_back(std::isfinite(sheet.price_per_m) ? sheet.price_per_m : dearest);
  return result;
}

}  // namespace

Workshop::Workshop(const job::Job& described, std::shared_ptr<power::Known> known_before)
    : job(described), cable_price_per_m(prices(described)), known(std::move(known_before)) {
  for (const auto& sheet : job.cables) cables.emplace_back(sheet);
  known->begin(cables, job.requirements.start_c);
  for (const auto& panel : job.panels) {
    std::vector<double>& per_m = connection_per_m.emplace_back();
    for (const auto& cable : cables) {
      const double longest_m = power::circuit_limits(cable, panel, job.requirements).longest_m();
      per_m.push_back(longest_m > 0 && std::isfinite(longest_m) ? job.economics.connection_cost / longest_m
                                                                : 0);
    }
  }
}

double present_value_factor(const job::Economics& economics) {
  const double rate = economics.discount_frac;
  if (std::abs(rate) < 1e-12) return economics.life_years;
  return (1 - std::pow(1 + rate, -economics.life_years)) / rate;
}

double cost_per_held_w(const job::Economics& economics) {
  return economics.hours_per_year / 1000 * economics.energy_price_per_kwh * present_value_factor(economics);
}

physics::InsulationSize size_for(Workshop& shop, const job::Run& run, physics::CableSection cable, int passes,
                                 double thickness_m) {
  if (shop.sections.insulation(run) != nullptr && thickness_m > 0)
    return physics::fit_insulation(run.pipe.outer_diameter_m, cable, passes, thickness_m,
                                   shop.job.design.size_series);
  physics::InsulationSize bare;
  bare.series = shop.job.design.size_series;
  bare.made_for = "none";
  bare.bore_m = bare.outer_diameter_m = run.pipe.outer_diameter_m;
  return bare;
}

double derating_frac(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c,
                     const physics::HeatingCable& cable, double voltage_v) {
  constexpr double plastic_w_per_m_k = 1;  // every metal pipe conducts more, every plastic one less
  if (pipe.conductivity_w_per_m_k >= plastic_w_per_m_k) return 1;
  const WallFilms films = wall_films(pipe, loss, water_c, air_c);
  const double power = cable.power_w_per_m(water_c, voltage_v);
  const double slope =
      0.5 * (cable.power_w_per_m(water_c + 1, voltage_v) - cable.power_w_per_m(water_c - 1, voltage_v));
  return physics::cable_derating_frac(pipe, films.inner_w_per_m2_k, films.outer_w_per_m2_k, water_c, air_c,
                                      power, slope, cable.sheet().section.width_m);
}

GroupProblem::Class heating_options(Workshop& shop, const RunClass& run_class, int sensor_run) {
  const job::Job& job = shop.job;
  const job::Run& run = at(job.runs, run_class.runs.front());
  const Demand demand = demand_of(job, run_class);
  const double sensor_ratio = sensor_run == piping::none ? run_class.loss_ratio_mean()
                                                         : piping::loss_length_m(at(job.runs, sensor_run)) /
                                                               heated_length_m(at(job.runs, sensor_run));
  GroupProblem::Class result;
  result.cable_fixed = run.cable.has_value();
  for (std::size_t cable = 0; cable < shop.cables.size(); ++cable) {
    if (!is_offered(job, run, demand.group, job.cables[cable].id)) continue;
    for (const int passes : offered_passes(job, run))
      for (const double thickness_m : offered_thicknesses_m(job, run)) {
        Option option;
        option.cable = static_cast<int>(cable);
        option.passes = passes;
        result.options.push_back(
            heating_option(shop, run_class, demand, std::move(option), thickness_m, sensor_ratio));
      }
  }
  return result;
}

GroupProblem::Class insulation_options(Workshop& shop, const RunClass& run_class) {
  const job::Job& job = shop.job;
  const job::Run& run = at(job.runs, run_class.runs.front());
  const double water_c = job.supply.delivered_c;
  GroupProblem::Class result;
  for (const double thickness_m : offered_thicknesses_m(job, run)) {
    Option option;
    option.insulation = size_for(shop, run, {}, 0, thickness_m);
    option.code_least_m = code_least_m(shop, run, water_c);
    option.own.thickness = thickness_margin(option);
    option.first_cost = first_cost(shop, run_class, option, piping::none);
    result.options.push_back(std::move(option));
  }
  return result;
}

}  // namespace firstdraw::plan
