// The week of a job: settings a technician can key in, with the proof that they do what they should. The one
// entry point for terminal, page and pack.
#pragma once

#include <functional>
#include <limits>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "settings/alarms.hpp"
#include "settings/cheapest.hpp"
#include "settings/improve.hpp"
#include "settings/inputs.hpp"
#include "settings/prices.hpp"
#include "settings/proof.hpp"
#include "settings/readings.hpp"
#include "settings/timetable.hpp"
#include "settings/why_not.hpp"

namespace firstdraw::settings {

struct WeekOptions {
  SearchOptions search{};
  ProofOptions proof{};
  bool frontier = true, alarms = true, wrong = true, improve = true;  // the slow parts
  int alarm_weeks = 52;
  /// Stage in words and share done; false stops and keeps what is done.
  std::function<bool(const std::string& stage, double done_frac)> progress{};
};

/// One season's settings.
struct SeasonAnswer {
  SeasonOfYear season;
  CheapestWeek cheapest;
  Timetable timetable;  // proven: as searched, raised where the simulation asked for it
  int proof_rounds = 0;
  Proof proof;
};

/// Money of a year, in the job's currency.
struct CostOfYear {
  /// "week", "as-described", "always-on" (the job's maintain temperature day and night), "highest" (the
  /// week's highest set-points day and night), "return".
  std::string id, name;
  double total = 0, energy = 0, demand = 0, kwh = 0;
  std::string basis;
  /// Share of the heated runs that keep what is asked, in the worst season; NaN: not simulated.
  double runs_kept_frac = std::numeric_limits<double>::quiet_NaN();
};

struct WeekAnswer {
  Inputs inputs;
  std::vector<std::string> unmet;  // why there is no week; then only `inputs` and `findings` are filled too
  std::vector<SeasonAnswer> seasons;
  Proof always_on;
  std::vector<CostOfYear> costs;  // "week" first
  /// By the reduced model, for the gap: the search's cost and bound of the year.
  double model_cost_per_year = 0, bound_per_year = 0;
  std::vector<DemandPrice> why_not;
  std::vector<FrontierPoint> comfort_curve, band_curve;
  std::vector<SensorChoice> sensors;
  std::vector<InsulationChange> insulation;
  std::vector<GroupAlarms> alarms;      // of the first season
  std::vector<GroupReadings> readings;  // of the first season
  std::vector<WrongSetting> wrong;
  std::vector<std::string> demands;  // what was asked, one sentence each, with source
  std::vector<plan::Finding> findings;
  std::vector<job::Assumption> assumptions;
  std::vector<rules::Citation> sources;
  bool stopped = false;

  const CostOfYear* cost(std::string_view id) const;  // null when it is not there
};

WeekAnswer make_week(const job::Job& job, const plan::Plan& plan, const Inputs& inputs,
                     const WeekOptions& options = {});

/// schemas/week.schema.json: keys cost_per_year, cost_per_year_always_on, …
nlohmann::json to_json(const job::Job& job, const WeekAnswer& week);

}  // namespace firstdraw::settings
