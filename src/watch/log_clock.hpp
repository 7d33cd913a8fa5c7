// From what a logger's clock showed to moments: the hour that comes twice, the one that is skipped, clocks
// that were set, rows that come twice.
#pragma once

#include <expected>
#include <string>
#include <vector>

#include "watch/log_import.hpp"
#include "watch/log_table.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {

/// Moments of the table's rows, in the file's order.
struct Clocked {
  std::vector<std::int64_t> at_ms;
  std::vector<Oddity> oddities;
};

/// Local time to UTC. In the hour that comes twice the order of the rows tells which pass it is; a time that
/// the clock skipped is read by the offset before and is an oddity. Newest-first files are told by most rows.
/// On failure one sentence: years without zone data.
std::expected<Clocked, std::string> in_zone(const LogTable& table, const week::Zone& zone);

/// Most rows are earlier than the one before.
bool newest_first(const std::vector<std::int64_t>& at_ms);

/// Clock jumps, gaps and rows that come twice. What is left out is marked in `keep`.
struct Sequence {
  std::vector<Oddity> oddities;
  std::vector<bool> keep;
  double interval_s = 0;
};
/// `claims_fixed`: the file claims a clock without daylight saving, so that leaps of an hour on the nights
/// of the change are told as such.
Sequence judge_sequence(const LogTable& table, const std::vector<std::int64_t>& at_ms, bool claims_fixed);

/// Median of the steps that are forward, ms; 0 for fewer than two rows.
std::int64_t usual_step_ms(const std::vector<std::int64_t>& at_ms);

/// "2026-03-08 02:30:00" of a time as if it were UTC.
std::string clock_text(std::int64_t clock_ms);
/// "1 h 5 min", "12 s".
std::string length_text(std::int64_t ms);

}  // namespace firstdraw::watch
