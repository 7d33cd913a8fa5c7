// A group's log on an even grid, with what is known of the cable's on time; and where no water was drawn.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "watch/logged.hpp"
#include "watch/run_model.hpp"

namespace firstdraw::watch {

/// Usual interval between samples, s: the median; 0 for fewer than two.
double usual_interval_s(const std::vector<store::Sample>& samples);
/// Standard deviation of the reading's own noise, K, from second differences (robust), never below what
/// rounding to the log's resolution makes.
double noise_k(std::span<const double> reading_c);

/// Where a group's figures were logged; null: not.
struct GroupSeries {
  const LoggedSeries* sensor = nullptr;
  const LoggedSeries* on = nullptr;  // "on", "duty", "current" or "power"
  const LoggedSeries* set_point = nullptr;
  const LoggedSeries* air = nullptr;
};
/// The sensor: a temperature logged at the group or at its sensor run. On time: at the group or at the
/// circuit that heats the sensor run. Air: a temperature logged at the space of that run.
GroupSeries group_series(const job::Job& job, const plan::Plan& plan, int group, const Logged& logged);

/// Share on of a switched quantity by sample: a current or a power counts as on above a quarter of what it
/// is when on.
std::vector<store::Sample> on_samples(const LoggedSeries& series);
/// Value at a moment: between samples at the usual interval the nearer, else the last one; NaN where the last
/// is older than three usual intervals and `hold_s`.
double value_at(const std::vector<store::Sample>& samples, std::int64_t at_ms, double interval_s,
                double hold_s = 0);

enum class OnFrom { logged, saw_tooth, none };
/// Grid of the sensor's samples. Without a logged on time it is told from the turning points of the reading,
/// for a thermostat with a differential.
struct Gridded {
  Grid grid;
  OnFrom on_from = OnFrom::none;
  bool air_logged = false;
  double noise_k = 0;
};
Gridded grid_of(const job::Job& job, const RunDesign& design, int group, const GroupSeries& series);

/// Steps in which the reading moved as no standing water does: drawn.
std::vector<bool> drawn_steps(const RunDesign& design, const Gridded& gridded);
/// Stretches between draws and gaps, each at least `least` steps and at most `most` long.
std::vector<Stretch> stretches_between(const Gridded& gridded, const std::vector<bool>& drawn,
                                       std::size_t least, std::size_t most);
/// Marks as drawn where residuals of a fit leap; true when anything was marked.
bool mark_leaps(const Residuals& fitted, double noise_k, std::vector<bool>& drawn);

}  // namespace firstdraw::watch
