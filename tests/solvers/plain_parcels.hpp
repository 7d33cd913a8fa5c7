// The usual parcel method, written plainly: a queue of parcels in each run, walls in cells, a step a second.
#pragma once

#include <deque>

#include "solvers/plain_loop.hpp"

namespace firstdraw::solvers {

class PlainParcels : public Method {
 public:
  PlainParcels(const draw::Scene& scene, const PlainOptions& options);
  void set(std::span<const double> flow_m3_per_s, std::span<const double> share) override;
  void advance(double from_s, double to_s) override;
  double wall_c(int run, double at_frac) const override;
  double outlet_c(int run) const override;

 private:
  struct Parcel {
    double length_m = 0, water_c = 0;
  };
  void flow(double duration_s);
  /// Mean temperature of what is pushed out.
  static double push(const RunConstants& run, std::deque<Parcel>& parcels, double in_c, double length_m);
  void exchange(const RunConstants& run, std::deque<Parcel>& parcels, double film_w_per_m_k,
                double duration_s);

  Grid grid_;
  PlainOptions options_;
  Field field_;  // its water is not used
  std::vector<std::deque<Parcel>> parcels_;
  std::vector<double> flow_m3_per_s_, share_, out_c_;
  std::vector<double> into_wall_j_;
};

}  // namespace firstdraw::solvers
