// Moments and dates as RFC 3339 writes them.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace firstdraw::store {

/// "2026-11-29T14:05:00-06:00", "2026-11-29T20:05:00.25Z": date-time of RFC 3339 with a date that the
/// calendar has, capital T and Z, seconds 0 to 59 (no leap seconds). The moment it names; nullopt: it is
/// none.
std::optional<std::chrono::sys_time<std::chrono::microseconds>> moment_of(std::string_view text);

/// "2027-03-01", a date that the calendar has.
bool is_date(std::string_view text);

/// "2026-11-29T20:05:00.123456Z".
std::string utc_text(std::chrono::sys_time<std::chrono::microseconds> moment);

}  // namespace firstdraw::store
