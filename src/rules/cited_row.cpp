#include "rules/cited_row.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "units/quantity.hpp"

namespace firstdraw::rules {

std::string Citation::text() const {
  std::string out = document;
  if (!edition.empty()) out += (out.empty() ? "" : " ") + edition;
  if (!clause.empty()) out += (out.empty() ? "" : ", ") + clause;
  return out;
}

Citation citation_of(const tables::Row& row) {
  return {row.text("document"), row.text("edition"), row.text("clause"), row.text("basis")};
}

std::string_view name_of(RuleSet rules) { return rules == RuleSet::us ? "us" : "intl"; }

bool applies(const tables::Row& row, RuleSet rules) {
  const std::string& cell = row.text("rules");
  return cell == "*" || cell == name_of(rules);
}

std::string unknown_name(std::string_view what, std::string_view name, std::span<const std::string> known) {
  std::string message = fmt::format("unknown {} \"{}\"", what, name);
  if (const auto near = units::nearest(name, known)) message += fmt::format(" (did you mean \"{}\"?)", *near);
  return fmt::format("{}; known: {}", message, fmt::join(known, ", "));
}

void require_known(std::string_view what, std::string_view name, std::span<const std::string> known) {
  if (std::ranges::find(known, name) == known.end()) throw std::logic_error(unknown_name(what, name, known));
}

double nominal_inches(std::string_view nominal_size, double outer_diameter_m) {
  constexpr double kInchM = 0.0254, kStep = 0.125;
  const bool metric = nominal_size.find_first_of("xXmM") != std::string_view::npos;
  const auto written =
      metric ? std::unexpected(std::string{}) : units::parse(nominal_size, units::Kind::size, "in");
  // No pipe is smaller than its inch size: "22" for a pipe of 22 mm is not inches.
  if (written && *written <= outer_diameter_m * 1.001) return *written / kInchM;
  return std::round((outer_diameter_m / kInchM - kStep) / kStep) * kStep;
}

}  // namespace firstdraw::rules
