#include "power/ladder_mesh.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::power {

namespace {

using piping::at;

/// Slope of the polynomial that is 1 at point j and 0 at the others, at point i.
double slope(const Values& x, std::size_t i, std::size_t j) {
  const auto product = [&](std::size_t a, std::size_t skipped) {
    double value = 1;
    for (std::size_t m = 0; m < element_points; ++m)
      if (m != a && m != skipped) value *= x[a] - x[m];
    return value;
  };
  if (i != j) return product(i, j) / product(j, j);
  double sum = 0;
  for (std::size_t m = 0; m < element_points; ++m)
    if (m != i) sum += 1 / (x[i] - x[m]);
  return sum;
}

/// Adds the elements between two places of a stretch; returns the point at their far end.
std::size_t divide(Mesh& mesh, std::size_t s, const LadderStretch& stretch, double longest_m, double from_m,
                   double to_m, std::size_t near) {
  const double parts = std::max(1.0, std::ceil((to_m - from_m) / longest_m - 1e-9));
  const double length_m = (to_m - from_m) / parts;
  for (double part = 0; part < parts; ++part) {
    mesh.elements.push_back(
        {s, near, from_m + part * length_m, length_m, 2 / (stretch.loop_ohm_per_m * length_m)});
    near = element_last * mesh.elements.size();
  }
  return near;
}

}  // namespace

Values element_places() {
  const double inner = std::sqrt(3.0 / 7);
  return {-1, -inner, 0, inner, 1};
}

Square element_stiffness() {
  const Values x = element_places();
  Square k{};
  for (std::size_t a = 0; a < element_points; ++a)
    for (std::size_t b = 0; b < element_points; ++b)
      for (std::size_t q = 0; q < element_points; ++q)
        k[a][b] += element_weights[q] * slope(x, q, a) * slope(x, q, b);
  return k;
}

double polynomial_at(const Values& values, double place) {
  const Values x = element_places();
  double sum = 0;
  for (std::size_t a = 0; a < element_points; ++a) {
    double basis = 1;
    for (std::size_t m = 0; m < element_points; ++m)
      if (m != a) basis *= (place - x[m]) / (x[a] - x[m]);
    sum += values[a] * basis;
  }
  return sum;
}

double place_of(const Values& values, double value) {
  constexpr double width = 1e-15;
  double low = -1, high = 1;
  while (high - low > width) {
    const double mid = 0.5 * (low + high);
    (polynomial_at(values, mid) < value ? low : high) = mid;
  }
  return 0.5 * (low + high);
}

std::size_t Mesh::element_at(std::size_t stretch, double along_m) const {
  std::size_t e = first[stretch];
  while (e + 1 < first[stretch + 1] && elements[e + 1].from_m <= along_m) ++e;
  return e;
}

Mesh mesh_of(std::span<const LadderStretch> tree, double feed_v, double element_kl, const Cuts& cuts) {
  Mesh mesh;
  mesh.far_point.reserve(tree.size());
  for (std::size_t s = 0; s < tree.size(); ++s) {
    const LadderStretch& stretch = tree[s];
    mesh.first.push_back(mesh.elements.size());
    const double watts = std::abs(stretch.law(feed_v).w_per_m);
    const double longest_m = element_kl * feed_v / std::sqrt(stretch.loop_ohm_per_m * watts);
    std::size_t near = stretch.parent == piping::none ? 0 : mesh.far_point[at(stretch.parent)];
    double from_m = 0;
    for (const double cut_m : cuts[s]) {
      near = divide(mesh, s, stretch, longest_m, from_m, cut_m, near);
      from_m = cut_m;
    }
    mesh.far_point.push_back(divide(mesh, s, stretch, longest_m, from_m, stretch.length_m, near));
  }
  mesh.first.push_back(mesh.elements.size());
  return mesh;
}

}  // namespace firstdraw::power
