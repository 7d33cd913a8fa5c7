// Leads a method through a scene's draws and keeps what each draw gave.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "draw/demand.hpp"
#include "draw/scene.hpp"
#include "solvers/method.hpp"

namespace firstdraw::solvers {

/// Water at the tap; NaN where the draw closed before, or outlasts the span.
struct TapTemps {
  double opening_c = std::numeric_limits<double>::quiet_NaN();
  double after_10_s_c = std::numeric_limits<double>::quiet_NaN();
  double end_c = std::numeric_limits<double>::quiet_NaN();
};

struct Span {
  double begin_s = 0, end_s = 0;
  double tick_s = 20;  // controllers look this often
};

/// Leads `method` from begin to end; draws that open before or at the end count. One answer per draw.
std::vector<TapTemps> drive(const draw::Scene& scene, std::span<const draw::Draw> draws, const Span& span,
                            Method& method);

/// Root of the mean square of the differences, and how many of them; pairs with a NaN in either do not count.
struct Rms {
  double opening_k = 0, after_10_s_k = 0, end_k = 0;
  double p90_k = 0, largest_k = 0;  // of all three together
  int draws = 0;
};
Rms rms(std::span<const TapTemps> one, std::span<const TapTemps> other);

}  // namespace firstdraw::solvers
