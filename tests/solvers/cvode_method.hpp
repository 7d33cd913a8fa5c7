// The semi-discrete equations (upwind cells, all else exact in time) by CVODE of SUNDIALS: variable-order,
// variable-step backward differentiation, restarted whenever flows or shares change. Newton's linear systems
// by KLU of SuiteSparse, or by one sweep down the tree.
#pragma once

#include <memory>

#include "solvers/grid.hpp"
#include "solvers/method.hpp"

namespace firstdraw::solvers {

enum class Linear { klu, tree };
struct CvodeOptions {
  Linear linear = Linear::tree;
  double cell_m = 0;  // 0: as the scene cuts its runs
  double relative = 1e-6, absolute_k = 1e-4;
  bool held = false;  // see solvers::start
};

class CvodeMethod : public Method {
 public:
  CvodeMethod(const draw::Scene& scene, const CvodeOptions& options);
  ~CvodeMethod() override;
  void set(std::span<const double> flow_m3_per_s, std::span<const double> share) override;
  void advance(double from_s, double to_s) override;
  double wall_c(int run, double at_frac) const override;
  double outlet_c(int run) const override;
  long steps() const;

 private:
  struct Integrator;
  std::unique_ptr<Integrator> integrator_;
};

}  // namespace firstdraw::solvers
