#include "plan/code_minimum.hpp"

#include <cmath>

namespace firstdraw::plan {

std::optional<rules::MinimumThickness> code_minimum(std::string_view code, const job::Run& run,
                                                    const physics::Insulation& insulation, double water_c) {
  const double mean_c = rules::rating_mean_c(code, water_c);
  if (std::isnan(mean_c)) return std::nullopt;
  return rules::minimum_thickness(code, run.pipe.outer_diameter_m, run.pipe.inner_diameter_m(), run.pipe.size,
                                  water_c, insulation.conductivity_at(mean_c));
}

}  // namespace firstdraw::plan
