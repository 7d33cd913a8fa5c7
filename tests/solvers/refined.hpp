// The reference: fine cells, water shifted exactly, small steps, every cell at every step, nothing
// linearised. Slow, and it converges: halve the cells and the steps go with them.
//
// In a run of n cells the water is n + 1 parcels: whole ones of a cell's length and, at the ends, one that
// has not come in entirely and one that is leaving. `ahead`, 0...1, is how far the train has come into the
// cell in front of it, so parcel i covers the share `ahead` of cell i and parcel i + 1 the rest. Within a run
// nothing mixes; at a run's inlet a step's inflow mixes into the parcel that is coming in. Each step is half
// a shift, exchange of heat by Heun's method, half a shift. Water at the far end is read straight through the
// middles of the last two parcels.
//
// When a run comes to a stand its wall and insulation are cut anew, one piece to a parcel: two parcels that
// share a cell would pass heat to each other through it, and for an hour of standing that adds up.
#pragma once

#include "solvers/grid.hpp"
#include "solvers/method.hpp"

namespace firstdraw::solvers {

struct RefinedOptions {
  double cell_m = 0.1;
  double longest_step_s = 0.25;  // shorter where water would cross more than a cell
  bool held = false;             // see solvers::start
};

class Refined : public Method {
 public:
  Refined(const draw::Scene& scene, const RefinedOptions& options);
  void set(std::span<const double> flow_m3_per_s, std::span<const double> share) override;
  void advance(double from_s, double to_s) override;
  double wall_c(int run, double at_frac) const override;
  double outlet_c(int run) const override;

 private:
  struct Column {
    std::vector<double> water_c;                   // cells + 1
    std::vector<double> wall_c, inner_c, outer_c;  // cells; while standing one to a parcel
    std::vector<double> source_w_per_m;
    bool stands = true;
    double ahead = 0, flow_m3_per_s = 0, share = 0;
    double out_c = 0;  // mean of what left in the last shift
  };
  struct Rates {
    std::vector<double> water, wall, inner, outer;
  };
  static void stand(Column& column);
  static void move(Column& column);
  double step_s() const;
  void shift(double duration_s);
  void push(const RunConstants& run, Column& column, double in_c, double duration_s) const;
  void exchange(const RunConstants& run, Column& column, double duration_s);
  static void rates(const RunConstants& run, const Column& column, Rates& out);
  static void moving_water(const RunConstants& run, const Column& column, double film_w_per_m_k, Rates& out);

  Grid grid_;
  RefinedOptions options_;
  std::vector<Column> columns_;
  Rates first_, second_;
  Column tried_;
};

}  // namespace firstdraw::solvers
