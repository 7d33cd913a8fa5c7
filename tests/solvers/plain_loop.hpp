// What one would write first: cells of fixed place, one loop over all of them every second.
#pragma once

#include "solvers/grid.hpp"
#include "solvers/method.hpp"

namespace firstdraw::solvers {

struct PlainOptions {
  double cell_m = 0;  // 0: as the scene cuts its runs
  double step_s = 1;
  bool held = false;  // see solvers::start
};

/// Upwind, explicit, in as many parts of a step as keep the Courant number of a run at 1 or below; then water
/// and wall of each cell even out exactly, then cable, losses and insulation explicitly.
class PlainLoop : public Method {
 public:
  PlainLoop(const draw::Scene& scene, const PlainOptions& options);
  void set(std::span<const double> flow_m3_per_s, std::span<const double> share) override;
  void advance(double from_s, double to_s) override;
  double wall_c(int run, double at_frac) const override;
  double outlet_c(int run) const override;

 private:
  void flow(double duration_s);
  double flow_through(const RunConstants& run, double in_c, double courant);
  void exchange(const RunConstants& run, double film_w_per_m_k, double share, double duration_s);

  Grid grid_;
  PlainOptions options_;
  Field field_;
  std::vector<double> flow_m3_per_s_, share_, out_c_;
};

/// Heat that two bodies in contact give each other in a time, J per kelvin of difference at its beginning.
double even_out_j_per_k(double one_j_per_k, double other_j_per_k, double conductance_w_per_k,
                        double duration_s);

/// Wall and insulation of one cell, one explicit step: cable and losses.
void step_solid(const RunConstants& run, int cell, double share, double duration_s, double& wall_c,
                double& inner_c, double& outer_c);

}  // namespace firstdraw::solvers
