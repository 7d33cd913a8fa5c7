#include "cli/stop_signals.hpp"

#include <ctime>

namespace firstdraw::cli {

StopSignals::StopSignals() {
  sigemptyset(&signals_);
  sigaddset(&signals_, SIGINT);
  sigaddset(&signals_, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &signals_, &before_);
}

StopSignals::~StopSignals() {
  waiting_ = {};
  pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

void StopSignals::wait_for(std::function<void()> when_asked) {
  waiting_ = std::jthread([this, asked = std::move(when_asked)](const std::stop_token& stop) {
    constexpr timespec a_moment{0, 200'000'000};
    while (!stop.stop_requested()) {
      if (sigtimedwait(&signals_, nullptr, &a_moment) < 0) continue;
      asked();
      pthread_sigmask(SIG_UNBLOCK, &signals_, nullptr);
    }
  });
}

}  // namespace firstdraw::cli
