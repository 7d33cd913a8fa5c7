// Lambert's function on its principal branch, in the form that cannot overflow.
#pragma once

namespace firstdraw::physics {

/// w > 0 with w e^w = e^log_x, for any finite log_x; relative error below 1e-14.
double lambert_w_of_exp(double log_x);

}  // namespace firstdraw::physics
