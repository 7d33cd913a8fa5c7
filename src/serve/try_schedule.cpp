#include "serve/try_schedule.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "forecast/scene.hpp"
#include "rules/rules.hpp"
#include "serve/watch_clock.hpp"
#include "settings/inputs.hpp"
#include "settings/local_year.hpp"
#include "settings/prices.hpp"
#include "settings/timetable.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;
using settings::GroupModel;
using settings::GroupNeeds;
using settings::Lived;

constexpr double hour_s = 3600, day_s = 86400, joule_per_kwh = 3.6e6, near_k = 0.05;
constexpr std::size_t steps_a_week = 672;

void price(QuickWeek& week, const job::Job& job) {
  week.price_per_kwh.assign(steps_a_week, job.economics.energy_price_per_kwh);
  week.cost_per_weekly_kwh = week.price_per_kwh;
  const auto inputs = settings::read_inputs(job);
  if (!inputs) return;
  std::vector<double> occurs(steps_a_week, 0), cost(steps_a_week, 0);
  settings::walk_year(*inputs, QuickWeek::step_s, [&occurs](const settings::LocalPiece& piece) {
    occurs.at(piece.step) += static_cast<double>(piece.length_s) / QuickWeek::step_s;
  });
  double weeks = 0;
  for (const settings::SeasonOfYear& season : settings::seasons_of(*inputs, job, QuickWeek::step_s)) {
    weeks += season.days / 7;
    for (std::size_t step = 0; step < steps_a_week; ++step) cost[step] += season.prices.per_kwh.at(step);
  }
  for (std::size_t step = 0; step < steps_a_week; ++step) {
    week.price_per_kwh[step] = cost[step] / occurs[step];
    week.cost_per_weekly_kwh[step] = cost[step] / weeks;
  }
}

job::Period period_of(const std::string& group, const AskedPeriod& asked) {
  job::Period period;
  period.group = group;
  period.weekdays = asked.weekdays;
  period.begin_s = asked.begin_s;
  period.end_s = asked.end_s;
  using enum job::Period::Setting;
  period.setting = asked.hold == "maintain"  ? maintain
                   : asked.hold == "setback" ? setback
                   : asked.hold == "off"     ? off
                                             : temperature;
  period.hold_c = asked.temperature_c.value_or(0);
  return period;
}

/// Set-points by step as readings, and then as water of the sensor's run.
std::vector<double> water_of(const settings::GroupTimetable& timetable, const GroupModel& model) {
  std::vector<double> set_c = settings::by_step(timetable, QuickWeek::step_s);
  for (double& c : set_c) c -= model.sensor_offset_k;
  return set_c;
}

struct Used {
  double kwh = 0, cost = 0;
};
Used used_by(const Lived& lived, const std::vector<double>& cost_per_weekly_kwh) {
  Used used;
  for (std::size_t step = 0; step < lived.steps; ++step) {
    const double kwh = lived.power_w[step] * QuickWeek::step_s / joule_per_kwh;
    used.kwh += kwh;
    used.cost += kwh * cost_per_weekly_kwh[step];
  }
  return used;
}

bool is_pipe(const GroupModel& model, std::size_t run) { return model.runs[run].job_run >= 0; }

/// Coldest heated run by step, usual loss.
std::vector<double> coldest_c(const GroupModel& model, const Lived& lived) {
  std::vector<double> coldest(lived.steps, std::numeric_limits<double>::infinity());
  for (std::size_t run = 0; run < model.runs.size(); ++run)
    for (std::size_t step = 0; is_pipe(model, run) && step < lived.steps; ++step)
      coldest[step] = std::min(coldest[step], lived.usual_c[run * lived.steps + step]);
  return coldest;
}

