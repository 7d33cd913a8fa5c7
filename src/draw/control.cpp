#include "draw/control.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace firstdraw::draw {

namespace {

bool begins_on(const Period& period, int weekday) { return (period.weekdays >> weekday & 1) != 0; }

bool in_force(const Period& period, int weekday, double of_day_s) {
  if (period.begin_s < period.end_s)
    return begins_on(period, weekday) && of_day_s >= period.begin_s && of_day_s < period.end_s;
  const int yesterday = (weekday + 6) % 7;
  return (begins_on(period, weekday) && of_day_s >= period.begin_s) ||
         (begins_on(period, yesterday) && of_day_s < period.end_s);
}

double open_loop_share(const ControlSettings& settings, double hold_c) {
  const auto& at_c = settings.open_loop_at_c;
  const auto& duty = settings.open_loop_duty;
  if (at_c.empty()) throw std::logic_error("controller: open loop without its duties");
  const auto next =
      static_cast<std::size_t>(std::upper_bound(at_c.begin(), at_c.end(), hold_c) - at_c.begin());
  if (next == 0) return duty.front();
  if (next == at_c.size()) return duty.back();
  return std::lerp(duty[next - 1], duty[next], (hold_c - at_c[next - 1]) / (at_c[next] - at_c[next - 1]));
}

}  // namespace

std::optional<double> set_point_c(const ControlSettings& settings, double time_s) {
  if (settings.periods.empty()) return settings.hold_c;
  const double clock_s = time_s + settings.clock_error_s;
  const int weekday = weekday_of(clock_s);
  const double of_day_s = clock_s - std::floor(clock_s / day_s) * day_s;
  for (auto period = settings.periods.rbegin(); period != settings.periods.rend(); ++period)
    if (in_force(*period, weekday, of_day_s)) return period->hold_c;
  return settings.hold_c;
}

Controller::Controller(ControlSettings settings) : settings_(std::move(settings)) {
  if (settings_.open_loop_at_c.size() != settings_.open_loop_duty.size())
    throw std::logic_error("controller: as many open-loop duties as set-points expected");
  settings_.cycle_s = std::max(settings_.cycle_s, settings_.min_on_s + settings_.min_off_s);
  if (settings_.mode != ControlMode::thermostat && !(settings_.cycle_s > 0))
    throw std::logic_error("controller: the cycle must last longer than nothing");
}

double Controller::decide(double time_s, double next_s, double reading_c) {
  if (counted_to_s_ > time_s) seconds_on_ -= answer_frac_ * (counted_to_s_ - time_s);
  if (reading_c >= settings_.cutout_c) cut_out_ = true;
  if (reading_c <= settings_.cutout_c - settings_.cutout_release_k) cut_out_ = false;
  answer_frac_ = share(time_s, next_s, reading_c);
  counted_to_s_ = next_s;
  seconds_on_ += answer_frac_ * (next_s - time_s);
  return answer_frac_;
}

double Controller::share(double time_s, double next_s, double reading_c) {
  const auto hold_c = set_point_c(settings_, time_s);
  if (cut_out_) return rest(time_s);
  if (settings_.mode == ControlMode::open_loop) return pulses(time_s, next_s, hold_c, reading_c);
  if (std::isnan(reading_c)) {
    if (settings_.when_lost == SensorLost::open_loop) return pulses(time_s, next_s, hold_c, reading_c);
    return hold(time_s, hold_c && settings_.when_lost == SensorLost::on);
  }
  if (settings_.mode == ControlMode::pulsed) return pulses(time_s, next_s, hold_c, reading_c);
  if (!hold_c) return hold(time_s, false);
  if (reading_c < *hold_c - settings_.differential_k / 2) return hold(time_s, true);
  if (reading_c > *hold_c + settings_.differential_k / 2) return hold(time_s, false);
  return hold(time_s, on_);
}

// Everything off at once; the next cycle begins afresh.
double Controller::rest(double time_s) {
  turn(time_s, false);
  cycle_begin_s_ = std::numeric_limits<double>::quiet_NaN();
  return 0;
}

// One state for the whole stretch, as far as the minimum times let it change.
double Controller::hold(double time_s, bool wanted) {
  cycle_begin_s_ = std::numeric_limits<double>::quiet_NaN();
  if (may_turn(time_s)) turn(time_s, wanted);
  return on_ ? 1 : 0;
}

bool Controller::may_turn(double time_s) const {
  return time_s - since_s_ >= (on_ ? settings_.min_on_s : settings_.min_off_s);
}

void Controller::turn(double time_s, bool on) {
  if (on == on_) return;
  on_ = on;
  since_s_ = time_s;
  if (on) ++switchings_;
}

double Controller::cycle_share(std::optional<double> hold_c, double reading_c) const {
  if (!hold_c) return 0;
  if (settings_.mode == ControlMode::open_loop || std::isnan(reading_c))
    return open_loop_share(settings_, *hold_c);
  if (!(settings_.band_k > 0)) return reading_c < *hold_c ? 1 : 0;
  return 0.5 + (*hold_c - reading_c) / settings_.band_k;
}

void Controller::begin_cycle(double time_s, double share_frac) {
  cycle_begin_s_ = time_s;
  double on_s = std::clamp(share_frac, 0.0, 1.0) * settings_.cycle_s;
  if (on_s > 0 && on_s < settings_.cycle_s)
    on_s = std::clamp(on_s, settings_.min_on_s, settings_.cycle_s - settings_.min_off_s);
  cycle_share_ = on_s / settings_.cycle_s;
}

// On-time opens each cycle, off-time ends it. Cycles that begin within the stretch know no newer reading
// than its own.
double Controller::pulses(double time_s, double next_s, std::optional<double> hold_c, double reading_c) {
  if (!hold_c && may_turn(time_s)) return rest(time_s);
  if (std::isnan(cycle_begin_s_)) {
    if (!may_turn(time_s)) return on_ ? 1 : 0;
    begin_cycle(time_s, cycle_share(hold_c, reading_c));
  }
  double on_s = 0;
  for (double from_s = time_s;;) {
    while (from_s >= cycle_begin_s_ + settings_.cycle_s)
      begin_cycle(cycle_begin_s_ + settings_.cycle_s, cycle_share(hold_c, reading_c));
    const double cycle_end_s = cycle_begin_s_ + settings_.cycle_s;
    const double off_at_s = cycle_begin_s_ + cycle_share_ * settings_.cycle_s;
    const double to_s = std::min(next_s, cycle_end_s);
    if (from_s < off_at_s) {
      turn(from_s, true);
      on_s += std::min(to_s, off_at_s) - from_s;
    }
    if (off_at_s < to_s) turn(std::max(from_s, off_at_s), false);
    if (to_s >= next_s) break;
    from_s = to_s;
  }
  return next_s > time_s ? on_s / (next_s - time_s) : (on_ ? 1 : 0);
}

}  // namespace firstdraw::draw
