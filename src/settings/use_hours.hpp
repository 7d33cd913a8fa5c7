// When taps are used: draws of a kind of fixture by hour of the week, and the busiest hours of it.
#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "draw/demand.hpp"

namespace firstdraw::settings {

inline constexpr std::size_t hours_a_week = 168;
using HoursOfWeek = std::array<double, hours_a_week>;  // from Monday 00:00

/// Draws expected in each hour of the week, of all `taps` together.
HoursOfWeek draws_by_hour(std::span<const draw::TapUse* const> taps);

/// The fewest hours that carry at least this share of the draws; none for a share of 0 or without draws.
std::vector<bool> busiest_hours(const HoursOfWeek& draws, double share_frac);

}  // namespace firstdraw::settings
