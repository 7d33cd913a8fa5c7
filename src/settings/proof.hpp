// A timetable lived through by the full simulation, with draws, tank, valve and thermostats: does it keep
// what was asked, in how many of the buildings that differ by their tolerances, and what does it draw.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "forecast/forecast.hpp"
#include "settings/timetable.hpp"

namespace firstdraw::settings {

struct ProofOptions {
  std::uint64_t seed = 1;
  int members = 20, threads = 2;
  double record_every_s = 600;
  std::vector<draw::Draw> recorded;                // measured draws instead of generated ones, when not empty
  std::function<bool(double done_frac)> progress;  // false: stop
};

/// A comfort target and what became of it. A draw counts when it lasted at least `within_s`, as in
/// forecast::OutletAnswer: one that was hot sooner and closed before is neither hot nor cold in time.
struct ComfortAnswer {
  std::string fixture;
  double asked_frac = 0, within_s = 0;
  double reached_frac = 0;   // of the draws that lasted so long, all members; NaN: there was none
  double members_frac = 0;   // share of members that reached what was asked; NaN likewise
  double draws_per_day = 0;  // short ones too
};
struct RunProof {
  int run = -1;                  // index into job.runs; heated ones
  double lowest_c = 0;           // of any member
  double longest_below_s = 0;    // in the coldest cell, longest of the nominal building, below the guideline
  double longest_in_band_s = 0;  // growth band, of any member
  /// Members in which it kept what is asked of it at all times (standing_demand.hpp): in its coldest cell,
  /// the guideline's temperature, and no stay in the growth band longer than the user's wish. 1: nothing is
  /// asked.
  double members_held_frac = 0;
  double log_reduction_per_week = 0;  // default set, slower one; free suspension only
};
struct TapScald {
  std::string tap;
  double hottest_c = 0;        // water that came out, of any member
  double limit_c = 0;          // of the rules; NaN: none
  bool valve = false;          // a safe-outlet valve stands before it
  double second_degree_s = 0;  // shorter of burn integral and published time, at the hottest
};
struct GroupProof {
  std::string group;
  double kwh_per_week = 0, on_frac = 0, switchings_per_day = 0;
  double lowest_reading_c = 0, highest_reading_c = 0;
};
struct Proof {
  forecast::Forecast forecast;  // of the job with the timetable, with its records
  std::vector<double> week_w;   // all groups, by quarter hour, mean over the members
  std::vector<ComfortAnswer> comfort;
  std::vector<RunProof> runs;
  std::vector<GroupProof> groups;  // like job.groups
  std::vector<TapScald> scald;     // hottest first, at most twenty
  bool stopped = false;
};

/// Each member is a week from Monday 00:00 after a day that does not count. The same bits for any number of
/// threads.
Proof prove(const job::Job& job, const plan::Plan& plan, const Timetable& timetable,
            const ProofOptions& options);

/// The same for the week that the job's own periods describe.
Proof prove_own_week(const job::Job& job, const plan::Plan& plan, const ProofOptions& options);

}  // namespace firstdraw::settings
