#include <cmath>
#include <stdexcept>
#include <utility>

#include "power/ladder.hpp"

namespace firstdraw::power {

OutputLaw power_law(double w_per_m, double at_volts, double exponent) {
  return [=](double volts) {
    const double watts = w_per_m * std::pow(volts / at_volts, exponent);
    return Output{watts, exponent * watts / volts};
  };
}

OutputLaw takes_nothing() {
  return [](double) { return Output{}; };
}

OutputLaw sheet_law(const physics::HeatingCable& cable, double pipe_c, double output_scale) {
  const double rated_v = cable.sheet().rated_voltage_v;
  const double rated_w_per_m =
      output_scale * cable.power_w_per_m(pipe_c, rated_v) / cable.voltage_factor(rated_v);
  return [&cable, rated_w_per_m](double volts) {
    constexpr double apart_v = 1e-3;
    const double rise = cable.voltage_factor(volts + apart_v) - cable.voltage_factor(volts - apart_v);
    return Output{rated_w_per_m * cable.voltage_factor(volts), rated_w_per_m * rise / (2 * apart_v)};
  };
}

std::vector<double> sheet_bends_v(const physics::HeatingCable& cable) {
  std::vector<double> bends_v;
  for (const physics::VoltagePoint& point : cable.sheet().voltage) bends_v.push_back(point.voltage_v);
  return bends_v;
}

OutputLaw model_law(const physics::CableModel& model, double pipe_c) {
  return [=](double volts) {
    const double watts = model.power_w_per_m(pipe_c, volts);
    return Output{watts, model.voltage_exponent(pipe_c, volts) * watts / volts};
  };
}

double FloatingPipe::pipe_c(double volts) const {
  const double a = w_per_m / (zero_c - reference_c) * std::pow(volts / at_volts, exponent);
  return (a * zero_c + loss_w_per_m_k * air_c) / (a + loss_w_per_m_k);
}

Output FloatingPipe::output(double volts) const {
  const double a = w_per_m / (zero_c - reference_c) * std::pow(volts / at_volts, exponent);
  const double watts = a * loss_w_per_m_k * (zero_c - air_c) / (a + loss_w_per_m_k);
  return {watts, exponent * loss_w_per_m_k / (a + loss_w_per_m_k) * watts / volts};
}

OutputLaw floating_law(const FloatingPipe& pipe) {
  return [pipe](double volts) { return pipe.output(volts); };
}

double settled_pipe_c(const OutputByPipe& w_per_m, double loss_w_per_m_k, double air_c, double volts) {
  if (!(loss_w_per_m_k > 0)) throw std::logic_error("a pipe that loses nothing does not settle");
  double cold_c = air_c;
  double warm_c = air_c + w_per_m(air_c, volts) / loss_w_per_m_k;
  for (double mid_c = 0.5 * (cold_c + warm_c); mid_c > cold_c && mid_c < warm_c;
       mid_c = 0.5 * (cold_c + warm_c))
    (w_per_m(mid_c, volts) > loss_w_per_m_k * (mid_c - air_c) ? cold_c : warm_c) = mid_c;
  return 0.5 * (cold_c + warm_c);
}

OutputLaw settled_law(OutputByPipe w_per_m, double loss_w_per_m_k, double air_c) {
  return [w_per_m = std::move(w_per_m), loss_w_per_m_k, air_c](double volts) {
    constexpr double apart_v = 1e-3;
    const auto watts = [&](double v) {
      return loss_w_per_m_k * (settled_pipe_c(w_per_m, loss_w_per_m_k, air_c, v) - air_c);
    };
    return Output{watts(volts), (watts(volts + apart_v) - watts(volts - apart_v)) / (2 * apart_v)};
  };
}

}  // namespace firstdraw::power
