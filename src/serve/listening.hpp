// For tests: somebody who listens to the events of a server, on a thread of its own.
#pragma once

#include <condition_variable>
#include <mutex>

#include "serve/test_server.hpp"

namespace firstdraw::serve {

class Listening {
 public:
  explicit Listening(const TestServer& server) : client_(server.client()) {
    thread_ = std::thread([this] {
      client_.Get("/api/events", [this](const char* data, std::size_t size) { return hear({data, size}); });
    });
    std::unique_lock lock(mutex_);
    more_.wait_for(lock, std::chrono::seconds{10}, [this] { return !text_.empty(); });
  }
  ~Listening() {
    client_.stop();
    thread_.join();
  }
  Listening(const Listening&) = delete;
  Listening& operator=(const Listening&) = delete;

  /// Data of the whole events of one kind so far, in their order.
  std::vector<nlohmann::json> heard(const std::string& name) const {
    const std::lock_guard lock(mutex_);
    const std::string head = "event: " + name + "\ndata: ";
    std::vector<nlohmann::json> found;
    for (std::size_t at = text_.find(head); at != std::string::npos; at = text_.find(head, at + 1)) {
      const std::size_t begin = at + head.size(), end = text_.find('\n', begin);
      if (end != std::string::npos) found.push_back(nlohmann::json::parse(text_.substr(begin, end - begin)));
    }
    return found;
  }
  /// Whether `words` were heard; what came until then is forgotten.
  bool take(const std::string& words) {
    const std::lock_guard lock(mutex_);
    const std::size_t at = text_.find(words);
    if (at != std::string::npos) text_.erase(0, at + words.size());
    return at != std::string::npos;
  }
  /// Until `enough` says so; false: not within this time.
  template <class Enough>
  bool wait(const Enough& enough, std::chrono::seconds most = std::chrono::seconds{60}) {
    const auto until = std::chrono::steady_clock::now() + most;
    while (!enough()) {
      std::unique_lock lock(mutex_);
      more_.wait_for(lock, std::chrono::milliseconds{50});
      if (std::chrono::steady_clock::now() > until) return false;
    }
    return true;
  }

 private:
  bool hear(std::string_view data) {
    const std::lock_guard lock(mutex_);
    text_ += data;
    more_.notify_all();
    return true;
  }

  mutable std::mutex mutex_;
  std::condition_variable more_;
  std::string text_;
  httplib::Client client_;
  std::thread thread_;
};

}  // namespace firstdraw::serve
