// What everybody who watches is told, in order: a ring of the last messages, so that whoever was away for a
// while hears what was missed. Nobody waits for a slow listener, and nothing is kept for one.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <mutex>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::serve {

struct Event {
  std::uint64_t number = 0;
  std::string name;  // "job", "task", "record", "jobs"
  std::string job;   // whose; empty: everybody's
  std::string data;  // JSON in one line
};

class Events {
 public:
  static constexpr std::size_t bytes_kept = 4UL << 20U, bytes_at_once = 256UL << 10U;
  /// `run` tells this run of the server from others: numbers of another run mean nothing. The latest is
  /// always kept, of the others the last `kept` and `bytes_kept` of data at most.
  explicit Events(std::string run, std::size_t kept = 2000);

  void publish(std::string_view name, std::string_view job, const nlohmann::json& data);
  /// What came after `number`, the oldest that are still kept first, no more than is to be sent at once;
  /// waits up to `wait` for the first. Empty: nothing came, or it is closed. The first is not number + 1:
  /// some are forgotten.
  std::vector<Event> after(std::uint64_t number, std::chrono::milliseconds wait) const;
  /// Number of the latest event.
  std::uint64_t latest() const;
  /// From "run-number" of Last-Event-ID to where to go on; none: another run's, or too long ago.
  std::optional<std::uint64_t> resume(std::string_view last_event_id) const;
  std::string id_of(std::uint64_t number) const;
  /// The event as text/event-stream has it.
  std::string text_of(const Event& event) const;
  void close();
  bool closed() const;

 private:
  const std::string run_;
  const std::size_t kept_;
  mutable std::mutex mutex_;
  mutable std::condition_variable more_;
  std::deque<Event> ring_;
  std::size_t bytes_ = 0;
  std::uint64_t latest_ = 0;
  bool closed_ = false;
};

}  // namespace firstdraw::serve
