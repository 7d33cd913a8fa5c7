#include "serve/tasks.hpp"

#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <exception>
#include <nlohmann/json.hpp>

#include "forecast/scene.hpp"
#include "serve/house.hpp"

namespace firstdraw::serve {
namespace {

constexpr std::size_t kept_of_a_job = 6, most_waiting = 20;

bool is_over(TaskState state) { return state != TaskState::queued && state != TaskState::running; }

/// Whoever edits is not to wait for whoever simulates.
void step_back() {
  constexpr int nice = 10;
  setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), nice);
}

Maybe<void> check_faults(const NewTask& asked, const Looked& looked) {
  std::vector<job::Diagnostic> problems;
  for (const std::string& text : asked.faults)
    if (const auto fault = forecast::read_fault(text, looked.job(), looked.plan()); !fault)
      problems.push_back({"", 0, 0, "faults", fault.error(), ""});
  if (!problems.empty()) return refuse(std::move(problems));
  return {};
}

}  // namespace

Tasks::Tasks(House& house, int workers) : house_(house) {
  for (int i = 0; i < workers; ++i)
    workers_.emplace_back([this](const std::stop_token& stop) { work(stop); });
}

Tasks::~Tasks() { close(); }

void Tasks::close() {
  {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    waiting_.clear();
    for (const TaskHandle& task : all_) task->cancel();
  }
  for (std::jthread& worker : workers_) worker.request_stop();
  more_.notify_all();
  workers_.clear();
}

void Tasks::work(const std::stop_token& stop) {
  step_back();
  while (true) {
    Waiting next;
    {
      std::unique_lock lock(mutex_);
      if (!more_.wait(lock, stop, [this] { return !waiting_.empty(); })) return;
      next = std::move(waiting_.front());
      waiting_.pop_front();
    }
    if (next.task->cancelled()) {
      next.task->fail("it was stopped before it began");
      continue;
    }
    next.task->begin();
    try {
      work_on(house_, *next.task, *next.job, next.looked);
    } catch (const std::exception& fault) {
      next.task->fail(fmt::format("a fault of the program itself: {}", fault.what()));
    }
  }
}

void Tasks::forget_old() {
  std::map<std::string, std::size_t> over;
  for (auto each = all_.rbegin(); each != all_.rend(); ++each)
    if (is_over((*each)->state()) && ++over[(*each)->job] > kept_of_a_job) *each = nullptr;
  std::erase(all_, nullptr);
}

Maybe<TaskHandle> Tasks::start(const JobHandle& job, const NewTask& asked) {
  const auto looked = job->look();
  if (!looked) return std::unexpected(looked.error());
  if (auto known = check_faults(asked, *looked); !known) return std::unexpected(std::move(known.error()));
  const std::lock_guard lock(mutex_);
  if (closed_ || waiting_.size() >= most_waiting)
    return refuse(Why::busy, "too much work waits already", "stop some of it, or wait");
  const auto tell = [this](const Task& task) { house_.events.publish("task", task.job, task.json()); };
  auto task =
      std::make_shared<Task>(fmt::format("t{}", ++started_), job->id(), looked->revision, asked, tell);
  all_.push_back(task);
  forget_old();
  waiting_.push_back({task, job, *looked});
  more_.notify_one();
  return task;
}

std::vector<TaskHandle> Tasks::of_job(const std::string& job) const {
  const std::lock_guard lock(mutex_);
  std::vector<TaskHandle> found;
  for (auto each = all_.rbegin(); each != all_.rend(); ++each)
    if ((*each)->job == job) found.push_back(*each);
  return found;
}

Maybe<TaskHandle> Tasks::find(const std::string& id) const {
  const std::lock_guard lock(mutex_);
  const auto found = std::ranges::find_if(all_, [&](const TaskHandle& task) { return task->id == id; });
  if (found == all_.end())
    return refuse(Why::not_found, "there is no such work", "the last few of each job are kept");
  return *found;
}

std::shared_ptr<const TaskResult> Tasks::latest(const std::string& job, std::int64_t revision,
                                                std::string_view what) const {
  const std::lock_guard lock(mutex_);
  for (auto each = all_.rbegin(); each != all_.rend(); ++each) {
    const Task& task = **each;
    if (task.job == job && task.revision == revision && task.asked.what == what &&
        task.state() == TaskState::done)
      return task.result();
  }
  return nullptr;
}

}  // namespace firstdraw::serve
