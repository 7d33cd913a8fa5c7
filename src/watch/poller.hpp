// Reads devices again and again and hands on what it read. Survives time-outs, restarts of the device and of
// the store; never writes to a device. docs/polling.md.
#pragma once

#include <cstdint>
#include <expected>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "store/series.hpp"
#include "watch/register_map.hpp"

namespace firstdraw::watch {

struct Polled {
  std::string series{};
  store::Sample sample;  // its time is that of the answer
  bool operator==(const Polled&) const = default;
};
struct PollEvent {
  enum class Kind {
    connected,    // the device answers, for the first time or again
    lost,         // no connection to it, or it broke
    exception,    // it refuses what is asked; said once, until it answers
    no_answer,    // nothing, too late, incomplete or not understood
    invalid,      // a value that is no number or outside `valid`; said once, until one is good
    late,         // a line was still busy with the round before: it sits this one out
    sink_failed,  // what was read is kept
    sink_back,
    dropped,  // more than `keep`, or the end came while the sink failed
  } kind{};
  std::string device{}, series{}, said{};
  std::int64_t at_ms = 0;
};
std::string_view name_of(PollEvent::Kind kind);

struct PollOptions {
  /// Clock, milliseconds since 1970; asked from several threads.
  std::function<std::int64_t()> now_ms;
  /// Comes back after so many seconds (0: at once) or earlier; false: stop.
  std::function<bool(double seconds)> wait;
  /// Called from the caller's thread, as the sink.
  std::function<void(const PollEvent&)> event;
  /// All of one round; false or a sentence: kept (at most `keep` readings, oldest go first) and offered
  /// again with the next round and at the end.
  std::function<std::expected<void, std::string>(const std::vector<Polled>&)> sink;
  std::size_t keep = 1'000'000;
  std::int64_t rounds = -1;    // -1: until stopped
  bool first_at_once = false;  // the first round does not wait for the grid
};
struct PollCounts {
  std::int64_t rounds = 0;      // begun
  std::int64_t skipped = 0;     // of the grid, because the one before took too long
  std::int64_t readings = 0;    // good ones
  std::int64_t failures = 0;    // requests that came to nothing, tried twice, and connections refused
  std::int64_t reconnects = 0;  // connections made again
  std::int64_t dropped = 0;     // readings that no sink took
};
/// Rounds begin on the grid of every_s, counted from 1970-01-01T00:00Z; one that is missed is skipped.
/// Every connection and every serial line has a thread of its own: a device that is down never holds up
/// devices of other lines. On a shared line those that answered last time are asked first, so that a device
/// that goes down holds up its neighbours once, for two time-outs (on a serial line, three), and later ones
/// of the round only. Neighbouring registers of a device are read in one request of at most 125; a request
/// that fails is tried once more, then the device waits 1, 2, 4 … 60 s before the next try while the others
/// go on. Values read before a failure are kept. Stop: at once on network connections, within the time-out
/// of one request on serial lines.
PollCounts poll(const RegisterMap& map, const PollOptions& options);

}  // namespace firstdraw::watch
