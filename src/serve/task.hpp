// One piece of long work: how far it is, and what came of it.
#pragma once

#include <atomic>
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "forecast/forecast.hpp"
#include "serve/bodies.hpp"
#include "serve/jobs.hpp"
#include "serve/series.hpp"
#include "settings/settings.hpp"

namespace firstdraw::serve {

enum class TaskState { queued, running, done, stopped, failed };

/// What a task leaves; each is there when its kind of work has it.
struct TaskResult {
  std::string json{};  // of a simulation or a week
  std::shared_ptr<const forecast::Forecast> forecast{};
  std::shared_ptr<const settings::WeekAnswer> week{};
  std::map<std::string, std::string> files{};  // of a pack, by name
};

class Task {
 public:
  using Told = std::function<void(const Task&)>;
  Task(std::string id, std::string job, std::int64_t revision, NewTask asked, Told told);

  const std::string id, job;
  const std::int64_t revision;
  const NewTask asked;

  void cancel() { cancelled_ = true; }
  bool cancelled() const { return cancelled_; }

  // For whoever does the work. Steps are told at most ten times a second, changes of state always.
  void begin();
  /// False: it was cancelled, stop.
  bool step(const std::string& stage, double done_frac);
  /// Of a simulation, with at least one record; told with the next step.
  void show(SeriesSource so_far);
  void finish(TaskResult result, bool stopped);
  void fail(const std::string& problem);

  TaskState state() const;
  nlohmann::json json() const;
  std::shared_ptr<const TaskResult> result() const;  // null: not yet
  /// Of a simulation, also while it runs; null: nothing is simulated yet.
  std::shared_ptr<const SeriesSource> series() const;

 private:
  double seconds() const;
  void end(TaskState state);

  const Told told_;
  std::atomic<bool> cancelled_{false};
  mutable std::mutex mutex_;
  TaskState state_ = TaskState::queued;
  std::string stage_ = "waiting";
  double done_frac_ = 0;
  std::optional<std::string> problem_;
  std::chrono::steady_clock::time_point begun_{}, ended_{}, told_at_{};
  std::shared_ptr<const TaskResult> result_;
  std::shared_ptr<const SeriesSource> series_;
};
using TaskHandle = std::shared_ptr<Task>;

}  // namespace firstdraw::serve
