#include "settings/settings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>

#include "forecast/compare.hpp"
#include "settings/findings.hpp"
#include "settings/kept.hpp"
#include "settings/season.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

constexpr std::size_t quarters_a_week = 672;

/// Stages of a week's answer with their share of the work, for whoever watches.
class Stages {
 public:
  explicit Stages(const WeekOptions& options) : options_(options) {}

  /// False once somebody asked to stop.
  bool at(const char* stage, double done_frac) {
    stage_ = stage;
    done_frac_ = done_frac;
    lived_frac_ = last_frac_ = within_frac_ = 0;
    return report(0);
  }
  bool stopped() const {
    const std::lock_guard lock(door_);
    return stopped_;
  }
  /// Of searches whose number nobody knows: they are stopped, the number stays. From any thread.
  SearchOptions search() {
    SearchOptions options = options_.search;
    options.effort.progress = [this](double) { return report(within_frac_); };
    return options;
  }
  /// Of work within the stage that began last and knows how much of itself is done.
  std::function<bool(double done_frac)> within(double share_frac) {
    return [this, share_frac](double done_frac) { return report(share_frac * done_frac); };
  }
  /// Options of the simulations within the stage that began last. Where nobody knows how many there will be,
  /// each is a third of what is left of the stage, so that every one moves the number and none takes it back.
  ProofOptions proof(double share_frac, double part_frac = 1.0 / 3) {
    ProofOptions options = options_.proof;
    options.progress = [this, share_frac, part_frac](double done_frac) {
      if (done_frac < last_frac_) lived_frac_ += part_frac * (1 - lived_frac_);
      last_frac_ = done_frac;
      return report(share_frac * (lived_frac_ + part_frac * (1 - lived_frac_) * done_frac));
    };
    return options;
  }

 private:
  bool report(double within_frac) {
    const std::lock_guard lock(door_);
    within_frac_ = within_frac;
    if (stopped_) return false;
    if (options_.progress && !options_.progress(stage_, std::min(1.0, done_frac_ + within_frac)))
      stopped_ = true;
    return !stopped_;
  }

  const WeekOptions& options_;
  const char* stage_ = "";
  double done_frac_ = 0;
  double lived_frac_ = 0, last_frac_ = 0;  // of the stage's simulations before this one, of this one
  double within_frac_ = 0;                 // told last
  bool stopped_ = false;
  mutable std::mutex door_;
};

/// What the week's parts share.
struct Study {
  Study(const job::Job& of_job, const plan::Plan& of_plan, const WeekOptions& with)
      : job(of_job),
        plan(of_plan),
        options(with),
        scene(forecast::make_scene(of_job, of_plan, {})),
        demand(forecast::demand_of(of_job, scene)),
        models(group_models(of_job, of_plan)) {}

  const job::Job& job;
  const plan::Plan& plan;
  const WeekOptions& options;
  draw::Scene scene;
  forecast::Demand demand;
  std::vector<GroupModel> models;
  std::vector<SeasonOfYear> seasons;
};

/// The tier of energy that the groups' next kWh falls into: as much as holding costs all month.
double used_kwh_per_month(const plan::Plan& plan) {
  return plan.totals.energy_kwh_per_year / week::months_a_year;
}

/// Share of the runs that keep what is asked.
double kept_frac(const job::Job& job, const Proof& proof) {
  const auto held = std::ranges::count_if(proof.runs, [&](const RunProof& run) { return kept(job, run); });
  return proof.runs.empty() ? 1 : static_cast<double>(held) / static_cast<double>(proof.runs.size());
}

/// A way of running the groups: one proof for each season.
struct Way {
  std::string id, name, basis;
  std::vector<const Proof*> proofs;
};

CostOfYear cost_of(const Study& study, const Inputs& inputs, const Way& way) {
  std::vector<std::vector<double>> weeks;
  double worst_frac = 1;
  for (const Proof* proof : way.proofs) {
    weeks.push_back(proof->week_w);
    worst_frac = std::min(worst_frac, kept_frac(study.job, *proof));
  }
  const YearCost cost = year_cost(inputs, study.job, weeks);
  return {way.id, way.name, cost.total(), cost.energy, cost.demand, cost.kwh, way.basis, worst_frac};
}

/// One set-point for each group, searched and proven like the week: what the hours save is counted from here.
std::vector<SeasonAnswer> constant_seasons(const Study& study, Stages& stages,
                                           const std::vector<GroupNeeds>& needs) {
  job::Job plain = study.job;
  plain.controller.clock = job::ControllerLimits::Clock::none;
  const SearchOptions options = stages.search();
  const SeasonSearch search{plain, study.plan, study.models, options, needs, stages.proof(0.13)};
  std::vector<SeasonAnswer> seasons;
  for (const SeasonOfYear& season : study.seasons) {
    seasons.push_back(solve_season(search, season, seasons));
    if (!seasons.back().cheapest.plan.possible) return {};
  }
  return seasons;
}

