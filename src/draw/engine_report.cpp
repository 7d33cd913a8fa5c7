#include <algorithm>
#include <cmath>

#include "draw/engine.hpp"

namespace firstdraw::draw {
namespace {

constexpr double quarter_hour_s = 900;

}  // namespace

/// Every run, moving or not, comes to the same time.
void Engine::sync(double now_s) {
  for (std::size_t r = 0; r < model_.size(); ++r) {
    const int run = static_cast<int>(r);
    if (state_[r].flow_m3_per_s <= 0)
      stand(run, now_s);
    else
      slow_step(run, now_s);
  }
}

void Engine::begin_report(double now_s) {
  sync(now_s);
  for (std::size_t t = 0; t < taps_.size(); ++t) book_heat(static_cast<int>(t));
  reporting_ = true;
  const auto quarters =
      static_cast<std::size_t>(std::ceil((options_.end_s - options_.begin_s) / quarter_hour_s));
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    result_.groups[g] = {};
    result_.groups[g].energy_j.assign(quarters, 0);
    result_.groups[g].lowest_reading_c = std::numeric_limits<double>::infinity();
    result_.groups[g].highest_reading_c = -std::numeric_limits<double>::infinity();
    groups_[g].cycles_before = groups_[g].controller.switchings();
  }
  for (std::size_t r = 0; r < model_.size(); ++r) {
    result_.runs[r] = {};
    state_[r].in_band_s = state_[r].below_s = 0;
    state_[r].standing_since_s = std::max(state_[r].standing_since_s, now_s);
  }
  for (TapResult& tap : result_.taps) tap = {};
  result_.balance = {};
  result_.heater_j = 0;
  result_.lowest_supply_c = std::numeric_limits<double>::infinity();
  result_.work = {};
  stored_at_begin_j_ = stored_j();
}

void Engine::add_time_at(int run, double from_c, double to_c, double step_s) {
  if (!reporting_) return;
  RunResult& result = result_.runs[at(run)];
  result.min_c = std::min({result.min_c, from_c, to_c});
  result.max_c = std::max({result.max_c, from_c, to_c});
  result.time_at.add(from_c, to_c, step_s);
}

void Engine::add_cable_energy(int group, double begin_s, double end_s, double energy_j) {
  std::vector<double>& quarters = result_.groups[at(group)].energy_j;
  const double first = (begin_s - options_.begin_s) / quarter_hour_s,
               last = (end_s - options_.begin_s) / quarter_hour_s;
  if (quarters.empty()) return;
  const auto clamp = [&quarters](double place) {
    return std::min(static_cast<std::size_t>(std::max(0.0, place)), quarters.size() - 1);
  };
  const std::size_t from = clamp(first), to = clamp(last);
  if (from == to || last <= first) {
    quarters[from] += energy_j;
    return;
  }
  const double per_quarter_j = energy_j / (last - first);
  for (std::size_t q = from; q <= to; ++q) {
    const double begin = q == from ? first : static_cast<double>(q);
    const double end = q == to ? last : static_cast<double>(q + 1);
    quarters[q] += per_quarter_j * (end - begin);
  }
}

void Engine::note_band(int run, double coldest_c, double step_s) {
  RunState& state = state_[at(run)];
  const bool inside = coldest_c >= options_.band_low_c && coldest_c <= options_.band_high_c;
  state.in_band_s = inside ? state.in_band_s + step_s : 0;
  state.below_s = coldest_c < options_.below_c ? state.below_s + step_s : 0;
  RunResult& result = result_.runs[at(run)];
  result.longest_in_band_s = std::max(result.longest_in_band_s, state.in_band_s);
  result.longest_below_s = std::max(result.longest_below_s, state.below_s);
}

void Engine::sample_ages(double now_s) {
  ++age_samples_;
  for (std::size_t r = 0; r < model_.size(); ++r) {
    const double* since = born(static_cast<int>(r));
    double sum = 0, oldest = 0;
    for (std::size_t c = 0; c < model_[r].cells; ++c) {
      sum += now_s - since[c];
      oldest = std::max(oldest, now_s - since[c]);
    }
    RunResult& result = result_.runs[r];
    const double mean = sum / static_cast<double>(model_[r].cells);
    result.mean_age_s += (mean - result.mean_age_s) / age_samples_;
    result.oldest_s = std::max(result.oldest_s, oldest);
  }
}

