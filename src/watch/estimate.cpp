#include "watch/estimate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/check_context.hpp"
#include "plan/decide.hpp"
#include "units/quantity.hpp"
#include "watch/fit.hpp"
#include "watch/log_grid.hpp"
#include "watch/run_model.hpp"

namespace firstdraw::watch {
namespace {

// Widths of what is taken to be so before the log is read. Air: the job's; cable: its sheet's, or ageing;
// the others are our choices, no source, wide enough for wet insulation and old cable.
constexpr double conductance_sd = 0.6, cable_sd = 0.25, capacity_sd = 0.04, rise_sd = 0.3;
constexpr double sensor_sd_k = 0.5, least_air_sd_k = 1.0, air_sensor_sd_k = 0.5;
constexpr double enough_s = 6 * 3600.0;
constexpr double most_widths = 3.5;  // off what was assumed before, beyond which a fit is not believed
constexpr double z90 = 1.6449;
constexpr double told_frac = 0.6;  // of the prior's width that may be left when a figure counts as told
constexpr double together = 0.8;   // correlation from which two figures are said to hang together
constexpr double most_stretch_s = 3 * 3600.0, most_interval_s = 300;
/// On times told from a noisy saw-tooth are wrong by a minute or two, which makes shares come out too small:
/// up to this noise by less than the wider interval covers (computed, tests/reference).
constexpr double most_saw_tooth_noise_frac = 0.075, saw_tooth_wider = 2;
/// What draws that stay unseen add: with it nine in ten intervals of simulated logs cover (computed).
constexpr double draws_wider = 1.5;
constexpr std::size_t least_steps = 8, least_samples = 60;

RunState state_of(const Parameters& x) {
  return {std::exp(x[0]), x[1], std::exp(x[2]), std::exp(x[3]), std::exp(x[4]), x[5]};
}

double spread(const std::vector<double>& values) {
  std::vector<double> size;
  for (const double value : values) size.push_back(std::abs(value));
  if (size.empty()) return 0;
  const auto middle = size.begin() + static_cast<std::ptrdiff_t>(size.size() / 2);
  std::nth_element(size.begin(), middle, size.end());
  return 1.4826 * *middle;
}

/// Samples over which residuals hang together: 1 + 2 sum of correlations until they are small.
double memory_of(const std::vector<double>& r, double cap) {
  double power = 1e-12, sum = 1;
  for (const double value : r) power += value * value;
  for (std::size_t lag = 1; lag < r.size() / 4; ++lag) {
    double product = 0;
    for (std::size_t i = lag; i < r.size(); ++i) product += r[i] * r[i - lag];
    const double correlation = product / power;
    if (correlation < 0.1) break;
    sum += 2 * correlation;
  }
  return std::clamp(sum, 1.0, cap);
}

struct Fitting {
  const RunDesign& design;
  Gridded gridded;
  std::vector<bool> drawn;
  std::vector<Stretch> stretches;
  std::size_t skip = 2;
  double noise_k = 0.1, memory = 1;
  FitResult result{};
};

FitTask task_of(const Fitting& fitting) {
  const RunDesign& design = fitting.design;
  const double air_sd = fitting.gridded.air_logged
                            ? air_sensor_sd_k
                            : std::max({least_air_sd_k, 0.5 * (design.air_c - design.air_low_c),
                                        0.5 * (design.air_high_c - design.air_c)});
  FitTask task;
  task.prior_sd = {conductance_sd, air_sd,  std::max(cable_sd, design.cable_tolerance_frac),
                   capacity_sd,    rise_sd, sensor_sd_k};
  task.low = {-2.5, -40, -2.5, -0.5, -2, -5};
  task.high = {2.5, 40, 1.5, 0.5, 2, 5};
  task.step = {1e-3, 1e-2, 1e-3, 1e-3, 1e-3, 1e-2};
  const double sd = fitting.noise_k * std::sqrt(fitting.memory);
  task.bend = 2 * fitting.noise_k / sd;
  task.block =
      static_cast<std::size_t>(std::max({3600 / fitting.gridded.grid.step_s, 3 * fitting.memory, 4.0}));
  task.residuals = [&fitting, sd](const Parameters& x) {
    Residuals all = residuals(fitting.design, fitting.gridded.grid, fitting.stretches, state_of(x),
                              fitting.skip, fitting.noise_k);
    for (double& r : all.residual_k) r /= sd;
    return std::move(all.residual_k);
  };
  return task;
}

/// Where draws follow each other closely some stay unseen and pull the figures: the longest pauses alone, as
/// long as they add up to some hours.
void find_stretches(Fitting& fitting) {
  const double step_s = fitting.gridded.grid.step_s;
  for (const double least_s : {7200.0, 3600.0, 1500.0}) {
    const auto least = std::max(least_steps, static_cast<std::size_t>(least_s / step_s)) + fitting.skip;
    fitting.stretches = stretches_between(fitting.gridded, fitting.drawn, least,
                                          static_cast<std::size_t>(most_stretch_s / step_s));
    double sum_s = 0;
    for (const Stretch& stretch : fitting.stretches)
      sum_s += step_s * static_cast<double>(stretch.last - stretch.first);
    if (sum_s >= enough_s) return;
  }
}

std::size_t samples_in(const Fitting& fitting) {
  std::size_t sum = 0;
  for (const Stretch& stretch : fitting.stretches) sum += stretch.last - stretch.first - fitting.skip;
  return sum;
}

/// Fits, looks at what is left, leaves out what leaps, and fits again.
bool fit_rounds(Fitting& fitting) {
  constexpr int rounds = 5;
  Parameters start{};
  for (int round = 0; round < rounds; ++round) {
    if (samples_in(fitting) < least_samples) return false;
    FitTask task = task_of(fitting);
    task.start = start;
    task.rough = round + 1 < rounds;
    fitting.result = fit(task);
    start = fitting.result.at;
    const Residuals left = residuals(fitting.design, fitting.gridded.grid, fitting.stretches, state_of(start),
                                     fitting.skip, fitting.noise_k);
    const double cap = static_cast<double>(left.residual_k.size()) / 20;
    const double noise = std::max(fitting.gridded.noise_k, spread(left.residual_k));
    if (round + 1 == rounds) break;
    fitting.noise_k = noise;
    fitting.memory = memory_of(left.residual_k, std::max(1.0, cap));
    if (round < 3 && mark_leaps(left, fitting.gridded.noise_k, fitting.drawn)) find_stretches(fitting);
  }
  return true;
}

double sd_of(const Fitting& fitting, std::size_t p) {
  const FitResult& result = fitting.result;
  const double sd = std::sqrt(std::max(result.curvature[p][p], result.bootstrap[p][p]));
  return (fitting.gridded.on_from == OnFrom::saw_tooth ? saw_tooth_wider : draws_wider) * sd;
}
double correlation(const FitResult& result, std::size_t a, std::size_t b) {
  const Square& c = result.curvature;
  return c[a][b] / std::sqrt(c[a][a] * c[b][b]);
}

Estimated share(const Fitting& fitting, const FitTask& task, std::size_t p) {
  const FitResult& result = fitting.result;
  const double sd = sd_of(fitting, p);
  const bool known = sd <= told_frac * task.prior_sd[p];
  const double at = known ? result.at[p] : task.prior[p], width = z90 * (known ? sd : task.prior_sd[p]);
  return {std::exp(at - width), std::exp(at), std::exp(at + width), known};
}

double mean_air_c(const Grid& grid) {
  double sum = 0;
  for (const double air_c : grid.air_c) sum += air_c;
  return sum / static_cast<double>(grid.size());
}

Estimated air(const Fitting& fitting, const FitTask& task) {
  const double mean_c = mean_air_c(fitting.gridded.grid), sd = sd_of(fitting, 1);
  const bool told = sd <= told_frac * task.prior_sd[1];
  const bool known = told || fitting.gridded.air_logged;
  const double at = mean_c + (known ? fitting.result.at[1] : 0),
               width = z90 * (known ? sd : task.prior_sd[1]);
  return {at - width, at, at + width, known};
}

std::string interval(const Estimated& share) {
  return fmt::format("{:.0f} % ({:.0f} to {:.0f} %)", 100 * share.usual, 100 * share.low, 100 * share.high);
}

void say(const job::Job& job, const Fitting& fitting, GroupEstimate& made) {
  if (made.conductance_frac.known)
    made.said.push_back(fmt::format("Insulation of run {} lets through {} of what the design says.", made.run,
                                    interval(made.conductance_frac)));
  if (made.cable_frac.known)
    made.said.push_back(fmt::format("Its cable gives {} of the design's output.", interval(made.cable_frac)));
  const auto degrees = [&job](double c) { return units::show(c, units::Kind::temperature, job.units); };
  if (made.air_c.known)
    made.said.push_back(fmt::format("The air around it was {} ({} to {}).", degrees(made.air_c.usual),
                                    degrees(made.air_c.low), degrees(made.air_c.high)));
  static constexpr std::array<std::string_view, 3> names{"insulation", "air temperature", "cable output"};
  for (std::size_t a = 0; a < 3; ++a)
    for (std::size_t b = a + 1; b < 3; ++b)
      if (std::abs(correlation(fitting.result, a, b)) > together)
        made.said.push_back(fmt::format("This log can hardly tell {} and {} apart: {}.", names[a], names[b],
                                        a == 0 && b == 1
                                            ? "log the air too, or let the pipe cool for some hours"
                                            : "log the current with a shorter interval, or more hours"));
}

void warn(const Fitting& fitting, GroupEstimate& made) {
  const auto not_told = [&made](const Estimated& estimated, std::string_view name) {
    if (!estimated.known)
      made.warnings.push_back(
          fmt::format("The log does not tell the {}: what is given is what was assumed before.", name));
  };
  not_told(made.conductance_frac, "insulation");
  not_told(made.air_c, "air temperature");
  not_told(made.cable_frac, "cable output");
  if (fitting.gridded.on_from == OnFrom::saw_tooth)
    made.warnings.push_back(
        "When the cable was on was told from the sensor's own rise and fall: log current or on time.");
  if (!fitting.result.converged) made.warnings.push_back("The fit did not settle: " + fitting.result.said);
}

GroupEstimate without(const std::string& group, const std::string& run, std::string why) {
  GroupEstimate made;
  made.group = group;
  made.run = run;
  const double nan = std::numeric_limits<double>::quiet_NaN();
  made.conductance_frac = made.air_c = made.cable_frac = {nan, nan, nan, false};
  made.residual_k = nan;
  made.warnings.push_back(std::move(why));
  return made;
}

GroupEstimate estimate_group(const job::Job& job, const plan::Plan& plan, int group,
                             const GroupSeries& series) {
  const std::string& id = job.groups[static_cast<std::size_t>(group)].id;
  const int run = plan::sensor_run_of(job, group);
  if (run < 0 || plan.runs.at(static_cast<std::size_t>(run)).cable < 0)
    return without(id, "",
                   "The group has no sensor on a heated run: there is no model to hold the log against.");
  const std::string& run_id = job.runs[static_cast<std::size_t>(run)].id;
  if (series.sensor->samples.size() < least_samples)
    return without(id, run_id, "Too few readings of the sensor.");
  const double interval_s = usual_interval_s(series.sensor->samples);
  if (interval_s > most_interval_s)
    return without(id, run_id,
                   fmt::format("A reading every {:.0f} min is too coarse: between two a draw comes and goes "
                               "unseen. Log every 5 min or more often.",
                               interval_s / 60));
  const RunDesign design = run_design(job, plan, group, run);
  Fitting fitting{design, grid_of(job, design, group, series), {}, {}};
  if (fitting.gridded.on_from == OnFrom::none)
    return without(id, run_id, "When the cable was on is not known: log current, duty or on time.");
  const double differential_k = job.groups[static_cast<std::size_t>(group)].differential_k;
  if (fitting.gridded.on_from == OnFrom::saw_tooth &&
      fitting.gridded.noise_k > most_saw_tooth_noise_frac * differential_k)
    return without(
        id, run_id,
        "The reading is too noisy or too coarsely rounded to tell by it when the cable was on: log "
        "current, duty or on time.");
  fitting.noise_k = fitting.gridded.noise_k;
  fitting.skip = 2 + static_cast<std::size_t>(3 * design.sensor_lag_s / fitting.gridded.grid.step_s);
  fitting.drawn = drawn_steps(design, fitting.gridded);
  find_stretches(fitting);
  if (!fit_rounds(fitting))
    return without(id, run_id,
                   "Hardly any stretch without a draw is long enough: log over a night or a weekend.");
  const FitTask task = task_of(fitting);
  for (std::size_t p = 0; p < fit_size; ++p)
    if (std::abs(fitting.result.at[p] - task.prior[p]) > most_widths * task.prior_sd[p])
      return without(
          id, run_id,
          "The log does not fit a standing pipe with this cable: another run may heat it, the sensor "
          "may sit elsewhere, or the on time is wrong.");
  GroupEstimate made;
  made.group = id;
  made.run = run_id;
  made.conductance_frac = share(fitting, task, 0);
  made.air_c = air(fitting, task);
  made.cable_frac = share(fitting, task, 2);
  double sum = 0;
  const double sd = fitting.noise_k * std::sqrt(fitting.memory);
  for (const double r : fitting.result.residuals) sum += r * r * sd * sd;
  made.used = static_cast<std::int64_t>(fitting.result.residuals.size());
  made.residual_k = std::sqrt(sum / static_cast<double>(made.used));
  say(job, fitting, made);
  warn(fitting, made);
  return made;
}

}  // namespace

std::vector<GroupEstimate> estimate(const job::Job& job, const plan::Plan& plan, const Logged& logged) {
  std::vector<GroupEstimate> all;
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    const GroupSeries series = group_series(job, plan, static_cast<int>(g), logged);
    if (series.sensor == nullptr || series.sensor->samples.empty()) continue;
    all.push_back(estimate_group(job, plan, static_cast<int>(g), series));
  }
  return all;
}

}  // namespace firstdraw::watch