CostOfYear cost_of(const Study& study, const Inputs& inputs, const std::vector<SeasonAnswer>& seasons) {
  Way way{"week", "These settings", "simulated week by week, billed over the year", {}};
  for (const SeasonAnswer& season : seasons) way.proofs.push_back(&season.proof);
  return cost_of(study, inputs, way);
}

/// The hours are worth keying in only where they save; the search does not see the draws, the proof does.
void cost_the_constant(const Study& study, Stages& stages, const std::vector<GroupNeeds>& needs,
                       WeekAnswer& answer) {
  std::vector<SeasonAnswer> constant = constant_seasons(study, stages, needs);
  if (constant.empty() || stages.stopped()) return;
  CostOfYear cost = cost_of(study, answer.inputs, constant);
  CostOfYear& week = answer.costs.front();
  if (cost.total < week.total && cost.runs_kept_frac >= week.runs_kept_frac) {
    week = cost;
    for (std::size_t s = 0; s < constant.size(); ++s)
      constant[s].cheapest.bound = answer.seasons[s].cheapest.bound;  // of every week, not of constant ones
    answer.seasons = std::move(constant);
  }
  cost.id = "constant";
  cost.name = "Constant set-points that keep what is asked";
  cost.basis = "searched and simulated the same way";
  answer.costs.push_back(std::move(cost));
}

/// Power that a pumped return takes day and night beyond the heat of the water drawn.
double return_w(const Study& study) {
  const forecast::ReturnLine line =
      forecast::return_line(study.job, study.plan, study.scene.water_j_per_m3_k);
  return line.supply_loss_w + line.return_loss_w + line.pump_w;
}

void cost_the_return(const Study& study, WeekAnswer& answer) {
  const std::vector<double> even_w(quarters_a_week, return_w(study));
  const YearCost cost = year_cost(answer.inputs, study.job, std::vector(study.seasons.size(), even_w));
  answer.costs.push_back({"return", "Pumped return line, no heating cable", cost.total(), cost.energy,
                          cost.demand, cost.kwh,
                          "estimated: losses of both pipes and the pump, heat priced like electricity"});
}

void add_model_cost(WeekAnswer& answer) {
  for (const SeasonAnswer& season : answer.seasons) {
    answer.model_cost_per_year += season.cheapest.plan.cost.total();
    answer.bound_per_year += season.cheapest.bound;
  }
}

void cost_the_others(const Study& study, Stages& stages, WeekAnswer& answer) {
  const auto all_year = [&](const Proof& proof) {
    return std::vector<const Proof*>(study.seasons.size(), &proof);
  };
  const Timetable described = timetable_of(study.job), on = always_on(study.job);
  answer.always_on = prove(study.job, study.plan, on, stages.proof(0.04));
  const Proof own = described.groups == on.groups ? answer.always_on
                                                  : prove_own_week(study.job, study.plan, stages.proof(0.08));
  answer.costs.push_back(
      cost_of(study, answer.inputs,
              {"as-described", "As the job describes it", "simulated, same draws", all_year(own)}));
  answer.costs.push_back(cost_of(study, answer.inputs,
                                 {"always-on", "The job's maintain temperature day and night",
                                  "simulated, same draws", all_year(answer.always_on)}));
  cost_the_return(study, answer);
}

/// Price of a kWh that is used evenly over the year.
double mean_price_per_kwh(const WeekAnswer& answer) {
  const CostOfYear* on = answer.cost("always-on");
  return on != nullptr && on->kwh > 0 ? on->energy / on->kwh : 0;
}

const std::vector<double> comfort_shares = {0, 0.5, 0.8, 0.9, 1};
const std::vector<double> band_hours = {0.5, 2, 4, 6, 8, 12, 24};

void ask_why_not(const Study& study, Stages& stages, WeekAnswer& answer) {
  if (!study.options.frontier || !stages.at("what each demand costs", 0.36)) return;
  SearchBase base{study.job,    study.plan,    study.scene,          study.demand,
                  study.models, study.seasons, study.options.search, stages.within(0.14)};
  std::vector<CheapestWeek> weeks;
  for (const SeasonAnswer& season : answer.seasons) weeks.push_back(season.cheapest);
  answer.why_not = why_not(base, weeks);
  if (!stages.at("cost against comfort", 0.5)) return;
  base.progress = stages.within(0.02);
  answer.comfort_curve = comfort_curve(base, comfort_shares);
  if (!stages.at("cost against hours in the growth band", 0.52)) return;
  base.progress = stages.within(0.24);
  answer.band_curve = band_curve(base, band_hours);
}

void look_further(const Study& study, Stages& stages, WeekAnswer& answer) {
  const Timetable& timetable = answer.seasons.front().timetable;
  if (study.options.improve && stages.at("sensor and insulation", 0.76)) {
    answer.sensors = sensor_choices(study.job, study.plan, answer.inputs, timetable, stages.proof(0.05));
    answer.insulation = insulation_changes(study.job, study.plan, mean_price_per_kwh(answer), timetable);
  }
  if (study.options.alarms && stages.at("a year of ordinary weeks, and faults planted in it", 0.81))
    answer.alarms =
        set_alarms(study.job, study.plan, timetable, stages.proof(0.12, 1), study.options.alarm_weeks);
  if (study.options.wrong && stages.at("what to read, and what wrong settings do", 0.93)) {
    answer.readings = first_readings(study.job, study.plan, timetable, stages.proof(0.02));
    answer.wrong = wrong_settings(study.job, study.plan, timetable, stages.proof(0.05));
  }
}

