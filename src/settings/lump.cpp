#include "settings/lump.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::settings {
namespace {

constexpr double first_c = GroupModel::first_c, step_k = GroupModel::step_k;
constexpr int pieces = GroupModel::points - 1;
/// Below it a run rests: rounding at the edge of two pieces must not send it to and fro.
constexpr double at_rest_k_per_s = 1e-12;

int piece_at(double c) { return static_cast<int>(std::clamp((c - first_c) / step_k, 0.0, pieces - 1.0)); }

/// (exp(z) - 1) / z.
double growth(double z) {
  constexpr double small = 0.05;
  if (std::abs(z) > small) return std::expm1(z) / z;
  return 1 + z / 2 * (1 + z / 3 * (1 + z / 4 * (1 + z / 5 * (1 + z / 6))));
}

/// (exp(z) - 1 - z) / z^2.
double second_growth(double z) {
  constexpr double small = 0.05;
  if (std::abs(z) > small) return (std::expm1(z) - z) / (z * z);
  return 0.5 * (1 + z / 3 * (1 + z / 4 * (1 + z / 5 * (1 + z / 6))));
}

/// Time in which x' = rate + slope x grows from 0 to `by`; infinity if it never does.
double time_to(double by, double rate, double slope) {
  const double ratio = slope * by / rate;
  if (!(ratio > -1)) return std::numeric_limits<double>::infinity();
  constexpr double small = 1e-8;
  return std::abs(ratio) < small ? by / rate * (1 - ratio / 2) : std::log1p(ratio) / slope;
}

/// The end of the piece that lies ahead, or the target before it; beyond the grid there is no end.
double ahead_of(double now_c, int index, bool rises, double target_c) {
  constexpr double endless = std::numeric_limits<double>::infinity();
  double end_c = first_c + step_k * (rises ? index + 1 : index);
  if (rises && index == pieces - 1) end_c = endless;
  if (!rises && index == 0) end_c = -endless;
  if (rises && target_c >= now_c) return std::min(end_c, target_c);
  if (!rises && target_c <= now_c) return std::max(end_c, target_c);
  return end_c;
}

}  // namespace

Lump::Lump(const ModelRun& run, double loss_factor)
    : loss_w_(run.loss_w.data()),
      output_w_(run.output_w.data()),
      per_capacity_(1 / run.capacity_j_per_k),
      factor_(loss_factor) {}

Lump::Piece Lump::piece(int index, double duty) const {
  const double rate = (duty * output_w_[index] - factor_ * loss_w_[index]) * per_capacity_;
  const double next = (duty * output_w_[index + 1] - factor_ * loss_w_[index + 1]) * per_capacity_;
  return {first_c + step_k * index, rate, (next - rate) / step_k, output_w_[index],
          (output_w_[index + 1] - output_w_[index]) / step_k};
}

Lump::Course Lump::advance(double from_c, double duty, double lasts_s, double target_c) const {
  Course course{from_c, 0, 0, 0};
  int index = piece_at(from_c);
  while (course.took_s < lasts_s && course.end_c != target_c) {
    const Piece p = piece(index, duty);
    const double x = course.end_c - p.start_c, rate = p.rate_k_per_s + p.rate_per_s * x;
    const double left_s = lasts_s - course.took_s;
    const bool moves = std::abs(rate) > at_rest_k_per_s;
    double takes_s = left_s, rise_k = rate * left_s * growth(p.rate_per_s * left_s);
    const double end_c = ahead_of(course.end_c, index, rate > 0, target_c);
    const double reach_k = end_c - course.end_c;
    const bool reaches = moves && (rate > 0 ? rise_k >= reach_k : rise_k <= reach_k);
    if (reaches) {
      rise_k = reach_k;
      takes_s = std::min(left_s, time_to(reach_k, rate, p.rate_per_s));
      index += rate > 0 ? 1 : -1;
    }
    const double z = p.rate_per_s * takes_s;
    course.output_j += takes_s * (p.output_w + p.output_w_per_k * x) +
                       p.output_w_per_k * rate * takes_s * takes_s * second_growth(z);
    course.log_sensitivity += z;
    course.end_c = reaches ? end_c : course.end_c + rise_k;
    course.took_s = reaches ? course.took_s + takes_s : lasts_s;
  }
  return course;
}

double on_grid(const std::vector<double>& values, double water_c) {
  const auto i = static_cast<std::size_t>(piece_at(water_c));
  const double share = (water_c - first_c) / step_k - static_cast<double>(i);
  return values[i] + share * (values[i + 1] - values[i]);
}

double balance_c(const std::vector<double>& loss_w, const std::vector<double>& output_w, double loss_factor,
                 double duty) {
  const auto short_w = [&](int i) {
    const auto at = static_cast<std::size_t>(i);
    return loss_factor * loss_w[at] - duty * output_w[at];
  };
  int low = 0, high = pieces;
  while (high - low > 1) {
    const int middle = (low + high) / 2;
    (short_w(middle) >= 0 ? high : low) = middle;
  }
  const double from = short_w(low), to = short_w(high);
  if (!(to > from)) return first_c + step_k * (from >= 0 ? low : high);
  return first_c + step_k * (low - from / (to - from));
}

}  // namespace firstdraw::settings