/// Where a demand is missed: hours of the week, and the run that misses it by most.
struct Missed {
  double hours = 0, by_k = 0;
  std::string run;
  std::size_t step = 0;
};
template <class Least>
Missed missed_by(const GroupModel& model, const Lived& lived, const Least& least_c) {
  Missed missed;
  for (std::size_t step = 0; step < lived.steps; ++step) {
    bool short_here = false;
    for (std::size_t run = 0; run < model.runs.size(); ++run) {
      if (!is_pipe(model, run)) continue;
      const double by_k = least_c(run, step) - lived.weak_c(run, step);
      if (!(by_k > near_k)) continue;
      short_here = true;
      if (by_k > missed.by_k) missed = {missed.hours, by_k, model.runs[run].id, step};
    }
    if (short_here) missed.hours += QuickWeek::step_s / hour_s;
  }
  return missed;
}

std::string clock_of(std::size_t step) {
  constexpr std::array<std::string_view, 7> days{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  const auto minutes = static_cast<std::size_t>(static_cast<double>(step) * QuickWeek::step_s / 60);
  return fmt::format("{} {:02}:{:02}", days.at(minutes / 1440 % 7), minutes / 60 % 24, minutes % 60);
}

std::string words_of(const job::Job& job, const Missed& missed) {
  return fmt::format("{} is {} short at {}; {:.3g} h a week in all", missed.run,
                     units::show(missed.by_k, units::Kind::temperature_difference, job.units),
                     clock_of(missed.step), missed.hours);
}

json demand_json(std::string_view name, bool kept, const std::string& note) {
  return {{"name", name}, {"kept", kept}, {"note", note}};
}

/// Longest time on end, round the week, that any run in its bad luck stays below; infinity: always.
double longest_below_s(const GroupModel& model, const Lived& lived, double below_c) {
  double longest = 0;
  for (std::size_t run = 0; run < model.runs.size(); ++run) {
    double stay = 0;
    std::size_t cold = 0;
    for (std::size_t step = 0; is_pipe(model, run) && step < 2 * lived.steps; ++step) {
      const bool below = lived.weak_c(run, step % lived.steps) < below_c - near_k;
      stay = below ? stay + QuickWeek::step_s : 0;
      if (below && step < lived.steps) ++cold;
      longest = std::max(longest, stay);
    }
    if (cold == lived.steps) return std::numeric_limits<double>::infinity();
  }
  return longest;
}

json comfort_demand(const job::Job& job, const GroupModel& model, const GroupNeeds& needs,
                    const Lived& lived) {
  const std::size_t each = static_cast<std::size_t>(std::lround(7 * day_s / QuickWeek::step_s));
  const Missed missed = missed_by(model, lived, [&](std::size_t run, std::size_t step) {
    return needs.comfort_c.empty() ? week::cable_off_c : needs.comfort_c[run * each + step];
  });
  return demand_json("Hot at the taps in time", missed.by_k <= 0,
                     missed.by_k > 0 ? words_of(job, missed) : "");
}

json stay_demand(const job::Job& job, const GroupModel& model, const GroupNeeds& needs, const Lived& lived) {
  const double longest_s = longest_below_s(model, lived, needs.below_c);
  const auto hours = [&](double time_s) {
    return std::isfinite(time_s) ? units::show(time_s, units::Kind::duration, job.units) : "all the time";
  };
  return demand_json("Not too long in the growth band", longest_s <= needs.most_below_s,
                     fmt::format("longest below {}: {}; {} is the most",
                                 units::show(needs.below_c, units::Kind::temperature, job.units),
                                 hours(longest_s), hours(needs.most_below_s)));
}

json demands_of(const job::Job& job, const GroupModel& model, const GroupNeeds& needs, const Lived& lived,
                const std::vector<double>& set_c) {
  json demands = json::array();
  demands.push_back(comfort_demand(job, model, needs, lived));
  if (std::isfinite(needs.always_c)) {
    const Missed missed = missed_by(model, lived, [&](std::size_t, std::size_t) { return needs.always_c; });
    demands.push_back(demand_json("The guideline's temperature at all times", missed.by_k <= 0,
                                  missed.by_k > 0 ? words_of(job, missed) : ""));
  }
  if (std::isfinite(needs.most_below_s)) demands.push_back(stay_demand(job, model, needs, lived));
  const double highest_c = std::ranges::max(set_c), most_c = std::min(needs.most_c, model.most_settable_c);
  demands.push_back(demand_json(
      "Not above what pipe, cable and taps bear", highest_c <= most_c + near_k,
      highest_c <= most_c + near_k
          ? ""
          : fmt::format("at most {} may be set: {}",
                        units::show(most_c + model.sensor_offset_k, units::Kind::temperature, job.units),
                        model.most_because)));
  return demands;
}

/// Hours in which some run in its bad luck is under what is asked of it.
double below_hours(const GroupModel& model, const GroupNeeds& needs, const Lived& lived) {
  return missed_by(model, lived,
                   [&](std::size_t run, std::size_t step) {
                     const double comfort_c = needs.comfort_c.empty()
                                                  ? week::cable_off_c
                                                  : needs.comfort_c[run * lived.steps + step];
                     return std::max(needs.always_c, comfort_c);
                   })
      .hours;
}

double band_hours(const std::vector<double>& coldest) {
  const rules::GrowthBand band = rules::growth_band();
  const auto inside = std::ranges::count_if(
      coldest, [&](double water_c) { return water_c >= band.low_c && water_c <= band.high_c; });
  return static_cast<double>(inside) * QuickWeek::step_s / hour_s;
}

json rounded(const std::vector<double>& values, double per_one) {
  json list = json::array();
  for (const double value : values) list.push_back(std::round(value * per_one) / per_one);
  return list;
}

}  // namespace

