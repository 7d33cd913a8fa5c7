// Requirements of electrical, plumbing, energy and hygiene codes, each from a table in data/ with document,
// edition and clause. The authority having jurisdiction decides; these are what the program checks against.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/citation.hpp"

namespace firstdraw::rules {

enum class RuleSet { us, intl };

// Functions that take an id throw std::logic_error, naming the nearest known one, when it is not in their
// list: what a user wrote is checked against the list where it is read. find_guideline returns the message
// instead.

/// Water-hygiene guidance a user can choose.
struct HygieneGuideline {
  std::string id;  // "hse-hsg274", "hse-hsg274-healthcare", "dvgw-w551", "ashrae-12", "osha", "cdc",
                   // "en-806", "none" …
  std::string name;
  double stored_c = 0;       // NaN when it gives none
  double distributed_c = 0;  // at the tap or in the pipes, NaN when it gives none
  double within_s = 0;       // NaN when it gives none
  Citation citation;
};
std::span<const HygieneGuideline> hygiene_guidelines();
std::expected<HygieneGuideline, std::string> find_guideline(std::string_view id);

/// Band in which Legionella multiplies, used in warnings.
struct GrowthBand {
  double low_c = 0, high_c = 0;
  Citation citation;
};
GrowthBand growth_band();

/// Least insulation thickness an energy code wants on a hot-water pipe.
struct MinimumThickness {
  double thickness_m = 0;
  Citation citation;
};
/// `code`: "ashrae-90.1-2016", "iecc-2021", "title24-2022", "geg", "none". None when the code says nothing
/// for the case (water below 105 degF or above 200 degF in the US tables). `conductivity_w_per_m_k` is the
/// insulation's at the code's mean temperature (US: 100 degF up to 140 degF water, else 125 degF; GEG: 40
/// degC); outside the code's range the thickness is converted to equal loss as the code says.
std::optional<MinimumThickness> minimum_thickness(std::string_view code, double pipe_outer_diameter_m,
                                                  double pipe_inner_diameter_m, std::string_view nominal_size,
                                                  double water_c, double conductivity_w_per_m_k);
std::span<const std::string> energy_codes();
/// Mean temperature at which the code rates conductivity for water of this temperature; NaN when it says
/// nothing.
double rating_mean_c(std::string_view code, double water_c);

/// Longest untraced pipe from the traced main to a fixture. A traced pipe counts as a source of hot water.
struct RunoutLimit {
  double length_m = 0;   // NaN when the rule limits volume
  double volume_m3 = 0;  // NaN when the rule limits length
  Citation citation;
};
/// `rule`: "iecc-c404.5", "din-1988-200" (3 litres), "ipc-607.2" (50 ft), "none".
std::optional<RunoutLimit> runout_limit(std::string_view rule, std::string_view nominal_size,
                                        double outer_diameter_m, bool public_lavatory);
std::span<const std::string> runout_rules();

/// Hottest water an outlet may give without a safe-outlet (thermostatic) valve.
struct OutletLimit {
  double water_c = 0;  // NaN: no limit known for this fixture
  Citation citation;
};
OutletLimit outlet_limit(RuleSet rules, std::string_view fixture, std::string_view building_kind);
/// Fixture kinds a job may name: "lavatory", "public-lavatory", "shower", "bath", "kitchen-sink",
/// "service-sink" …
std::span<const std::string> fixtures();
std::span<const std::string> building_kinds();

// Four numbers of data/rules_circuit.csv, overrides left out: rules/override.hpp.

/// Share of a breaker's rating a continuous load may use: 0.8 (us), 1.0 (intl: load <= rating).
struct ContinuousLoad {
  double max_frac = 0;
  Citation citation;
};
ContinuousLoad continuous_load(RuleSet rules);
/// Ground-fault (residual current) protection of heating cable.
struct GroundFault {
  double trip_a = 0;
  double standing_leakage_max_frac = 0;
  Citation citation;
};
GroundFault ground_fault(RuleSet rules);
/// Spacing of the caution labels along traced pipe.
struct LabelSpacing {
  double spacing_m = 0;
  Citation citation;
};
LabelSpacing label_spacing(RuleSet rules);
/// Recommended largest voltage drop in feeder plus branch.
struct VoltageDrop {
  double branch_frac = 0, total_frac = 0;
  Citation citation;
};
VoltageDrop voltage_drop(RuleSet rules);

/// Usual limits of the field tests (test voltages, least insulation resistance) with their sources.
struct FieldTest {
  std::string id, stage, name, how, limit;
  Citation citation;
};
std::span<const FieldTest> field_tests(RuleSet rules);

/// Published skin-burn times for a caution, s; rising temperature.
struct BurnTime {
  double water_c = 0, second_degree_s = 0, third_degree_s = 0;
  Citation citation;
};
std::span<const BurnTime> burn_times();

}  // namespace firstdraw::rules
