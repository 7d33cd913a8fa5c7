// Threads for connections: as many as there are, up to a limit, gone again when idle. cpp-httplib holds one
// for each open connection, and a page that listens holds its connection for good.
#pragma once

#include <httplib.h>

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>

namespace firstdraw::serve {

class Crew : public httplib::TaskQueue {
 public:
  explicit Crew(std::size_t most) : most_(most) {}
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;
  ~Crew() override { Crew::shutdown(); }

  void enqueue(std::function<void()> work) override;
  /// Waits until everything is done.
  void shutdown() override;

 private:
  void work();
  const std::size_t most_;
  std::mutex mutex_;
  std::condition_variable more_, gone_;
  std::deque<std::function<void()>> waiting_;
  std::size_t threads_ = 0, idle_ = 0;
  bool closing_ = false;
};

}  // namespace firstdraw::serve
