#include "physics/insulation.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "physics/interpolate.hpp"
#include "physics/names.hpp"
#include "tables/table.hpp"
#include "units/quantity.hpp"

namespace firstdraw::physics {
namespace {

struct Catalogue {
  std::vector<Insulation> all;
  std::map<std::string, std::size_t, std::less<>> by_name;  // folded ids, names and aliases
  std::vector<std::string> names;
};

Insulation read_insulation(const tables::Row& row) {
  Insulation out;
  out.id = row.text("id");
  out.name = row.text("name");
  out.density_kg_per_m3 = row.number("density_kg_per_m3");
  out.heat_capacity_j_per_kg_k = row.number("heat_capacity_j_per_kg_k");
  out.max_c = row.number("max_c");
  out.rigid = row.text("rigid") == "yes";
  return out;
}

void read_conductivity(Insulation& insulation, const std::vector<tables::Row>& rows) {
  for (const auto& row : rows) {
    if (row.text("id") != insulation.id) continue;
    insulation.mean_c.push_back(row.number("mean_c"));
    insulation.conductivity_w_per_m_k.push_back(row.number("conductivity_w_per_m_k"));
    const std::string& source = row.text("source");
    if (insulation.source.ends_with(source)) continue;
    insulation.source += (insulation.source.empty() ? "" : "; ") + source;
  }
  if (insulation.mean_c.empty())
    throw std::logic_error("insulation_conductivity.csv: none for " + insulation.id);
}

const Catalogue& catalogue() {
  static const Catalogue built = [] {
    Catalogue out;
    const auto conductivity = tables::table("insulation_conductivity").rows();
    for (const auto& row : tables::table("insulation_materials").rows()) {
      Insulation insulation = read_insulation(row);
      read_conductivity(insulation, conductivity);
      const std::size_t index = out.all.size();
      std::vector<std::string> names = split_names(row.text("aliases"));
      names.push_back(insulation.id);
      names.push_back(insulation.name);
      for (const auto& name : names) out.by_name.emplace(folded(name), index);
      std::ranges::copy(names, std::back_inserter(out.names));
      out.all.push_back(std::move(insulation));
    }
    return out;
  }();
  return built;
}

using Bores = std::map<double, std::vector<InsulationSize>>;  // bore → what exists, by thickness

Bores read_sizes(SizeSeries series, std::string_view name) {
  Bores bores;
  for (const auto& row : tables::table("insulation_sizes").rows()) {
    if (row.text("series") != name) continue;
    InsulationSize size{.series = series,
                        .made_for = row.text("made_for"),
                        .bore_m = 1e-3 * row.number("bore_mm"),
                        .outer_diameter_m = 1e-3 * row.number("outer_diameter_mm"),
                        .nominal_thickness_m = 1e-3 * row.number("nominal_thickness_mm"),
                        .source = row.text("source")};
    bores[size.bore_m].push_back(std::move(size));
  }
  return bores;
}

const Bores& sizes(SizeSeries series) {
  static const Bores iron = read_sizes(SizeSeries::inch_iron, "inch_iron");
  static const Bores tube = read_sizes(SizeSeries::inch_tube, "inch_tube");
  static const Bores metric = read_sizes(SizeSeries::metric, "metric");
  switch (series) {
    case SizeSeries::inch_iron:
      return iron;
    case SizeSeries::inch_tube:
      return tube;
    case SizeSeries::metric:
      break;
  }
  return metric;
}

InsulationSize as_ordered(SizeSeries series, std::string made_for, double bore_m, double thickness_m) {
  return {.series = series,
          .made_for = std::move(made_for),
          .bore_m = bore_m,
          .outer_diameter_m = bore_m + 2 * thickness_m,
          .nominal_thickness_m = thickness_m,
          .source = "wall as ordered (common practice, no source)"};
}

}  // namespace

double Insulation::conductivity_at(double temp_c) const {
  return linear_held(mean_c, conductivity_w_per_m_k, temp_c);
}

double Insulation::mean_conductivity(double face_c, double other_face_c) const {
  const auto [low, high] = std::minmax(face_c, other_face_c);
  if (high - low < 1e-9 * (1 + std::abs(high))) return conductivity_at(0.5 * (low + high));
  double from_c = low, from_k = conductivity_at(low), integral = 0;
  const auto step_to = [&](double to_c, double to_k) {
    integral += 0.5 * (from_k + to_k) * (to_c - from_c);
    from_c = to_c;
    from_k = to_k;
  };
  for (std::size_t i = 0; i < mean_c.size(); ++i) {
    if (mean_c[i] > low && mean_c[i] < high) step_to(mean_c[i], conductivity_w_per_m_k[i]);
  }
  step_to(high, conductivity_at(high));
  return integral / (high - low);
}

double Insulation::other_face_c(double face_c, double flux_integral_w_per_m) const {
  const bool down = flux_integral_w_per_m >= 0;
  const auto n = static_cast<std::ptrdiff_t>(mean_c.size());
  const auto above = std::ranges::lower_bound(mean_c, face_c) - mean_c.begin();  // first point >= face
  auto next = down ? above - 1 : above;
  if (!down && next < n && mean_c[static_cast<std::size_t>(next)] <= face_c) ++next;
  double k = conductivity_at(face_c), left = flux_integral_w_per_m;
  for (; next >= 0 && next < n; next += down ? -1 : 1) {
    const auto i = static_cast<std::size_t>(next);
    const double knot_c = mean_c[i], knot_k = conductivity_w_per_m_k[i];
    const double piece = 0.5 * (k + knot_k) * (face_c - knot_c);
    if (std::abs(left) <= std::abs(piece)) {
      const double slope = (k - knot_k) / (face_c - knot_c);
      return face_c - 2 * left / (k + std::sqrt(std::max(0.0, k * k - 2 * slope * left)));
    }
    left -= piece;
    face_c = knot_c;
    k = knot_k;
  }
  return face_c - left / k;
}

std::expected<Insulation, std::string> find_insulation(std::string_view text) {
  const Catalogue& known = catalogue();
  if (const auto found = known.by_name.find(folded(text)); found != known.by_name.end()) {
    return known.all[found->second];
  }
  std::string message = "unknown insulation \"" + std::string(text) + "\"; ";
  if (const auto near = units::nearest(text, known.names))
    return std::unexpected(message + "did you mean \"" + *near + "\"?");
  message += "known are";
  const char* comma = " ";
  for (const auto& insulation : known.all) {
    message += comma + insulation.id;
    comma = ", ";
  }
  return std::unexpected(message);
}

std::span<const Insulation> all_insulations() { return catalogue().all; }

double clearance_bore_m(double pipe_outer_diameter_m, CableSection cable, int passes) {
  const double r = 0.5 * pipe_outer_diameter_m;
  if (passes <= 0) return pipe_outer_diameter_m;
  const double top = r + cable.thickness_m, half = 0.5 * cable.width_m;
  if (passes > 1) return 2 * std::hypot(half, top);
  // Circle through the pipe's far side (0, -r) and the corners (+-half, top): centre (0, c), radius c + r.
  const double c = (half * half + top * top - r * r) / (2 * (top + r));
  return c <= top ? 2 * (c + r) : cable.width_m;
}

InsulationSize fit_insulation(double pipe_outer_diameter_m, CableSection cable, int passes,
                              double nominal_thickness_m, SizeSeries series) {
  const double clearance_m = clearance_bore_m(pipe_outer_diameter_m, cable, passes);
  const Bores& bores = sizes(series);
  const auto found = bores.lower_bound(clearance_m * (1 - 1e-9));
  if (found == bores.end()) {
    return as_ordered(series, "made to measure", clearance_m, nominal_thickness_m);
  }
  for (const InsulationSize& size : found->second) {
    if (std::abs(size.nominal_thickness_m - nominal_thickness_m) < 0.4e-3) return size;
  }
  return as_ordered(series, found->second.front().made_for, found->first, nominal_thickness_m);
}

}  // namespace firstdraw::physics