QuickWeek quick_week(const job::Job& job, const plan::Plan& plan) {
  QuickWeek week;
  week.models = settings::group_models(job, plan);
  const draw::Scene scene = forecast::make_scene(job, plan, {});
  const forecast::Demand demand = forecast::demand_of(job, scene);
  week.needs =
      settings::needs_of(job, plan, scene, demand, week.models, settings::asked_of(job), QuickWeek::step_s);
  price(week, job);
  return week;
}

Maybe<json> try_schedule(const job::Job& job, const QuickWeek& week, const TrySchedule& asked) {
  const Watch watch;
  const auto model = std::ranges::find(week.models, asked.group, &GroupModel::id);
  if (model == week.models.end()) {
    std::vector<std::string> known;
    for (const GroupModel& each : week.models) known.push_back(each.id);
    const auto near = units::nearest(asked.group, known);
    return refuse(Why::bad_input, fmt::format("there is no heated group \"{}\"", asked.group),
                  near ? fmt::format("did you mean {}?", *near) : "", "group");
  }
  job::Job tried = job;
  tried.periods.clear();
  for (const AskedPeriod& period : asked.periods) tried.periods.push_back(period_of(asked.group, period));
  const auto group = static_cast<std::size_t>(model->group);
  const GroupNeeds& needs = week.needs[static_cast<std::size_t>(model - week.models.begin())];
  const std::vector<double> set_c = water_of(settings::timetable_of(tried).groups.at(group), *model);
  const Lived lived = settings::live_lumped(*model, set_c, QuickWeek::step_s);
  const Lived always = settings::live_lumped(
      *model, water_of(settings::always_on(job).groups.at(group), *model), QuickWeek::step_s);
  const Used used = used_by(lived, week.cost_per_weekly_kwh);
  const std::vector<double> coldest = coldest_c(*model, lived);
  return json{{"group", asked.group},
              {"kwh_per_week", used.kwh},
              {"cost_per_week", used.cost},
              {"always_on_cost_per_week", used_by(always, week.cost_per_weekly_kwh).cost},
              {"water_c", rounded(coldest, 10)},
              {"price_per_kwh", rounded(week.price_per_kwh, 1e5)},
              {"below_hours_per_week", below_hours(*model, needs, lived)},
              {"band_hours_per_week", band_hours(coldest)},
              {"comfort", demands_of(job, *model, needs, lived, set_c)},
              {"took_ms", std::round(10 * watch.elapsed_ms()) / 10}};
}

}  // namespace firstdraw::serve
