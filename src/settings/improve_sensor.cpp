// The sensor tried elsewhere. Every group tries a place in every simulation, so that a round takes as many
// simulations as the group with the most places has.
#include <algorithm>
#include <cmath>

#include "forecast/ensemble.hpp"
#include "plan/decide.hpp"
#include "plan/held.hpp"
#include "plan/sensor.hpp"
#include "settings/coldest_run.hpp"
#include "settings/group_limits.hpp"
#include "settings/improve.hpp"
#include "settings/sensor_places.hpp"
#include "settings/standing_demand.hpp"
#include "week/tariff.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr int most_rounds = 6;
constexpr double joule_per_kwh = 3.6e6, weeks_per_year = 365.0 / 7;
/// Where no guideline asks: colder than the group's tolerance for at most this share of the week (our choice,
/// no source).
constexpr double often_frac = 0.05;

/// Every hour of the priced year counts alike.
double mean_price_per_kwh(const Inputs& inputs) {
  const week::Date first{std::chrono::year(inputs.year), std::chrono::January, std::chrono::day(1)};
  const week::Date next{std::chrono::year(inputs.year + 1), std::chrono::January, std::chrono::day(1)};
  const std::int64_t begin = week::day_begin(inputs.calendar.zone, first),
                     end = week::day_begin(inputs.calendar.zone, next);
  double sum = 0, hours = 0;
  for (std::int64_t moment = begin; moment < end; moment += 3600, ++hours)
    sum += week::price_per_kwh(inputs.tariff, inputs.calendar, moment);
  return sum / hours;
}

/// One place of one group's sensor while its set-point is searched.
struct Trial {
  int group = draw::none, run = draw::none;  // run: index into job.runs
  SetPointSearch search;
  double below_c = 0;  // what its runs may not be below
  SensorChoice choice{};
  bool seen = false;
};

/// One simulated week with all sensors and set-points of a round.
struct Seen {
  draw::Scene scene;
  draw::Result week;
};

Seen live(const job::Job& job, const plan::Plan& plan, const ProofOptions& options, double below_c) {
  Seen seen;
  forecast::ForecastOptions how;
  how.seed = options.seed;
  how.compare = how.advise = false;
  how.record_every_s = 0;
  how.recorded = options.recorded;
  how.below_c = below_c;
  how.each_member = [&seen](std::size_t, const draw::Scene& scene, const draw::Result& week) {
    seen = {scene, week};
  };
  forecast::forecast(job, plan, how);
  return seen;
}

/// Highest temperature below which a run is for no longer than `share` of the week, cells averaged.
double seldom_below_c(const draw::RunResult& run, double share) {
  const double allowed_s = share * run.time_at.total();
  double below_s = 0;
  for (std::size_t bin = 0; bin < run.time_at.seconds.size(); ++bin) {
    below_s += run.time_at.seconds[bin];
    if (below_s > allowed_s) return static_cast<double>(bin) * draw::TempCounts::step_k;
  }
  return 100;
}

class SensorStudy {
 public:
  SensorStudy(const job::Job& job, const plan::Plan& plan, const Inputs& inputs, const Timetable& timetable,
              const ProofOptions& options)
      : job_(job),
        plan_(plan),
        options_(options),
        demand_(standing_demand_of(job)),
        asked_(std::isfinite(demand_.below_c)),
        price_per_kwh_(mean_price_per_kwh(inputs)),
        shop_(job),
        building_(plan::building_of(shop_, plan)) {
    const Seen nominal = live(with_timetable(job, timetable), plan, options, demand_.below_c);
    forecast::Tally tally;
    tally.add(nominal.week);
    for (std::size_t g = 0; g < job.groups.size(); ++g)
      propose(nominal.scene, tally, static_cast<int>(g), timetable.groups.at(g));
  }

  std::vector<SensorChoice> answer() {
    for (int round = 0; round < most_rounds && goes_on(round) && try_all(); ++round) {
    }
    std::vector<SensorChoice> choices;
    for (const Trial& trial : trials_)
      if (trial.seen) choices.push_back(trial.choice);
    for (std::size_t g = 0; g < job_.groups.size(); ++g) choose(choices, job_.groups[g].id);
    return choices;
  }

 private:
  bool goes_on(int round) const {
    return !options_.progress || options_.progress(static_cast<double>(round) / most_rounds);
  }

  /// Share of the week that the guideline lets a run be colder.
  double allowed_frac() const {
    return std::min(demand_.most_below_frac, demand_.most_below_s / draw::week_s);
  }

  double most_settable_c(const job::ControlGroup& group) const {
    double most_c = job_.controller.highest_c;
    if (group.high_cutout_c > 0) most_c = std::min(most_c, group.high_cutout_c - group.differential_k);
    return most_c;
  }

  /// What a sensor on this run reads above its water.
  double reading_offset_k(const hold::HeldRun& run, double water_c) const {
    return plan::sensor_offset_k(job_.runs[at(run.job_run)].pipe, run.loss, water_c, run.air.usual_c,
                                 job_.groups[at(run.group)].sensor_angle_rad, building_.cables[at(run.cable)],
                                 run.passes);
  }

