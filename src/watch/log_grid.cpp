#include "watch/log_grid.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/decide.hpp"

namespace firstdraw::watch {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr double mad_to_sd = 1.4826;
constexpr double least_step_s = 20, most_step_s = 900;

double quantile(std::vector<double> values, double share) {
  if (values.empty()) return unknown;
  const auto k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + k, values.end());
  return values[static_cast<std::size_t>(k)];
}

/// Smallest difference between neighbouring readings that is none: what the logger rounds to, or less.
double resolution(std::span<const double> reading) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < reading.size(); ++i) {
    const double step = std::abs(reading[i] - reading[i - 1]);
    if (step > 1e-6) least = std::min(least, step);
  }
  return std::isfinite(least) ? least : 0;
}

const LoggedSeries* first_of(const Logged& logged, std::initializer_list<std::string_view> quantities,
                             std::initializer_list<std::string_view> places) {
  for (const std::string_view place : places)
    for (const std::string_view quantity : quantities)
      if (!place.empty())
        if (const LoggedSeries* found = logged.find(quantity, place)) return found;
  return nullptr;
}

}  // namespace

double usual_interval_s(const std::vector<store::Sample>& samples) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < samples.size(); ++i)
    steps.push_back(static_cast<double>(samples[i].at_ms - samples[i - 1].at_ms) / 1000);
  return steps.empty() ? 0 : quantile(std::move(steps), 0.5);
}

double noise_k(std::span<const double> reading) {
  std::vector<double> bends;
  for (std::size_t i = 2; i < reading.size(); ++i) {
    const double bend = reading[i] - 2 * reading[i - 1] + reading[i - 2];
    if (!std::isnan(bend)) bends.push_back(std::abs(bend));
  }
  const double rounded = resolution(reading) / std::sqrt(12);
  if (bends.empty()) return std::max(0.02, rounded);
  return std::max({0.02, std::min(rounded, 0.5), mad_to_sd * quantile(std::move(bends), 0.5) / std::sqrt(6)});
}

GroupSeries group_series(const job::Job& job, const plan::Plan& plan, int group, const Logged& logged) {
  const job::ControlGroup& of = job.groups.at(static_cast<std::size_t>(group));
  const int run = plan::sensor_run_of(job, group);
  GroupSeries found;
  std::string run_id, circuit, space;
  if (run >= 0) {
    const auto r = static_cast<std::size_t>(run);
    run_id = job.runs[r].id;
    space = job.runs[r].space;
    const int c = plan.runs.at(r).circuit;
    if (c >= 0) circuit = plan.circuits.at(static_cast<std::size_t>(c)).id;
  }
  found.sensor = first_of(logged, {"temperature"}, {of.id, run_id});
  found.on = first_of(logged, {"on", "duty", "current", "power"}, {of.id, circuit, run_id});
  found.set_point = first_of(logged, {"set-point"}, {of.id});
  found.air = first_of(logged, {"temperature"}, {space});
  return found;
}

std::vector<store::Sample> on_samples(const LoggedSeries& series) {
  std::vector<store::Sample> samples = series.samples;
  if (series.info.quantity == "on" || series.info.quantity == "duty") {
    for (store::Sample& sample : samples) sample.value = std::clamp(sample.value, 0.0, 1.0);
    return samples;
  }
  std::vector<double> values;
  for (const store::Sample& sample : samples) values.push_back(sample.value);
  const double when_on = quantile(std::move(values), 0.995);
  for (store::Sample& sample : samples)
    sample.value = when_on > 1e-3 && sample.value > 0.25 * when_on ? 1 : 0;
  return samples;
}

double value_at(const std::vector<store::Sample>& samples, std::int64_t at_ms, double interval_s,
                double hold_s) {
  const auto after = std::ranges::upper_bound(samples, at_ms, {}, &store::Sample::at_ms);
  if (after == samples.begin()) return unknown;
  const store::Sample& last = *std::prev(after);
  const auto age_s = static_cast<double>(at_ms - last.at_ms) / 1000;
  if (after != samples.end()) {
    const auto apart_s = static_cast<double>(after->at_ms - last.at_ms) / 1000;
    if (apart_s <= 1.5 * interval_s) return age_s > 0.5 * apart_s ? after->value : last.value;
  }
  return age_s <= std::max(hold_s, 3 * interval_s) ? last.value : unknown;
}

