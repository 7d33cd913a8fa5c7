// What other ways of keeping the water hot would come to, and whether the flow at the supply fits what
// fixture units ask for.
#pragma once

#include <span>

#include "forecast/answers.hpp"

namespace firstdraw::forecast {

/// A pumped return line beside every heated run: both pipes lose heat, a pump moves the water.
struct ReturnLine {
  double pipe_m = 0;         // of return pipe
  double supply_loss_w = 0;  // of the runs that would be heated by cable, at the supply's temperature
  double return_loss_w = 0;
  double flow_m3_per_s = 0;  // so that the water cools by no more than the table's drop
  double pump_w = 0;
};
/// The supply side loses what this job's pipes lose; the return side what data/return_line.csv says for pipe
/// of its direction. `water_j_per_m3_k` as in the scene.
ReturnLine return_line(const job::Job& job, const plan::Plan& plan, double water_j_per_m3_k);

/// "traced" and, where it was simulated, "untraced" on the same draws; "return" from the traced one's heat
/// and return_line(). `untraced` may be null.
std::vector<Alternative> alternatives(const job::Job& job, const ReturnLine& line, const Tally& traced,
                                      const Tally* untraced);
/// What the comparison takes for granted.
std::vector<job::Assumption> comparison_assumptions(const job::Job& job, const ReturnLine& line);
std::vector<rules::Citation> comparison_sources();

PeakCheck peak_check(const job::Job& job, const draw::Scene& scene, std::span<const draw::Draw> draws);

}  // namespace firstdraw::forecast
