// One connection or serial line, and the four ways to read over it. There is no way to write.
#pragma once

#include <atomic>
#include <cstdint>
#include <expected>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "watch/poll_requests.hpp"
#include "watch/register_map.hpp"

// The library's, as its header declares it.
using modbus_t = struct _modbus;

namespace firstdraw::watch {

/// Why a request came to nothing.
struct PollFailure {
  enum class Kind {
    lost,       // no connection, or it broke
    no_answer,  // nothing, too late, incomplete or not understood
    busy,       // the device or a gateway asks to come again later, or cannot reach it
    refused,    // the device has no such register or function: asking again changes nothing
  } kind{};
  std::string said;
};

class PollConnection {
 public:
  /// `device`: any of those that share the line.
  explicit PollConnection(const Device& device);
  ~PollConnection();
  PollConnection(const PollConnection&) = delete;
  PollConnection& operator=(const PollConnection&) = delete;

  bool is_open() const { return context_ != nullptr; }
  std::expected<void, PollFailure> open();
  void close();
  /// One request, one answer, within the device's time-out. After a failure other than refused or busy a
  /// network connection is closed and a serial line listened to until it is silent, so that an answer that
  /// comes late is not taken for the next.
  std::expected<std::vector<std::uint16_t>, PollFailure> read(const Device& device,
                                                              const PollRequest& request);

  /// From any thread: what waits on a network connection ends at once, on a serial line with the request's
  /// time-out; nothing is opened or read any more.
  void stop();
  bool stopped() const { return stopped_; }

 private:
  std::expected<void, PollFailure> open_tcp();
  std::expected<void, PollFailure> open_serial();
  std::expected<int, PollFailure> connected_socket() const;
  void keep(modbus_t* context, int descriptor);
  void let_silence_come(double timeout_s) const;

  Device line_;  // without values
  modbus_t* context_ = nullptr;
  int wake_read_ = -1, wake_write_ = -1;
  std::atomic<bool> stopped_ = false;
  std::mutex mutex_;  // of descriptor_
  int descriptor_ = -1;
};

}  // namespace firstdraw::watch