namespace {

void place_readings(Grid& grid, const std::vector<store::Sample>& samples) {
  const auto count = static_cast<std::size_t>(
      static_cast<double>(samples.back().at_ms - grid.begin_ms) / 1000 / grid.step_s + 1.5);
  grid.reading_c.assign(count, unknown);
  std::vector<double> off(count, std::numeric_limits<double>::infinity());
  for (const store::Sample& sample : samples) {
    const double place = static_cast<double>(sample.at_ms - grid.begin_ms) / 1000 / grid.step_s;
    const auto i = static_cast<std::size_t>(std::lround(place));
    const double miss = std::abs(place - static_cast<double>(i));
    if (i >= count || miss >= off[i]) continue;
    off[i] = miss;
    grid.reading_c[i] = sample.value;
  }
  // A single step that jitter left empty.
  for (std::size_t i = 1; i + 1 < count; ++i)
    if (std::isnan(grid.reading_c[i]))
      grid.reading_c[i] = 0.5 * (grid.reading_c[i - 1] + grid.reading_c[i + 1]);
}

std::int64_t moment(const Grid& grid, double step) {
  return grid.begin_ms + static_cast<std::int64_t>(std::llround(1000 * grid.step_s * step));
}

void place_on(Grid& grid, const LoggedSeries& series) {
  constexpr int parts = 6;
  const std::vector<store::Sample> samples = on_samples(series);
  const double interval_s = usual_interval_s(samples);
  const double hold_s = series.info.quantity == "on" ? 86400 : 0;  // may be logged at its changes only
  for (std::size_t i = 0; i < grid.size(); ++i) {
    double sum = 0;
    for (int part = 0; part < parts; ++part)
      sum +=
          value_at(samples, moment(grid, static_cast<double>(i) + (part + 0.5) / parts), interval_s, hold_s);
    grid.on_frac[i] = sum / parts;
  }
}

void place_air(Grid& grid, const LoggedSeries& series, double usual_c) {
  const double interval_s = usual_interval_s(series.samples);
  double last = usual_c;
  for (const store::Sample& sample : series.samples) {
    last = sample.value;
    break;
  }
  for (std::size_t i = 0; i < grid.size(); ++i) {
    const double value = value_at(series.samples, moment(grid, static_cast<double>(i)), interval_s, 7200);
    if (!std::isnan(value)) last = value;
    grid.air_c[i] = last;
  }
}

/// Running means of an odd number of steps.
std::vector<double> smoothed(const std::vector<double>& values, std::size_t width) {
  std::vector<double> smooth = values;
  const std::size_t half = width / 2;
  for (std::size_t i = half; half > 0 && i + half < values.size(); ++i) {
    double sum = 0;
    for (std::size_t k = i - half; k <= i + half; ++k) sum += values[k];
    if (!std::isnan(sum)) smooth[i] = sum / static_cast<double>(2 * half + 1);
  }
  return smooth;
}

struct Line {
  double at = 0, level = 0, slope = 0;
  bool good = false;
};
/// Least squares through the readings of [from, to).
Line line_through(const std::vector<double>& values, std::size_t from, std::size_t to) {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0;
  const double about = 0.5 * static_cast<double>(from + to);
  for (std::size_t i = from; i < to; ++i) {
    if (std::isnan(values[i])) continue;
    const double off = static_cast<double>(i) - about;
    n += 1, x += off, y += values[i], xx += off * off, xy += off * values[i];
  }
  const double spread = n * xx - x * x;
  if (n < 3 || !(spread > 0)) return {};
  const double slope = (n * xy - x * y) / spread;
  return {about, (y - slope * x) / n, slope, true};
}

/// On from each low turning point to the next high one; unknown before the first turn after a gap. The turns
/// of a noisy reading lie too far on its flatter side, so each is moved to where the lines of its two sides
/// meet.
class SawTooth {
 public:
  SawTooth(Grid& grid, double least_swing_k, std::size_t width)
      : grid_(grid), smooth_(smoothed(grid.reading_c, width)), swing_k_(least_swing_k) {}

  void tell() {
    std::size_t first = 0;
    for (std::size_t i = 0; i <= smooth_.size(); ++i) {
      if (i < smooth_.size() && !std::isnan(smooth_[i])) continue;
      if (i > first) tell_between(first, i);
      first = i + 1;
    }
  }

 private:
  struct Turn {
    std::size_t at = 0;
    bool low = false;
    double exact = 0;
  };

  void tell_between(std::size_t first, std::size_t last) {
    std::vector<Turn> turns = turns_of(first, last);
    for (std::size_t t = 0; t < turns.size(); ++t)
      refine(turns[t], t == 0 ? first : turns[t - 1].at, t + 1 < turns.size() ? turns[t + 1].at : last);
    for (std::size_t t = 0; t + 1 < turns.size(); ++t)
      if (turns[t].low) fill(turns[t].exact, turns[t + 1].exact);
    if (!turns.empty() && turns.back().low) fill(turns.back().exact, static_cast<double>(last));
    if (turns.empty()) return;
    const auto known = static_cast<std::size_t>(std::max(0.0, std::ceil(turns.front().exact)));
    for (std::size_t i = known; i < last; ++i)
      if (std::isnan(grid_.on_frac[i])) grid_.on_frac[i] = 0;
  }

