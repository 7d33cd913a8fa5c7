#include "settings/season.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::settings {
namespace {

constexpr int most_rounds = 4;
constexpr double raise_k = 1;  // of all that is asked of a group, a round
/// Buildings that a round looks at; what is kept is then lived through by all of them.
constexpr int members_of_a_round = 5;

/// Runs of a group that did not keep what is asked in as many buildings as it is asked for. What no set-point
/// can help does not count.
std::size_t runs_missing(const job::Job& job, const GroupModel& model, const Proof& proof) {
  return static_cast<std::size_t>(std::ranges::count_if(proof.runs, [&](const RunProof& run) {
    const std::string& id = job.runs[static_cast<std::size_t>(run.run)].id;
    return run.members_held_frac < job.week.confidence_frac &&
           std::ranges::find(model.runs, id, &ModelRun::id) != model.runs.end() &&
           std::ranges::find(model.hopeless, id) == model.hopeless.end();
  }));
}

std::vector<std::size_t> missing_by_group(const SeasonSearch& search, const Proof& proof) {
  std::vector<std::size_t> missing;
  for (const GroupModel& model : search.models) missing.push_back(runs_missing(search.job, model, proof));
  return missing;
}

bool comfort_missed(const Proof& proof) {
  return std::ranges::any_of(proof.comfort, [](const ComfortAnswer& answer) {
    return !std::isnan(answer.reached_frac) && answer.reached_frac < answer.asked_frac;
  });
}

void ask_more(GroupNeeds& needs) {
  needs.always_c += raise_k;
  needs.below_c += raise_k;
  for (double& least_c : needs.comfort_c) least_c += raise_k;
}

/// Groups whose runs were too cold; where only taps were, the groups that keep hot for taps.
void raise_needs(std::vector<GroupNeeds>& needs, const std::vector<std::size_t>& missing) {
  const bool any = std::ranges::any_of(missing, [](std::size_t n) { return n > 0; });
  for (std::size_t g = 0; g < needs.size(); ++g) {
    if (missing[g] > 0) {
      ask_more(needs[g]);
    } else if (!any) {
      for (double& least_c : needs[g].comfort_c) least_c += raise_k;
    }
  }
}

/// Of a season answered before, where the timetable is the same: that one had all members.
Proof proof_of(const SeasonSearch& search, const Timetable& timetable, const ProofOptions& options,
               std::span<const SeasonAnswer> before) {
  const auto same = std::ranges::find_if(
      before, [&](const SeasonAnswer& answer) { return answer.timetable.groups == timetable.groups; });
  return same != before.end() ? same->proof : prove(search.job, search.plan, timetable, options);
}

std::size_t total(const std::vector<std::size_t>& missing) {
  std::size_t sum = 0;
  for (const std::size_t n : missing) sum += n;
  return sum;
}

}  // namespace

SeasonAnswer solve_season(const SeasonSearch& search, const SeasonOfYear& season,
                          std::span<const SeasonAnswer> before) {
  std::vector<GroupNeeds> needs = search.needs;
  ProofOptions glance = search.proof;
  glance.members = std::min(glance.members, members_of_a_round);
  SeasonAnswer best;
  std::size_t best_missing = 0;
  for (int round = 0; round < most_rounds; ++round) {
    SeasonAnswer now{
        season, cheapest_week(search.job, search.models, needs, season, search.options), {}, 0, {}};
    if (!now.cheapest.plan.possible) {
      if (round == 0) return now;
      break;
    }
    now.timetable = now.cheapest.timetable;
    now.proof = proof_of(search, now.timetable, glance, before);
    now.proof_rounds = round + 1;
    const auto missing = missing_by_group(search, now.proof);
    const std::size_t missed = total(missing) + (comfort_missed(now.proof) ? 1 : 0);
    if (round == 0 || missed < best_missing) {
      if (round > 0) now.cheapest.bound = best.cheapest.bound;
      best = std::move(now);
      best_missing = missed;
    }
    if (best_missing == 0 || best.proof.stopped) break;
    raise_needs(needs, missing);
  }
  best.proof = proof_of(search, best.timetable, search.proof, before);
  return best;
}

}  // namespace firstdraw::settings
