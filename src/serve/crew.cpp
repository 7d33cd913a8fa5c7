#include "serve/crew.hpp"

#include <system_error>
#include <thread>

namespace firstdraw::serve {
namespace {

constexpr std::chrono::seconds idle_for{20};

}  // namespace

void Crew::enqueue(std::function<void()> work) {
  const std::lock_guard lock(mutex_);
  waiting_.push_back(std::move(work));
  if (idle_ < waiting_.size() && threads_ < most_ && !closing_) {
    try {
      std::thread([this] { this->work(); }).detach();
      ++threads_;
    } catch (const std::system_error&) {  // NOLINT(bugprone-empty-catch)
      // The system has no more threads: those that are there take it when they are done.
    }
  }
  more_.notify_one();
}

void Crew::work() {
  std::unique_lock lock(mutex_);
  while (true) {
    ++idle_;
    const bool woken = more_.wait_for(lock, idle_for, [this] { return !waiting_.empty() || closing_; });
    --idle_;
    if (waiting_.empty() && (closing_ || !woken)) break;
    if (waiting_.empty()) continue;
    const std::function<void()> next = std::move(waiting_.front());
    waiting_.pop_front();
    lock.unlock();
    next();
    lock.lock();
  }
  --threads_;
  gone_.notify_all();
}

void Crew::shutdown() {
  std::unique_lock lock(mutex_);
  closing_ = true;
  more_.notify_all();
  gone_.wait(lock, [this] { return threads_ == 0; });
}

}  // namespace firstdraw::serve