  std::vector<Turn> turns_of(std::size_t first, std::size_t last) const {
    std::vector<Turn> turns;
    std::size_t low_at = first, high_at = first;
    int way = 0;
    for (std::size_t i = first; i < last; ++i) {
      if (smooth_[i] > smooth_[high_at]) high_at = i;
      if (smooth_[i] < smooth_[low_at]) low_at = i;
      if (way >= 0 && smooth_[high_at] - smooth_[i] > swing_k_) {
        turns.push_back({high_at, false, static_cast<double>(high_at)});
        way = -1, low_at = high_at = i;
      } else if (way <= 0 && smooth_[i] - smooth_[low_at] > swing_k_) {
        turns.push_back({low_at, true, static_cast<double>(low_at)});
        way = 1, low_at = high_at = i;
      }
    }
    return turns;
  }

  void refine(Turn& turn, std::size_t before, std::size_t after) const {
    const auto side = [this](std::size_t length) {
      const double near = std::min(0.6 * static_cast<double>(length), 2400 / grid_.step_s);
      return std::pair{static_cast<std::size_t>(0.1 * near) + 1, static_cast<std::size_t>(near) + 1};
    };
    const auto [skip, reach] = side(turn.at - before);
    const auto [skip_on, reach_on] = side(after - turn.at);
    if (turn.at < before + reach || turn.at + reach_on > after) return;
    const Line in = line_through(grid_.reading_c, turn.at - reach, turn.at - skip + 1);
    const Line out = line_through(grid_.reading_c, turn.at + skip_on, turn.at + reach_on);
    if (!in.good || !out.good || (turn.low ? out.slope <= in.slope : in.slope <= out.slope)) return;
    const double meet =
        (in.level - in.slope * in.at - out.level + out.slope * out.at) / (out.slope - in.slope);
    const double most = 600 / grid_.step_s;
    if (std::abs(meet - turn.exact) <= most) turn.exact = std::max(meet, static_cast<double>(before));
  }

  /// Share on of every step that [from, to] touches.
  void fill(double from, double to) {
    from = std::max(from, 0.0);
    for (auto i = static_cast<std::size_t>(from); i < grid_.size() && static_cast<double>(i) < to; ++i) {
      const auto at = static_cast<double>(i);
      const double part = std::min(to, at + 1) - std::max(from, at);
      grid_.on_frac[i] = std::clamp((std::isnan(grid_.on_frac[i]) ? 0 : grid_.on_frac[i]) + part, 0.0, 1.0);
    }
  }

  Grid& grid_;
  std::vector<double> smooth_;
  double swing_k_;
};

/// Running mean that leaves a twelfth of the differential of the noise, at most ten minutes.
std::size_t smoothing_of(double noise, double differential_k, double step_s) {
  const double ratio = noise / (differential_k / 12);
  const double most = std::max(1.0, 600 / step_s);
  const auto width = static_cast<std::size_t>(std::clamp(ratio * ratio, 1.0, most));
  return width | 1U;
}

void place_saw_tooth(Gridded& made, double differential_k) {
  const std::size_t width = smoothing_of(made.noise_k, differential_k, made.grid.step_s);
  const double left_k = made.noise_k / std::sqrt(static_cast<double>(width));
  SawTooth(made.grid, std::max(0.4 * differential_k, 4 * left_k), width).tell();
  made.on_from = OnFrom::saw_tooth;
}

}  // namespace

Gridded grid_of(const job::Job& job, const RunDesign& design, int group, const GroupSeries& series) {
  Gridded made;
  const auto& samples = series.sensor->samples;
  Grid& grid = made.grid;
  grid.step_s = std::clamp(usual_interval_s(samples), least_step_s, most_step_s);
  grid.begin_ms = samples.front().at_ms;
  place_readings(grid, samples);
  grid.on_frac.assign(grid.size(), unknown);
  grid.air_c.assign(grid.size(), design.air_c);
  made.noise_k = noise_k(grid.reading_c);
  if (series.air) place_air(grid, *series.air, design.air_c);
  made.air_logged = series.air != nullptr;
  const job::ControlGroup& of = job.groups.at(static_cast<std::size_t>(group));
  if (series.on) {
    place_on(grid, *series.on);
    made.on_from = OnFrom::logged;
  } else if (of.method == job::ControlMethod::thermostat && of.differential_k > 0) {
    place_saw_tooth(made, of.differential_k);
  }
  return made;
}

