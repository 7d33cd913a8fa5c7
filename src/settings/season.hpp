// One season: searched, lived through by the full simulation, and searched again with more asked where the
// simulation was colder than the model.
#pragma once

#include <span>
#include <vector>

#include "settings/settings.hpp"

namespace firstdraw::settings {

struct SeasonSearch {
  const job::Job& job;
  const plan::Plan& plan;
  const std::vector<GroupModel>& models;
  const SearchOptions& options;
  std::vector<GroupNeeds> needs;
  ProofOptions proof;
};

/// `before`: seasons answered already; a timetable found again takes over their proof. Of the rounds the one
/// is kept in which the fewest runs and taps missed what was asked, and of these the first, the cheapest.
SeasonAnswer solve_season(const SeasonSearch& search, const SeasonOfYear& season,
                          std::span<const SeasonAnswer> before);

}  // namespace firstdraw::settings
