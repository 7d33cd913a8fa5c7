// What a week of settings must keep, run by run and step by step, and where each demand comes from.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "draw/demand.hpp"
#include "forecast/scene.hpp"
#include "rules/rules.hpp"
#include "settings/group_model.hpp"
#include "week/schedule.hpp"

namespace firstdraw::settings {

/// A kind of demand; what it costs is told one by one.
enum class NeedKind { comfort, hygiene, band, hot_hold };

/// What the job, its guideline and its outlets ask, before any controller: see docs/week.md for what follows
/// from what.
struct Asked {
  double comfort_frac_scale = 1;      // of every comfort target's share; a frontier moves it
  bool guideline_temperature = true;  // hold the guideline's temperature as long as it asks
  std::optional<double> band_h;       // replaces the longest stay below
  bool hot_hold = false;
};
Asked asked_of(const job::Job& job);

/// Demands of one group.
struct GroupNeeds {
  int group = -1;
  std::size_t steps = 0;
  std::vector<double> comfort_c;  // [run * steps + step] like GroupModel.runs; -infinity: nothing asked
  double always_c = 0;            // of every run at all times (hygiene); -infinity: none
  double below_c = 0;             // upper end of the band that a stay is counted below
  double most_below_s = 0;        // longest stay below it on end; infinity: none asked
  std::optional<week::HotHold> hot_hold;  // in water of the coldest run
  std::string hot_hold_refused;           // why it was asked for in vain, in one sentence; empty: it was not
  double most_c = 0;                      // no run above (pipes, insulation, scalding); infinity: none
  std::vector<std::string> why;           // one sentence for each demand, with its source
};

/// `step_s` divides an hour. Comfort: hours of the week are ranked by the draws of each fixture kind, and the
/// fewest of them that carry the target's share ask each tap's run for what counts as hot there, with what
/// the runout takes: what flowing water loses in it, at least 1 K (its wall warms too; our choice, no
/// source). Never more is asked than 2 K below the water delivered. Of hours with equal draws the earlier in
/// the day comes first, then the earlier day. A runout of several fills is not the pipe's matter; a tap that
/// needs longer than its target allows is named in `why`.
std::vector<GroupNeeds> needs_of(const job::Job& job, const plan::Plan& plan, const draw::Scene& scene,
                                 const forecast::Demand& demand, std::span<const GroupModel> models,
                                 const Asked& asked, double step_s);

}  // namespace firstdraw::settings
