// Long work, done by threads of its own at a low priority: started, told of, cancelled; the last few are
// kept.
#pragma once

#include <condition_variable>
#include <deque>
#include <thread>
#include <vector>

#include "serve/task.hpp"

namespace firstdraw::serve {

struct House;

class Tasks {
 public:
  /// `workers`: how many tasks at once.
  Tasks(House& house, int workers);
  ~Tasks();

  /// Refused: the job does not read, a fault is not known, too much waits already.
  Maybe<TaskHandle> start(const JobHandle& job, const NewTask& asked);
  std::vector<TaskHandle> of_job(const std::string& job) const;  // newest first
  Maybe<TaskHandle> find(const std::string& id) const;
  /// The latest finished of this kind for this revision; null: none.
  std::shared_ptr<const TaskResult> latest(const std::string& job, std::int64_t revision,
                                           std::string_view what) const;
  /// Cancels everything and waits for it.
  void close();

 private:
  struct Waiting {
    TaskHandle task;
    JobHandle job;
    Looked looked;
  };
  void work(const std::stop_token& stop);
  void forget_old();

  House& house_;
  mutable std::mutex mutex_;
  std::condition_variable_any more_;
  std::deque<Waiting> waiting_;
  std::deque<TaskHandle> all_;  // newest last
  std::uint64_t started_ = 0;
  bool closed_ = false;
  std::vector<std::jthread> workers_;
};

/// The work itself; throws nothing that is not a broken promise.
void work_on(House& house, Task& task, OpenJob& job, const Looked& looked);

}  // namespace firstdraw::serve
