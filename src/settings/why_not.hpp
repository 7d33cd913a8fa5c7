// What each demand costs: the cheapest week again with one thing eased, and curves of cost against comfort
// and against hours in the growth band.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "settings/cheapest.hpp"

namespace firstdraw::settings {

/// Everything a search needs, so that it can be run again with something changed.
struct SearchBase {
  const job::Job& job;
  const plan::Plan& plan;
  const draw::Scene& scene;
  const forecast::Demand& demand;
  const std::vector<GroupModel>& models;
  const std::vector<SeasonOfYear>& seasons;
  SearchOptions options;
  /// Of the question below that is asked. False: stop; its answer is then of no use.
  std::function<bool(double done_frac)> progress{};
};

/// A demand that binds: without it (or with one step less of it) the year would cost so much less.
struct DemandPrice {
  std::string demand;  // "Comfort at showers", "Guideline's temperature at all times", "Four periods a day"
  std::string eased;   // "none asked", "5 periods a day"
  double saving_per_year = 0, uncertain_per_year = 0;  // sum of the two gaps
};
/// Dearest first; only what saves more than it is uncertain by.
std::vector<DemandPrice> why_not(const SearchBase& base, const std::vector<CheapestWeek>& weeks);

struct FrontierPoint {
  double asked = 0;  // share of the comfort targets, or hours
  bool possible = false;
  double cost_per_year = 0, bound_per_year = 0;
  bool chosen = false;  // what the job asks
};
/// Cost of the year against the share of draws that find their pipe hot enough. Points rise by what is asked.
std::vector<FrontierPoint> comfort_curve(const SearchBase& base, std::vector<double> shares);
/// Cost of the year against the longest stay in the growth band, as if no guideline asked for a temperature.
std::vector<FrontierPoint> band_curve(const SearchBase& base, std::vector<double> hours);

}  // namespace firstdraw::settings
