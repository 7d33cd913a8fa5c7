#include "rules/holding.hpp"

#include <stdexcept>

#include "rules/cited_row.hpp"
#include "rules/rules.hpp"

namespace firstdraw::rules {

Holding holding(std::string_view guideline) {
  const auto known = find_guideline(guideline);
  if (!known) throw std::logic_error(known.error());
  for (const tables::Row& row : tables::table("rules_hygiene_hours").rows())
    if (row.text("guideline") == guideline) return {row.number("colder_h_per_day"), true, citation_of(row)};
  return {0, false, {known->citation.document, known->citation.edition, "", "common practice, no source"}};
}

}  // namespace firstdraw::rules
