#include <algorithm>
#include <cmath>

#include "draw/engine.hpp"

namespace firstdraw::draw {
namespace {

constexpr double litres_per_m3 = 1000;

}  // namespace

void Engine::open(int index) {
  const Draw& draw = draws_[at(index)];
  TapState& tap = taps_[at(draw.tap)];
  if (tap.draw != none) close(draw.tap, draw.open_s);
  change_flow(draw.tap, draw.open_s, draw.flow_m3_per_s, 1);
  tap = TapState{};
  tap.draw = index;
  tap.left_before_c = beyond_end_c(scene_.taps[at(draw.tap)].run);
  tap.open_s = draw.open_s;
  tap.flow_m3_per_s = draw.flow_m3_per_s;
  tap.record = {.tap = draw.tap, .open_s = draw.open_s};
  closings_.push({draw.open_s + draw.duration_s, draw.tap, index});
}

/// The block that would lie beyond the last one, if the row went on straight.
double Engine::beyond_end_c(int run) {
  const double* last = water(run) + model_[at(run)].cells - 1;
  return model_[at(run)].cells > 1 ? 2 * *last - last[-1] : *last;
}

/// Brings the way from the supply to the tap up to now and changes what flows along it.
void Engine::change_flow(int tap, double now_s, double by_m3_per_s, int by_taps) {
  const std::span<const int> path(&path_[at(path_first_[at(tap)])],
                                  at(path_first_[at(tap) + 1] - path_first_[at(tap)]));
  for (const int run : path) {
    if (state_[at(run)].flow_m3_per_s > 0)
      advance(run, now_s);
    else
      stand(run, now_s);
  }
  for (const int run : path) {
    RunState& state = state_[at(run)];
    state.open_taps += by_taps;
    state.tap_flow_m3_per_s = state.open_taps == 0 ? 0 : state.tap_flow_m3_per_s + by_m3_per_s;
    set_flow(run, now_s);
  }
}

/// Until the tap has run hot and all marks are passed, each block that leaves is looked at.
void Engine::watch(int index, double begin_s, double end_s) {
  TapState& tap = taps_[at(index)];
  pass_marks(index, begin_s, end_s);
  if (!tap.hot && tap.last_c >= scene_.taps[at(index)].hot_c) {
    tap.hot = true;
    tap.record.hot_after_s = begin_s - tap.open_s;
  }
  tap.settled = tap.hot && tap.next_mark == since_open_s.size();
}

/// Books the heat that has left through an open tap so far.
void Engine::book_heat(int index) {
  TapState& tap = taps_[at(index)];
  const double volume_heat = scene_.water_j_per_m3_k * tap.flow_m3_per_s;
  result_.balance.drawn_j += volume_heat * tap.left_k_s;
  result_.taps[at(index)].heat_j += volume_heat * (tap.left_k_s - cold_c_ * tap.left_s);
  tap.left_k_s = tap.left_s = 0;
}

/// Temperature at the tap while the run's last block leaves, straight from the middle of one block to the
/// middle of the next.
double Engine::leaving_c(int index, double filled) const {
  const TapState& tap = taps_[at(index)];
  const int run = scene_.taps[at(index)].run;
  const RunModel& m = model_[at(run)];
  const double* last = &water_[2 * m.first + state_[at(run)].head + m.cells - 1];
  if (filled < 0.5) return *last + (0.5 - filled) * (tap.left_before_c - *last);
  return m.cells > 1 ? *last + (filled - 0.5) * (last[-1] - *last) : *last;
}

void Engine::pass_marks(int index, double begin_s, double end_s) {
  TapState& tap = taps_[at(index)];
  const RunState& state = state_[at(scene_.taps[at(index)].run)];
  while (tap.next_mark < since_open_s.size() && tap.open_s + since_open_s[tap.next_mark] <= end_s) {
    const std::size_t mark = tap.next_mark++;
    const double until_end_s = end_s - std::max(begin_s, tap.open_s + since_open_s[mark]);
    const double filled =
        state.filled - until_end_s * tap.flow_m3_per_s / model_[at(scene_.taps[at(index)].run)].block_m3;
    const double temp_c = leaving_c(index, filled);
    if (reporting_) result_.taps[at(index)].since_open[mark].add(temp_c);
    if (mark == 0) tap.record.opening_c = temp_c;
    if (mark == at_10_s) tap.record.after_10_s_c = temp_c;
    if (mark == at_30_s) tap.record.after_30_s_c = temp_c;
  }
}

void Engine::close(int index, double now_s) {
  TapState& tap = taps_[at(index)];
  change_flow(index, now_s, -tap.flow_m3_per_s, -1);
  book_heat(index);
  tap.draw = none;
  if (!reporting_) return;
  TapResult& result = result_.taps[at(index)];
  DrawRecord& record = tap.record;
  record.duration_s = now_s - tap.open_s;
  record.litres = litres_per_m3 * tap.flow_m3_per_s * record.duration_s;
  record.end_c = leaving_c(index, state_[at(scene_.taps[at(index)].run)].filled);
  record.age_s = now_s - tap.last_born_s;
  record.litres_wasted = litres_per_m3 * tap.flow_m3_per_s * std::min(record.hot_after_s, record.duration_s);
  ++result.draws;
  result.at_end.add(record.end_c);
  result.hottest_c = std::max(result.hottest_c, record.end_c);
  result.litres += record.litres;
  result.litres_wasted += record.litres_wasted;
  result.oldest_water_s = std::max(result.oldest_water_s, record.age_s);
  const double hot_s = record.hot_after_s;
  result.hot_at_once += hot_s <= 1;  // within the first second
  result.open_10_s += record.duration_s >= 10;
  result.open_30_s += record.duration_s >= 30;
  result.hot_in_10_s += record.duration_s >= 10 && hot_s <= 10;
  result.hot_in_30_s += record.duration_s >= 30 && hot_s <= 30;
  result.never_hot += std::isinf(hot_s);
  if (!std::isinf(hot_s)) {
    const auto second = static_cast<std::size_t>(hot_s);
    ++result.hot_after_s[std::min(second, result.hot_after_s.size() - 1)];
  }
  if (options_.keep_draws) result_.draws.push_back(record);
}

}  // namespace firstdraw::draw
