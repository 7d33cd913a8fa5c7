// Least insulation of the energy codes. data/rules_insulation_inch.csv (by nominal size) and
// rules_insulation_geg.csv (by inner diameter), each converted to the conductivity at hand by equal loss.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "rules/cited_row.hpp"
#include "rules/rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::rules {

namespace {

constexpr std::string_view kGeg = "geg";
constexpr std::string_view kNone = "none";

/// T = r ((1 + t/r)^(K/k) - 1): thickness for conductivity K that loses what t loses at k, pipe radius r.
/// ASHRAE 90.1 footnote to Table 6.8.3-1 and California Energy Code equation 160.4-A (variables read, form
/// from memory).
double equal_loss_thickness_m(double thickness_m, double radius_m, double conductivity_ratio) {
  return radius_m * (std::pow(1 + thickness_m / radius_m, conductivity_ratio) - 1);
}

/// One row of rules_insulation_inch.csv in SI.
struct InchRow {
  std::string code;
  double water_from_c, water_up_to_c;  // the lower end belongs to the row only at the coldest row of a code
  bool coldest;
  double size_from_in, size_below_in;
  double thickness_m, least_w_per_m_k, most_w_per_m_k, mean_c;
  Citation citation;
};

InchRow inch_row(const tables::Row& row) {
  const auto conductivity = [&](std::string_view column) {
    return units::to_si(row.number(column), "Btu·in/(h·ft²·°F)", units::Kind::conductivity).value();
  };
  const auto temperature = [&](std::string_view column) {
    return units::to_si(row.number(column), "°F", units::Kind::temperature).value();
  };
  constexpr double kColdestF = 105;
  const double below_in = row.number_or_nan("size_below_in");
  return {row.text("code"),
          temperature("water_above_f"),
          temperature("water_up_to_f"),
          row.number("water_above_f") == kColdestF,
          row.number("size_from_in"),
          std::isnan(below_in) ? HUGE_VAL : below_in,
          units::to_si(row.number("thickness_in"), "in", units::Kind::size).value(),
          conductivity("k_low_btu_in"),
          conductivity("k_high_btu_in"),
          temperature("k_mean_f"),
          citation_of(row)};
}

const std::vector<InchRow>& inch_rows() {
  static const std::vector<InchRow> rows = [] {
    std::vector<InchRow> all;
    for (const tables::Row& row : tables::table("rules_insulation_inch").rows()) all.push_back(inch_row(row));
    return all;
  }();
  return rows;
}

bool covers(const InchRow& row, std::string_view code, double water_c, double nominal_in) {
  constexpr double kRoundingK = 1e-9;  // of a limit in degF that came through degC
  const double above_k = water_c - row.water_from_c;
  const bool warm = row.coldest ? above_k >= -kRoundingK : above_k > kRoundingK;
  return row.code == code && warm && water_c <= row.water_up_to_c + kRoundingK &&
         nominal_in >= row.size_from_in && nominal_in < row.size_below_in;
}

MinimumThickness thickness_at(const InchRow& row, double outer_diameter_m, double conductivity_w_per_m_k) {
  MinimumThickness least{row.thickness_m, row.citation};
  if (conductivity_w_per_m_k >= row.least_w_per_m_k && conductivity_w_per_m_k <= row.most_w_per_m_k)
    return least;
  least.thickness_m = equal_loss_thickness_m(row.thickness_m, outer_diameter_m / 2,
                                             conductivity_w_per_m_k / row.most_w_per_m_k);
  least.citation.clause += ", converted to the conductivity";
  if (least.citation.basis != "memory") least.citation.basis += "; conversion from memory";
  return least;
}

std::optional<MinimumThickness> by_nominal_size(std::string_view code, double outer_diameter_m,
                                                std::string_view nominal_size, double water_c,
                                                double conductivity_w_per_m_k) {
  const double nominal_in = nominal_inches(nominal_size, outer_diameter_m);
  for (const InchRow& row : inch_rows()) {
    if (!covers(row, code, water_c, nominal_in)) continue;
    return thickness_at(row, outer_diameter_m, conductivity_w_per_m_k);
  }
  return std::nullopt;
}

/// Thickness on a pipe of diameter d that gives R = ln((d+2t)/d)/(2 pi k) + 1/(pi (d+2t) h), h = 10 W/(m2 K).
double resistance_m_k_per_w(double diameter_m, double thickness_m, double conductivity_w_per_m_k) {
  constexpr double kFilm = 10;
  const double outer_m = diameter_m + 2 * thickness_m;
  return std::log(outer_m / diameter_m) / (2 * std::numbers::pi * conductivity_w_per_m_k) +
         1 / (std::numbers::pi * outer_m * kFilm);
}

/// Equal loss with the outer film, as the published GEG conversion (VDI 2055): bisection, since the
/// resistance rises with thickness beyond the critical radius k/h (3.5 mm), which every row exceeds.
double geg_thickness_m(double table_m, double table_conductivity, double diameter_m, double conductivity) {
  if (conductivity == table_conductivity) return table_m;
  const double wanted = resistance_m_k_per_w(diameter_m, table_m, table_conductivity);
  double low_m = std::max(0.0, conductivity / 10 - diameter_m / 2), high_m = table_m;
  while (resistance_m_k_per_w(diameter_m, high_m, conductivity) < wanted && high_m < 10) high_m *= 2;
  for (int i = 0; i < 100; ++i) {
    const double middle_m = 0.5 * (low_m + high_m);
    (resistance_m_k_per_w(diameter_m, middle_m, conductivity) < wanted ? low_m : high_m) = middle_m;
  }
  return high_m;
}

std::optional<MinimumThickness> by_inner_diameter(double outer_diameter_m, double inner_diameter_m,
                                                  double conductivity_w_per_m_k) {
  constexpr double kRounding = 1e-9;
  const double inner_mm = inner_diameter_m * 1000;
  for (const tables::Row& row : tables::table("rules_insulation_geg").rows()) {
    const double up_to_mm = row.number_or_nan("inner_up_to_mm");
    if (inner_mm > up_to_mm + kRounding) continue;
    const double written_mm = row.number_or_nan("thickness_mm");
    const double table_m = (std::isnan(written_mm) ? inner_mm : written_mm) / 1000;
    const double table_conductivity = row.number("conductivity_w_per_m_k");
    MinimumThickness least{
        geg_thickness_m(table_m, table_conductivity, outer_diameter_m, conductivity_w_per_m_k),
        citation_of(row)};
    if (conductivity_w_per_m_k != table_conductivity)
      least.citation.clause += ", converted to the conductivity";
    return least;
  }
  return std::nullopt;
}

}  // namespace