void Engine::record(double now_s) {
  Records& records = result_.records;
  records.time_s.push_back(now_s);
  for (const GroupState& group : groups_) {
    records.reading_c.push_back(static_cast<float>(group.reading_c));
    records.duty_frac.push_back(static_cast<float>(group.duty));
  }
  if (!options_.record_controls_only) record_building(now_s);
}

void Engine::record_building(double now_s) {
  sync(now_s);
  Records& records = result_.records;
  for (std::size_t r = 0; r < model_.size(); ++r) {
    const double* w = water(static_cast<int>(r));
    double sum = 0, coldest = std::numeric_limits<double>::infinity();
    for (std::size_t c = 0; c < model_[r].cells; ++c) {
      sum += w[c];
      coldest = std::min(coldest, w[c]);
    }
    records.run_c.push_back(static_cast<float>(sum / static_cast<double>(model_[r].cells)));
    records.run_coldest_c.push_back(static_cast<float>(coldest));
    records.run_end_c.push_back(static_cast<float>(w[model_[r].cells - 1]));
    records.run_end_wall_c.push_back(static_cast<float>(wall_[model_[r].first + model_[r].cells - 1]));
  }
  for (const Tap& tap : scene_.taps)
    records.tap_c.push_back(static_cast<float>(water(tap.run)[model_[at(tap.run)].cells - 1]));
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    double power_w = 0;
    for (std::size_t r = 0; r < model_.size(); ++r) {
      const RunModel& m = model_[r];
      if (m.group != static_cast<int>(g)) continue;
      for (std::size_t c = 0; c < m.cells; ++c)
        power_w += groups_[g].duty * m.share * live(static_cast<int>(r), c) *
                   m.cable->at(wall_[m.first + c]) * m.cell_m;
    }
    records.group_w.push_back(static_cast<float>(power_w));
  }
}

/// Heat in water, walls and insulation above 0 degC.
double Engine::stored_j() const {
  double sum = 0;
  for (std::size_t r = 0; r < model_.size(); ++r) {
    const RunModel& m = model_[r];
    const RunState& state = state_[r];
    const double* w = &water_[2 * m.first + state.head];
    double run_j = 0;
    for (std::size_t c = 0; c < m.cells; ++c) {
      const std::size_t k = m.first + c;
      run_j += m.water_j * w[c] + m.wall_j * wall_[k] + m.inner_j * inner_[k] + m.outer_j * outer_[k];
      run_j += state.pending_source_s * source_[k];
    }
    run_j += m.water_j * state.filled * (state.inlet_c - w[m.cells - 1]);
    sum += run_j * m.cell_m;
  }
  return sum;
}

Result Engine::finish(double now_s) {
  sync(now_s);
  for (std::size_t t = 0; t < taps_.size(); ++t) book_heat(static_cast<int>(t));
  Balance& balance = result_.balance;
  for (std::size_t r = 0; r < model_.size(); ++r) {
    RunResult& run = result_.runs[r];
    balance.cable_j += run.cable_j;
    balance.loss_j += run.loss_j;
    if (state_[r].flow_m3_per_s <= 0)
      run.longest_standing_s = std::max(run.longest_standing_s, now_s - state_[r].standing_since_s);
    for (double& seconds : run.time_at.seconds) seconds /= static_cast<double>(model_[r].cells);
  }
  balance.stored_change_j = stored_j() - stored_at_begin_j_;
  balance.residual_j =
      balance.supply_j + balance.cable_j - balance.drawn_j - balance.loss_j - balance.stored_change_j;
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    result_.groups[g].cycles = groups_[g].controller.switchings() - groups_[g].cycles_before;
    result_.groups[g].on_frac = now_s > options_.begin_s ? groups_[g].on_s / (now_s - options_.begin_s) : 0;
  }
  result_.begin_s = options_.begin_s;
  result_.end_s = now_s;
  return std::move(result_);
}

}  // namespace firstdraw::draw
