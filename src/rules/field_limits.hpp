// Numbers that field-test readings are judged by. data/rules_field_limits.csv.
#pragma once

#include <string_view>

#include "rules/rules.hpp"

namespace firstdraw::rules {

struct FieldLimit {
  double value = 0;  // SI; a share where the table says so
  Citation citation;
};
/// Throws std::logic_error for an id the table does not have for this rule set.
FieldLimit field_limit(RuleSet rules, std::string_view id);

}  // namespace firstdraw::rules
