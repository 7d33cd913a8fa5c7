#include "serve/task.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

using std::chrono::steady_clock;
constexpr std::chrono::milliseconds least_between{100};

std::string_view name_of(TaskState state) {
  switch (state) {
    case TaskState::queued:
      return "queued";
    case TaskState::running:
      return "running";
    case TaskState::done:
      return "done";
    case TaskState::stopped:
      return "stopped";
    case TaskState::failed:
      break;
  }
  return "failed";
}

}  // namespace

Task::Task(std::string task_id, std::string of_job, std::int64_t of_revision, NewTask what, Told told)
    : id(std::move(task_id)),
      job(std::move(of_job)),
      revision(of_revision),
      asked(std::move(what)),
      told_(std::move(told)) {}

void Task::begin() {
  {
    const std::lock_guard lock(mutex_);
    state_ = TaskState::running;
    begun_ = told_at_ = steady_clock::now();
    stage_ = "beginning";
  }
  told_(*this);
}

bool Task::step(const std::string& stage, double done_frac) {
  {
    const std::lock_guard lock(mutex_);
    stage_ = stage;
    // Work of several threads may report out of turn: whoever waits never sees it go back.
    if (std::isfinite(done_frac)) done_frac_ = std::clamp(done_frac, done_frac_, 1.0);
    const auto now = steady_clock::now();
    if (now - told_at_ < least_between) return !cancelled_;
    told_at_ = now;
  }
  told_(*this);
  return !cancelled_;
}

void Task::show(SeriesSource so_far) {
  auto shared = std::make_shared<const SeriesSource>(std::move(so_far));
  const std::lock_guard lock(mutex_);
  series_ = std::move(shared);
}

void Task::end(TaskState state) {
  {
    const std::lock_guard lock(mutex_);
    state_ = state;
    ended_ = steady_clock::now();
    stage_ = std::string(name_of(state));
    if (state == TaskState::done) done_frac_ = 1;
  }
  told_(*this);
}

void Task::finish(TaskResult result, bool stopped) {
  {
    const std::lock_guard lock(mutex_);
    result_ = std::make_shared<const TaskResult>(std::move(result));
  }
  end(stopped ? TaskState::stopped : TaskState::done);
}

void Task::fail(const std::string& problem) {
  {
    const std::lock_guard lock(mutex_);
    problem_ = problem;
  }
  end(cancelled_ ? TaskState::stopped : TaskState::failed);
}

TaskState Task::state() const {
  const std::lock_guard lock(mutex_);
  return state_;
}

double Task::seconds() const {
  if (begun_ == steady_clock::time_point{}) return 0;
  const auto until = ended_ == steady_clock::time_point{} ? steady_clock::now() : ended_;
  return std::chrono::duration<double>(until - begun_).count();
}

nlohmann::json Task::json() const {
  const std::lock_guard lock(mutex_);
  return {{"id", id},
          {"job", job},
          {"revision", revision},
          {"what", asked.what},
          {"state", name_of(state_)},
          {"stage", stage_},
          {"done_frac", std::round(1000 * done_frac_) / 1000},
          {"seconds", std::round(10 * seconds()) / 10},
          {"problem", problem_ ? nlohmann::json(*problem_) : nlohmann::json()},
          {"recorded_s", series_ ? nlohmann::json(series_->records.time_s.back()) : nlohmann::json()}};
}

std::shared_ptr<const TaskResult> Task::result() const {
  const std::lock_guard lock(mutex_);
  return result_;
}

std::shared_ptr<const SeriesSource> Task::series() const {
  const std::lock_guard lock(mutex_);
  return series_;
}

}  // namespace firstdraw::serve