std::vector<bool> drawn_steps(const RunDesign& design, const Gridded& gridded) {
  // How far conductance and output may be off and the water still be standing: generous, no source.
  constexpr double most_loss = 4, most_output = 1.6, film_most = 1.5, settle_s = 300;
  const Grid& grid = gridded.grid;
  std::vector<bool> drawn(grid.size(), false);
  const auto window = static_cast<std::size_t>(std::max(1.0, std::round(120 / grid.step_s)));
  const auto settle = static_cast<std::size_t>(std::ceil(settle_s / grid.step_s));
  const double margin_k = 0.1 + 4.5 * std::sqrt(2.0) * gridded.noise_k;
  const double film = 1 / design.film_w_per_m_k + design.sensor_k_per_w_per_m;
  for (std::size_t i = 0; i + window < grid.size(); ++i) {
    const double from = grid.reading_c[i], to = grid.reading_c[i + window];
    if (std::isnan(from) || std::isnan(to)) continue;
    const double output = most_output * design.output_at(from), d = from - grid.air_c[i];
    const double loss = most_loss * design.conductance_at(d) * std::max(d, 5.0);
    double least_on = 1, most_on = 0, now_on = 0;
    for (std::size_t k = i > settle ? i - settle : 0; k <= i + window; ++k) {
      const double on = std::isnan(grid.on_frac[k]) ? 0.5 : grid.on_frac[k];
      least_on = std::min(least_on, on);
      most_on = std::max(most_on, on);
      if (k >= i) now_on = std::max(now_on, on);
    }
    const double jump_k = film_most * output * film * (most_on - least_on);
    const double seconds = grid.step_s * static_cast<double>(window);
    const double rise_k = seconds * output * now_on / design.capacity_j_per_m_k() + jump_k + margin_k;
    const double fall_k = seconds * loss / design.capacity_j_per_m_k() + jump_k + margin_k;
    if (to - from <= rise_k && from - to <= fall_k) continue;
    const std::size_t first = i > 0 ? i - 1 : 0, last = std::min(grid.size(), i + window + 2);
    for (std::size_t k = first; k < last; ++k) drawn[k] = true;
  }
  return drawn;
}

std::vector<Stretch> stretches_between(const Gridded& gridded, const std::vector<bool>& drawn,
                                       std::size_t least, std::size_t most) {
  const Grid& grid = gridded.grid;
  std::vector<Stretch> all;
  const auto add = [&](std::size_t first, std::size_t last) {
    if (last - first < least) return;
    const std::size_t parts = std::max<std::size_t>(1, (last - first + most - 1) / most);
    for (std::size_t p = 0; p < parts; ++p) {
      all.push_back({first + (last - first) * p / parts, first + (last - first) * (p + 1) / parts});
    }
  };
  std::size_t first = 0;
  for (std::size_t i = 0; i <= grid.size(); ++i) {
    const bool good =
        i < grid.size() && !drawn[i] && !std::isnan(grid.reading_c[i]) && !std::isnan(grid.on_frac[i]);
    if (good) continue;
    if (i > first) add(first, i);
    first = i + 1;
  }
  return all;
}

bool mark_leaps(const Residuals& fitted, double noise, std::vector<bool>& drawn) {
  constexpr std::size_t side = 8, gap = 1;
  constexpr double least_leap_k = 0.3, deviations = 3.7;
  const double leap_k = std::max(least_leap_k, deviations * noise * std::sqrt(2.0 / side));
  const auto& r = fitted.residual_k;
  std::vector<double> leap(r.size(), 0);
  for (std::size_t i = side + gap; i + side + gap < r.size(); ++i) {
    if (fitted.at[i + side + gap] - fitted.at[i - side - gap] != 2 * (side + gap)) continue;
    double before = 0, after = 0;
    for (std::size_t k = 1; k <= side; ++k) {
      before += r[i - gap - k] / side;
      after += r[i + gap + k] / side;
    }
    leap[i] = std::abs(after - before);
  }
  bool any = false;
  for (std::size_t i = side; i + side < r.size(); ++i) {
    if (leap[i] < leap_k) continue;
    if (*std::max_element(leap.begin() + static_cast<std::ptrdiff_t>(i - side),
                          leap.begin() + static_cast<std::ptrdiff_t>(i + side)) > leap[i])
      continue;
    for (std::size_t k = fitted.at[i] - 2; k <= fitted.at[i] + 2; ++k) drawn[k] = true;
    any = true;
  }
  return any;
}

}  // namespace firstdraw::watch
