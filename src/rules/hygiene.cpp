// Water hygiene: guidance documents and the band in which Legionella multiplies. data/rules_hygiene.csv,
// rules_growth.csv.
#include <algorithm>
#include <limits>
#include <stdexcept>

#include "rules/cited_row.hpp"
#include "rules/rules.hpp"

namespace firstdraw::rules {

namespace {

HygieneGuideline no_guideline() {
  constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
  return {"none", "no guideline", kNone, kNone, kNone, {}};
}

std::vector<HygieneGuideline> read_guidelines() {
  std::vector<HygieneGuideline> all;
  for (const tables::Row& row : tables::table("rules_hygiene").rows()) {
    all.push_back({row.text("id"), row.text("name"), row.number_or_nan("stored_c"),
                   row.number_or_nan("distributed_c"), row.number_or_nan("within_s"), citation_of(row)});
  }
  all.push_back(no_guideline());
  return all;
}

Citation joined(const Citation& a, const Citation& b) {
  const auto both = [](const std::string& x, const std::string& y) { return x == y ? x : x + "; " + y; };
  return {a.text() + "; " + b.text(), "", "", both(a.basis, b.basis)};
}

}  // namespace

std::span<const HygieneGuideline> hygiene_guidelines() {
  static const std::vector<HygieneGuideline> all = read_guidelines();
  return all;
}

std::expected<HygieneGuideline, std::string> find_guideline(std::string_view id) {
  const auto all = hygiene_guidelines();
  const auto found = std::ranges::find(all, id, &HygieneGuideline::id);
  if (found != all.end()) return *found;
  std::vector<std::string> ids;
  for (const auto& guideline : all) ids.push_back(guideline.id);
  return std::unexpected(unknown_name("hygiene guideline", id, ids));
}

GrowthBand growth_band() {
  GrowthBand band;
  Citation low, high;
  for (const tables::Row& row : tables::table("rules_growth").rows()) {
    const bool is_low = row.text("part") == "low";
    (is_low ? band.low_c : band.high_c) = row.number(is_low ? "low_c" : "high_c");
    (is_low ? low : high) = citation_of(row);
  }
  band.citation = joined(low, high);
  return band;
}

}  // namespace firstdraw::rules
