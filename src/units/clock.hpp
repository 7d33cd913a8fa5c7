// Times of the day and days of the week as people write them: "22:00", "10:30 pm", "mon-fri", "sat, sun".
#pragma once

#include <cstdint>
#include <expected>
#include <string>
#include <string_view>

namespace firstdraw::units {

/// Seconds after midnight: "22:00", "6:30", "22:00:30", "10 pm", "12:30 am"; "24:00" is the end of the day,
/// 86400. On failure: one sentence that says what was expected.
std::expected<double, std::string> parse_time_of_day(std::string_view text);
/// Text that reads back the same: "22:00", "06:30:15", "24:00". Throws std::logic_error unless these are
/// whole seconds from 0 to 86400.
std::string time_of_day_text(double time_s);

/// Days of the week, bit 0 Monday ... bit 6 Sunday, never none: "all", "mon-fri", "sat, sun", "fri-mon" (over
/// the weekend), "Tuesday". On failure: one sentence with the nearest known name.
std::expected<std::uint8_t, std::string> parse_weekdays(std::string_view text);
/// Text that reads back the same: "all", "mon-fri", "sat,sun". Throws std::logic_error for no day at all.
std::string weekdays_text(std::uint8_t weekdays);

}  // namespace firstdraw::units