std::span<const std::string> energy_codes() {
  static const std::vector<std::string> all = [] {
    std::vector<std::string> codes;
    for (const tables::Row& row : tables::table("rules_insulation_inch").rows()) {
      if (codes.empty() || codes.back() != row.text("code")) codes.push_back(row.text("code"));
    }
    codes.emplace_back(kGeg);
    codes.emplace_back(kNone);
    return codes;
  }();
  return all;
}

std::optional<MinimumThickness> minimum_thickness(std::string_view code, double pipe_outer_diameter_m,
                                                  double pipe_inner_diameter_m, std::string_view nominal_size,
                                                  double water_c, double conductivity_w_per_m_k) {
  require_known("energy code", code, energy_codes());
  if (code == kNone) return std::nullopt;
  if (code == kGeg)
    return by_inner_diameter(pipe_outer_diameter_m, pipe_inner_diameter_m, conductivity_w_per_m_k);
  return by_nominal_size(code, pipe_outer_diameter_m, nominal_size, water_c, conductivity_w_per_m_k);
}

double rating_mean_c(std::string_view code, double water_c) {
  require_known("energy code", code, energy_codes());
  if (code == kGeg) return tables::table("rules_insulation_geg").rows().front().number("mean_c");
  constexpr double kAnySizeIn = 1;
  for (const InchRow& row : inch_rows()) {
    if (covers(row, code, water_c, kAnySizeIn)) return row.mean_c;
  }
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace firstdraw::rules