  void propose(const draw::Scene& scene, const forecast::Tally& nominal, int group,
               const GroupTimetable& timetable) {
    const MeanSetting setting = mean_setting(timetable);
    const hold::Building only = only_group(building_, group);
    const job::ControlGroup& control = job_.groups[at(group)];
    if (only.runs.empty() || only.groups[at(group)].sensor == draw::none || !(setting.on_frac > 0)) return;
    double least_c = coldest_c(only, group, setting.set_c, false);
    if (asked_) least_c = std::max(least_c, demand_.below_c);
    const HeldByColdest held = hold_by_coldest(only, group, least_c);
    const int present = plan::sensor_run_of(job_, group);
    for (const int job_run : sensor_places(job_, plan_, only, scene, nominal, group, least_c)) {
      const auto run = std::ranges::find(only.runs, job_run, &hold::HeldRun::job_run);
      if (run == only.runs.end()) continue;
      const double water_c = held.state.runs[at(static_cast<int>(run - only.runs.begin()))].water_c;
      const double step_k = job_.controller.step_k;
      const double first_c = std::ceil((water_c + reading_offset_k(*run, water_c)) / step_k - 1e-9) * step_k;
      Trial trial{.group = group, .run = job_run, .search = {first_c, most_settable_c(control), step_k}};
      trial.below_c = asked_ ? demand_.below_c : least_c - control.hold_tolerance_k;
      trial.choice.group = control.id;
      trial.choice.run = job_.runs[at(job_run)].id;
      trial.choice.present = job_run == present;
      trials_.push_back(std::move(trial));
    }
  }

  /// The trials that are not done, dealt into simulations so that no group is twice in one.
  std::vector<std::vector<std::size_t>> deal() const {
    std::vector<std::vector<std::size_t>> weeks;
    std::vector<std::size_t> next(job_.groups.size(), 0);
    for (std::size_t t = 0; t < trials_.size(); ++t) {
      if (!trials_[t].search.next_c()) continue;
      const std::size_t week = next[at(trials_[t].group)]++;
      if (week == weeks.size()) weeks.emplace_back();
      weeks[week].push_back(t);
    }
    return weeks;
  }

  /// Groups that have nothing to try in this week stay as they were tried last, the first of their places.
  job::Job set_up(const std::vector<std::size_t>& trials) const {
    job::Job job = job_;
    job.periods.clear();
    const auto put = [&job](const Trial& trial, double set_c) {
      job::ControlGroup& group = job.groups[at(trial.group)];
      group.sensor_run = job.runs[at(trial.run)].id;
      group.maintain_c = set_c;
    };
    for (const Trial& trial : trials_)
      if (trial.choice.present && trial.seen) put(trial, trial.choice.set_point_c);
    for (const std::size_t t : trials) put(trials_[t], *trials_[t].search.next_c());
    return job;
  }

  bool try_all() {
    const auto weeks = deal();
    const auto make = [&](std::size_t week) {
      return live(set_up(weeks[week]), plan_, options_, demand_.below_c);
    };
    std::vector<Seen> all(weeks.size());
    forecast::in_order(options_.threads, weeks.size(), make,
                       [&](std::size_t week, Seen& seen) { all[week] = std::move(seen); });
    for (std::size_t week = 0; week < weeks.size(); ++week)
      for (const std::size_t t : weeks[week]) note(trials_[t], all[week]);
    return !weeks.empty();
  }

  void note(Trial& trial, const Seen& seen) {
    SensorChoice now = trial.choice;
    now.set_point_c = *trial.search.next_c();
    now.coldest_c = std::numeric_limits<double>::infinity();
    now.longest_below_s = 0;
    now.keeps = true;
    double short_k = 0;
    for (std::size_t r = 0; r < seen.week.runs.size(); ++r) {
      if (seen.scene.runs[r].group != trial.group) continue;
      const draw::RunResult& run = seen.week.runs[r];
      const double share = asked_ ? allowed_frac() : often_frac;
      const double seldom_c = seldom_below_c(run, share);
      now.coldest_c = std::min(now.coldest_c, run.min_c);
      now.longest_below_s = std::max(now.longest_below_s, run.longest_below_s);
      now.keeps = now.keeps && kept(demand_, run, swing_k(job_.groups[at(trial.group)])) &&
                  (asked_ || seldom_c >= trial.below_c - 0.5);
      short_k = std::max(short_k, trial.below_c - seldom_c);
    }
    double joule = 0;
    for (const double quarter_j : seen.week.groups[at(trial.group)].energy_j) joule += quarter_j;
    now.cost_per_year = joule / joule_per_kwh * weeks_per_year * price_per_kwh_;
    trial.search.tried(now.keeps, short_k);
    // Of what was tried the cheapest that keeps counts; while nothing does, what keeps longest.
    const SensorChoice& before = trial.choice;
    if (!trial.seen || is_better(now, before)) trial.choice = std::move(now);
    trial.seen = true;
  }

  static bool is_better(const SensorChoice& a, const SensorChoice& b) {
    if (a.keeps != b.keeps) return a.keeps;
    if (a.keeps) return a.cost_per_year < b.cost_per_year;
    if (a.longest_below_s != b.longest_below_s) return a.longest_below_s < b.longest_below_s;
    return a.coldest_c > b.coldest_c;
  }

  static void choose(std::vector<SensorChoice>& choices, const std::string& group) {
    SensorChoice* best = nullptr;
    for (SensorChoice& choice : choices)
      if (choice.group == group && (best == nullptr || is_better(choice, *best))) best = &choice;
    if (best != nullptr) best->best = true;
  }

  const job::Job& job_;
  const plan::Plan& plan_;
  const ProofOptions& options_;
  StandingDemand demand_;
  bool asked_;
  double price_per_kwh_;
  plan::Workshop shop_;
  hold::Building building_;
  std::vector<Trial> trials_;
};

}  // namespace

std::vector<SensorChoice> sensor_choices(const job::Job& job, const plan::Plan& plan, const Inputs& inputs,
                                         const Timetable& timetable, const ProofOptions& options) {
  return SensorStudy(job, plan, inputs, timetable, options).answer();
}

}  // namespace firstdraw::settings
