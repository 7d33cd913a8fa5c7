// Months as people write them: "nov-mar", "jan, jul", "all".
#pragma once

#include <array>
#include <expected>
#include <string>
#include <string_view>

namespace firstdraw::week {

/// January first.
using MonthSet = std::array<bool, 12>;

/// On failure: one sentence with the nearest known name.
std::expected<MonthSet, std::string> parse_months(std::string_view text);
/// "January" for 0.
std::string_view month_name(std::size_t month);

}  // namespace firstdraw::week
