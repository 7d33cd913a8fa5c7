// The search of cheapest.hpp with its set-points given: problems that share a menu and a grid can be
// compared. Part of cheapest.cpp and why_not.cpp.
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <vector>

#include "settings/cheapest.hpp"

namespace firstdraw::settings {

/// Set-points to choose from, by model, rising; in water of the sensor's run.
using Menu = std::vector<std::vector<double>>;

/// The error says whose demand no set-point can meet.
std::expected<Menu, std::string> menu_of(const job::Job& job, std::span<const GroupModel> models,
                                         std::span<const GroupNeeds> needs, const SearchOptions& options);
/// Both menus' set-points.
Menu joined(const Menu& one, const Menu& other);

/// What the exact search is asked first. None: a demand that no set-point can meet.
std::optional<week::WeekTask> task_of(const job::Job& job, std::span<const GroupModel> models,
                                      std::span<const GroupNeeds> needs, const SeasonOfYear& season,
                                      const SearchOptions& options, const Menu& menu);

/// Of a group, off not counted: what is found takes no more.
int most_set_points(const job::ControllerLimits& controller);

/// With options.rounds = 0 nothing is raised: the steady model alone.
CheapestWeek search_week(const job::Job& job, std::span<const GroupModel> models,
                         std::span<const GroupNeeds> needs, const SeasonOfYear& season,
                         const SearchOptions& options, const Menu& menu);

}  // namespace firstdraw::settings
