#include "rules/field_limits.hpp"

#include <stdexcept>

#include "rules/cited_row.hpp"

namespace firstdraw::rules {

FieldLimit field_limit(RuleSet rules, std::string_view id) {
  for (const tables::Row& row : tables::table("rules_field_limits").rows()) {
    if (applies(row, rules) && row.text("id") == id) return {row.number("value"), citation_of(row)};
  }
  throw std::logic_error("rules_field_limits.csv has no row for " + std::string(id));
}

}  // namespace firstdraw::rules