void add_assumptions(const Study& study, WeekAnswer& answer) {
  answer.assumptions = answer.inputs.assumptions;
  answer.assumptions.insert(answer.assumptions.end(), study.demand.assumptions.begin(),
                            study.demand.assumptions.end());
  const forecast::ReturnLine line =
      forecast::return_line(study.job, study.plan, study.scene.water_j_per_m3_k);
  for (auto& assumption : forecast::comparison_assumptions(study.job, line))
    if (assumption.field != "compare.price" && assumption.field != "compare.year")
      answer.assumptions.push_back(std::move(assumption));
}

void add_sources(WeekAnswer& answer) {
  answer.sources = answer.always_on.forecast.sources;
  for (auto& source : forecast::comparison_sources()) answer.sources.push_back(std::move(source));
}

/// Each sentence once, with the groups it speaks of where these are not all.
std::vector<std::string> demands_in_words(const job::Job& job, const std::vector<GroupNeeds>& all) {
  std::map<std::string, std::vector<std::string>> groups;
  for (const GroupNeeds& needs : all)
    for (const std::string& why : needs.why)
      groups[why].push_back(job.groups[static_cast<std::size_t>(needs.group)].id);
  std::vector<std::string> words;
  for (const auto& [why, ids] : groups)
    words.push_back(ids.size() == all.size() ? why : fmt::format("{}: {}", fmt::join(ids, ", "), why));
  return words;
}

/// Groups of which not one run can be held as asked: settings for them would be none.
std::vector<std::string> cold_groups(const Study& study) {
  std::vector<std::string> cold;
  for (const GroupModel& model : study.models) {
    const auto real = std::ranges::count_if(model.runs, [](const ModelRun& run) { return run.job_run >= 0; });
    if (real == 0 || std::ssize(model.hopeless) < real) continue;
    cold.push_back(fmt::format(
        "Group {}: none of its {} runs can be held as warm as asked at any set-point up to {} ({}).",
        model.id, real, units::show(model.most_settable_c, units::Kind::temperature, study.job.units),
        model.most_because));
  }
  return cold;
}

bool find_seasons(const Study& study, const std::vector<GroupNeeds>& needs, Stages& stages,
                  WeekAnswer& answer) {
  const SearchOptions options = stages.search();
  SeasonSearch search{study.job, study.plan, study.models, options, needs, {}};
  answer.demands = demands_in_words(study.job, needs);
  answer.unmet = cold_groups(study);
  if (!answer.unmet.empty()) return false;
  const double share_frac = 0.15 / static_cast<double>(study.seasons.size());
  for (std::size_t s = 0; s < study.seasons.size(); ++s) {
    if (!stages.at("the cheapest week, and its proof", share_frac * static_cast<double>(s))) return false;
    search.proof = stages.proof(share_frac);
    answer.seasons.push_back(solve_season(search, study.seasons[s], answer.seasons));
    const week::WeekPlan& found = answer.seasons.back().cheapest.plan;
    if (!found.possible) {
      answer.unmet.push_back(found.impossible);
      return false;
    }
  }
  return !stages.stopped();
}

}  // namespace

const CostOfYear* WeekAnswer::cost(std::string_view id) const {
  const auto found = std::ranges::find(costs, id, &CostOfYear::id);
  return found == costs.end() ? nullptr : &*found;
}

WeekAnswer make_week(const job::Job& job, const plan::Plan& plan, const Inputs& inputs,
                     const WeekOptions& options) {
  WeekAnswer answer;
  answer.inputs = inputs;
  Stages stages(options);
  Study study(job, plan, options);
  study.seasons = seasons_of(inputs, job, options.search.step_s, used_kwh_per_month(plan));
  const std::vector<GroupNeeds> needs =
      needs_of(job, plan, study.scene, study.demand, study.models, asked_of(job), options.search.step_s);
  if (find_seasons(study, needs, stages, answer)) {
    answer.costs.push_back(cost_of(study, answer.inputs, answer.seasons));
    if (stages.at("one set-point day and night, to compare with", 0.15))
      cost_the_constant(study, stages, needs, answer);
    add_model_cost(answer);
    if (stages.at("other ways to keep the water hot", 0.28)) cost_the_others(study, stages, answer);
    ask_why_not(study, stages, answer);
    look_further(study, stages, answer);
  }
  answer.stopped = stages.stopped();
  if (answer.stopped) answer.seasons.clear();
  add_assumptions(study, answer);
  add_sources(answer);
  answer.findings = week_findings(job, plan, study.models, answer);
  return answer;
}

}  // namespace firstdraw::settings
