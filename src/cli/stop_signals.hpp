// Ctrl-C and the wish of the system to end, for a program that serves until then.
#pragma once

#include <csignal>
#include <functional>
#include <thread>

namespace firstdraw::cli {

/// Made before any other thread: SIGINT and SIGTERM then reach only `when_asked`, on a thread of its own, the
/// first time; the second ends the program.
class StopSignals {
 public:
  StopSignals();
  ~StopSignals();
  StopSignals(const StopSignals&) = delete;
  StopSignals& operator=(const StopSignals&) = delete;
  void wait_for(std::function<void()> when_asked);

 private:
  sigset_t signals_{}, before_{};
  std::jthread waiting_;
};

}  // namespace firstdraw::cli
