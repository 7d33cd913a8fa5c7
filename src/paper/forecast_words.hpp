// How the sheets of the network in time name taps and what they rest on.
#pragma once

#include <string>
#include <vector>

#include "paper/sheets.hpp"

namespace firstdraw::paper {

/// "O-12#2 · shower, 214".
std::string tap_name(const job::Job& job, const forecast::OutletAnswer& outlet);
/// Seconds until hot, "never" for infinity; "120 s or more" is as far as they are counted.
std::string wait_text(double wait_s);
/// "12 s (3 to 40 s)": half of the draws, and 5 and 95 of 100.
std::string wait_spread(const forecast::Spread& wait_s);
std::string litres_text(const Show& show, double litres);
/// "7 days from Monday 00:00, seed 1, one building".
std::string what_was_simulated(const forecast::Forecast& forecast);
/// "published patterns of use, taken for this building" or what else the draws come from.
std::string where_draws_come_from(const job::Job& job, const forecast::Forecast& forecast);
/// Taps that were drawn from, slowest first: by the wait of half of the draws, then of 95 of 100.
std::vector<int> slowest_first(const forecast::Forecast& forecast);
/// The tap with the coldest water on opening; draw::none when nothing was drawn.
int coldest_tap(const forecast::Forecast& forecast);
/// In the middle of all taps drawn from, slowest first; draw::none when nothing was drawn.
int typical_tap(const forecast::Forecast& forecast);
/// What every sheet ends with: assumed, not measured; and who decides.
void footing(Book& book, const Pack& pack);

}  // namespace firstdraw::paper
