// Reads devices again and again and hands on what it read. Survives time-outs, restarts of the device and of
// the store; never writes to a device. docs/polling.md.
#pragma once

#include <cstdint>
#include <expected>
#include <functional>
#include <string>
#include <vector>

#include "store/series.hpp"
#include "watch/register_map.hpp"

namespace firstdraw::watch {

struct Polled {
  std::string series;
  store::Sample sample;
};
struct PollEvent {
  enum class Kind { connected, lost, exception, no_answer, invalid, sink_failed, sink_back } kind{};
  std::string device, series, said;
  std::int64_t at_ms = 0;
};

struct PollOptions {
  std::function<std::int64_t()> now_ms;      // clock
  std::function<bool(double seconds)> wait;  // false: stop
  std::function<void(const PollEvent&)> event;
  /// All of one round; false or a sentence: kept (at most `keep` readings, oldest go first) and offered
  /// again.
  std::function<std::expected<void, std::string>(const std::vector<Polled>&)> sink;
  std::size_t keep = 1'000'000;
  std::int64_t rounds = -1;  // -1: until stopped
};
struct PollCounts {
  std::int64_t rounds = 0, readings = 0, failures = 0, reconnects = 0, dropped = 0;
};
/// Rounds begin on the grid of every_s; neighbouring registers of a device are read in one request of at most
/// 125; a request that fails is tried once more, then the device waits 1, 2, 4 … 60 s before the next try
/// while the others go on. Values read before a failure are kept.
PollCounts poll(const RegisterMap& map, const PollOptions& options);

}  // namespace firstdraw::watch
