// From the plan's 5 % and 95 % of sampled buildings to other shares.
#pragma once

namespace firstdraw::settings {

/// Standard normal quantile of a share between 0 and 1, to 1e-12.
double normal_quantile(double share_frac);

}  // namespace firstdraw::settings
