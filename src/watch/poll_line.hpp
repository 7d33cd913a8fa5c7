// The devices of one connection or serial line, read in a thread of their own.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "watch/poll_connection.hpp"
#include "watch/poller.hpp"

namespace firstdraw::watch {

/// 1, 2, 4 … 60 s between tries.
class BackOff {
 public:
  void fail(std::int64_t now_ms);
  void forget() { wait_ms_ = until_ms_ = 0; }
  /// A clock that was set back does not prolong it.
  bool waits(std::int64_t now_ms) const;

 private:
  std::int64_t wait_ms_ = 0, until_ms_ = 0;
};

/// What lines have done, for the thread that calls poll(). Lines add, it takes.
class PollBoard {
 public:
  struct Taken {
    std::vector<Polled> readings{};
    std::vector<PollEvent> events{};
    PollCounts counts{};
  };
  void reading(Polled polled);
  void event(PollEvent event);
  void count(std::int64_t PollCounts::* which);
  void wake();
  Taken take();
  /// Sleeps until somebody wakes it, at most so long.
  void wait_for(int milliseconds);

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  bool woken_ = false;
  Taken held_;
};

class PollLine {
 public:
  /// `devices` share one line and outlive this.
  PollLine(std::vector<const Device*> devices, std::function<std::int64_t()> now_ms, PollBoard& board);
  ~PollLine();
  PollLine(const PollLine&) = delete;
  PollLine& operator=(const PollLine&) = delete;

  /// Begins a round; false where the one before is not done.
  bool begin_round();
  bool busy() const;
  void stop();
  const std::string& name() const { return name_; }

 private:
  struct State {
    const Device* device = nullptr;
    std::vector<PollRequest> requests{};
    BackOff back_off{};
    enum class Answers { unknown, yes, no } answers = Answers::unknown;
    std::map<std::string, std::string> refused{}, invalid{};  // series, and what was said
  };

  void work();
  void round();
  void read_device(State& state);
  /// False: the device gave no answer, and its other requests wait.
  bool read_request(State& state, std::size_t index);
  std::expected<std::vector<std::uint16_t>, PollFailure> ask(const State& state, const PollRequest& request);
  std::expected<void, PollFailure> open();
  void take(State& state, const PollRequest& request, const std::vector<std::uint16_t>& answer);
  void take_value(State& state, const RegisterValue& value, const std::vector<std::uint16_t>& registers,
                  std::int64_t at_ms);
  void refused(State& state, const PollRequest& request, const PollFailure& failure);
  void answered(State& state);
  void failed(State& state, const PollFailure& failure);
  void say(PollEvent::Kind kind, const State& state, std::string series, std::string said);

  std::string name_;
  std::function<std::int64_t()> now_ms_;
  PollBoard& board_;
  PollConnection connection_;
  BackOff line_back_off_;
  bool opened_before_ = false;
  std::vector<State> states_;

  mutable std::mutex mutex_;
  std::condition_variable wanted_;
  bool round_wanted_ = false, stop_ = false;
  std::thread thread_;  // last: it uses all of the above
};

}  // namespace firstdraw::watch
