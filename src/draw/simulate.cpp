#include "draw/simulate.hpp"

#include <algorithm>
#include <stdexcept>

#include "draw/engine.hpp"

namespace firstdraw::draw {
namespace {

void check_draws(const Scene& scene, std::span<const Draw> draws) {
  for (std::size_t i = 0; i < draws.size(); ++i) {
    const Draw& draw = draws[i];
    if (draw.tap < 0 || at(draw.tap) >= scene.taps.size()) throw std::logic_error("draw at an unknown tap");
    if (!(draw.duration_s > 0) || !(draw.flow_m3_per_s > 0)) throw std::logic_error("draw without water");
    if (i > 0 && draw.open_s < draws[i - 1].open_s) throw std::logic_error("draws out of order");
  }
}

void check_options(const Options& options) {
  if (!(options.tick_s > 0) || !(options.longest_step_s > 0) || options.run_in_s < 0 ||
      !(options.end_s > options.begin_s))
    throw std::logic_error("simulation without a time to simulate");
}

}  // namespace

/// Closings, openings and ticks in the order of time; at the same time closings first, ticks last.
Result Engine::run() {
  const double begin_s = now_s_;
  std::size_t next_draw = 0;
  while (next_draw < draws_.size() && draws_[next_draw].open_s < begin_s) ++next_draw;
  double next_record_s = options_.begin_s, next_hour_s = begin_s + hour_s;
  for (long ticks = 0;; ++ticks) {
    const double tick_at_s = std::min(begin_s + static_cast<double>(ticks) * options_.tick_s, options_.end_s);
    for (;;) {
      const double closing_s = closings_.empty() ? tick_at_s + 1 : closings_.top().at_s;
      const double opening_s = next_draw < draws_.size() ? draws_[next_draw].open_s : tick_at_s + 1;
      if (std::min(closing_s, opening_s) > tick_at_s) break;
      if (closing_s <= opening_s) {
        const Closing closing = closings_.top();
        closings_.pop();
        if (taps_[at(closing.tap)].draw == closing.draw) close(closing.tap, closing.at_s);
      } else {
        open(static_cast<int>(next_draw++));
      }
    }
    heat_tank(now_s_, tick_at_s);
    now_s_ = tick_at_s;
    tick(tick_at_s, std::min(tick_at_s + options_.tick_s, options_.end_s));
    if (!reporting_ && tick_at_s >= options_.begin_s) begin_report(tick_at_s);
    if (reporting_) {
      const double supply_c = scene_.supply.tank_m3 > 0 ? tank_c_ : scene_.supply.stored_c.at(tick_at_s);
      result_.lowest_supply_c = std::min(result_.lowest_supply_c, supply_c);
    }
    if (options_.record_every_s > 0 && tick_at_s >= next_record_s) {
      record(tick_at_s);
      next_record_s += options_.record_every_s;
    }
    if (tick_at_s >= next_hour_s) {
      next_hour_s += hour_s;
      if (reporting_) sample_ages(tick_at_s);
      if (reporting_ && options_.record_every_s > 0 && options_.look) options_.look(result_.records);
      const double done_frac = (tick_at_s - begin_s) / (options_.end_s - begin_s);
      if (options_.progress && tick_at_s < options_.end_s && !options_.progress(done_frac)) {
        result_.stopped = true;
        if (!reporting_) begin_report(tick_at_s);
        return finish(tick_at_s);
      }
    }
    if (tick_at_s >= options_.end_s) return finish(tick_at_s);
  }
}

Result simulate(const Scene& scene, std::span<const Draw> draws, const Options& options) {
  check_options(options);
  check_draws(scene, draws);
  return Engine(scene, draws, options).run();
}

}  // namespace firstdraw::draw
