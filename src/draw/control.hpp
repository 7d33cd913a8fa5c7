// What a controller does with one control group's cable. Logic only: it sees the time of the week and a
// reading and says what share of the cable's output is on until it is asked again.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace firstdraw::draw {

inline constexpr double minute_s = 60, hour_s = 3600, day_s = 86400, week_s = 7 * day_s;

/// Time 0 of a simulation is Monday 00:00 on the controller's clock.
constexpr int weekday_of(double time_s) {  // 0 Monday ... 6 Sunday
  const double days = time_s / day_s;
  const auto whole = static_cast<long>(days) - (days < static_cast<double>(static_cast<long>(days)) ? 1 : 0);
  return static_cast<int>(((whole % 7) + 7) % 7);
}

/// A stretch of the week with its own set-point. Where periods overlap the later in the list wins. A period
/// that ends at or before it begins runs past midnight; its weekdays are those on which it begins.
struct Period {
  std::uint8_t weekdays = 0x7f;   // bit 0 Monday ... bit 6 Sunday
  double begin_s = 0, end_s = 0;  // of the day
  std::optional<double> hold_c;   // empty: off
  bool operator==(const Period&) const = default;
};

enum class ControlMode {
  thermostat,  // on below the set-point minus half the differential, off above it plus half
  pulsed,      // a share of every cycle, so that the reading comes to the set-point (proportional band)
  open_loop,   // a share of every cycle from the entered ambient; no sensor is looked at
};
enum class SensorLost { off, on, open_loop };

/// Everything a controller is set to.
struct ControlSettings {
  ControlMode mode = ControlMode::thermostat;
  double hold_c = 0;  // where no period says otherwise
  std::vector<Period> periods;
  double differential_k = 2;  // thermostat: between on and off
  double band_k = 4;          // pulsed: share 1 at set-point minus half of it, 0 at plus half
  double cycle_s = 600;       // pulsed and open loop: one on and off
  /// Open loop: share of output that holds `hold_c` at the entered ambient, at each set-point in use. Filled
  /// by whoever knows the building; straight between points.
  std::vector<double> open_loop_at_c, open_loop_duty;
  double cutout_c = std::numeric_limits<double>::infinity();  // reading at which all is switched off
  double cutout_release_k = 5;                                // and how far below it comes back
  /// A switch is refused until these have passed; the cut-out alone does not wait for `min_on_s`. Pulsed and
  /// open loop: pulses and pauses last at least so long, and the cycle at least both together.
  double min_on_s = 0, min_off_s = 0;
  SensorLost when_lost = SensorLost::off;
  double clock_error_s = 0;  // controller's clock minus true time
};

/// Set-point in force at a true time, by the controller's own clock; empty: off.
std::optional<double> set_point_c(const ControlSettings& settings, double time_s);

class Controller {
 public:
  explicit Controller(ControlSettings settings);
  /// Share of output, 0...1, from `time_s` until the next call, which must not be later than `next_s`.
  /// `reading_c` NaN: the sensor is lost. Pulsed shares are spread over their cycle: the answer is the share
  /// of the coming stretch [time_s, next_s] that falls into on-time.
  double decide(double time_s, double next_s, double reading_c);
  int switchings() const { return switchings_; }  // off to on
  double seconds_on() const { return seconds_on_; }

 private:
  double share(double time_s, double next_s, double reading_c);
  double rest(double time_s);
  double hold(double time_s, bool wanted);
  double pulses(double time_s, double next_s, std::optional<double> hold_c, double reading_c);
  double cycle_share(std::optional<double> hold_c, double reading_c) const;
  void begin_cycle(double time_s, double share_frac);
  bool may_turn(double time_s) const;
  void turn(double time_s, bool on);

  ControlSettings settings_;
  bool on_ = false, cut_out_ = false;
  double since_s_ = -std::numeric_limits<double>::infinity();
  double cycle_begin_s_ = std::numeric_limits<double>::quiet_NaN(), cycle_share_ = 0;
  int switchings_ = 0;
  double seconds_on_ = 0;
  // What was last answered and counted for; a call that comes early takes the rest back.
  double answer_frac_ = 0, counted_to_s_ = -std::numeric_limits<double>::infinity();
};

}  // namespace firstdraw::draw
