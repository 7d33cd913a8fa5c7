#include "prove/warm_curve.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::prove {

double warm_pipe_c(const physics::HeatingCable& cable, const WarmCase& from, double time_s) {
  constexpr double longest_step_s = 60;
  const auto rise_k_per_s = [&](double pipe_c) {
    const double heat =
        from.pipe.passes * from.derating_frac * from.output_frac * cable.power_w_per_m(pipe_c, from.volts);
    const double lost = from.loss_frac * from.pipe.loss_w_per_m_k * (pipe_c - from.pipe.air_c);
    return (heat - lost) / from.pipe.heat_j_per_m_k;
  };
  const int steps = static_cast<int>(std::ceil(std::min(time_s, 14 * 86400.0) / longest_step_s));
  const double step_s = steps > 0 ? std::min(time_s, 14 * 86400.0) / steps : 0;
  double pipe_c = from.start_c;
  for (int step = 0; step < steps; ++step) {
    const double a = rise_k_per_s(pipe_c), b = rise_k_per_s(pipe_c + step_s / 2 * a),
                 c = rise_k_per_s(pipe_c + step_s / 2 * b), d = rise_k_per_s(pipe_c + step_s * c);
    pipe_c += step_s / 6 * (a + 2 * b + 2 * c + d);
  }
  return pipe_c;
}

}  // namespace firstdraw::prove
