// The jobs that are served: one folder each, opened when first asked for, shared by everybody who looks.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "desk/desk.hpp"
#include "plan/plan.hpp"
#include "power/known.hpp"
#include "serve/answer.hpp"
#include "serve/bodies.hpp"

namespace firstdraw::serve {

/// A job and its plan in the units and with the samples that were asked for.
struct Planned {
  job::Job job;
  plan::Plan plan;
};
struct Looked {
  std::int64_t revision = 0;
  std::shared_ptr<const Planned> kept{};  // when it is not the snapshot's own
  desk::Shared snapshot{};
  bool sampled = false;
  const job::Job& job() const { return kept ? kept->job : *snapshot->job; }
  const plan::Plan& plan() const { return kept ? kept->plan : *snapshot->plan; }
};
struct Asked {
  std::optional<units::System> units{};
  int samples = 0;
};

struct QuickWeek;

class OpenJob {
 public:
  OpenJob(std::string id, std::unique_ptr<desk::Desk> desk) : id_(std::move(id)), desk_(std::move(desk)) {}

  const std::string& id() const { return id_; }
  desk::Desk& desk() { return *desk_; }
  /// As it stands now, planned as asked; refused when the text does not read. Plans other than the desk's own
  /// are kept for a while.
  Maybe<Looked> look(const Asked& asked = {}) { return look(desk_->now(), asked); }
  Maybe<Looked> look(const desk::Shared& snapshot, const Asked& asked);
  /// For trying schedules; made at the first call for a revision.
  std::shared_ptr<const QuickWeek> quick_week(const Looked& looked);
  /// Texts that whoever looks at this job asks for.
  ShownOnce shown{6};

 private:
  struct Kept {
    std::int64_t revision = 0;
    units::System units{};
    int samples = 0;
    std::shared_ptr<const Planned> planned;
  };
  const std::string id_;
  std::unique_ptr<desk::Desk> desk_;
  std::mutex planning_;
  std::vector<Kept> kept_;  // latest last
  std::shared_ptr<power::Known> known_ = std::make_shared<power::Known>();
  std::mutex trying_;
  std::int64_t quick_revision_ = -1;
  std::shared_ptr<const QuickWeek> quick_week_;
};
using JobHandle = std::shared_ptr<OpenJob>;

class Jobs {
 public:
  using Changed = std::function<void(OpenJob&, const desk::Shared&, const desk::Step&)>;
  /// `place`: a job folder, or a folder of them, which may be empty. Threads plan.
  Jobs(std::filesystem::path place, int threads, Changed changed);

  /// Names of the jobs there are, sorted; the disk is looked at.
  std::vector<std::string> ids() const;
  /// Opens it if need be. Refused: no such job.
  Maybe<JobHandle> find(const std::string& id);
  /// A new folder beside the others, whole or not at all.
  Maybe<JobHandle> create(const NewJob& asked);
  /// Those that somebody asked for.
  std::vector<JobHandle> opened();

 private:
  std::optional<std::filesystem::path> folder_of(const std::string& id) const;

  const std::filesystem::path place_;
  const bool only_one_;
  const int threads_;
  const Changed changed_;
  std::mutex mutex_;
  std::map<std::string, JobHandle> open_;
};

bool is_job_folder(const std::filesystem::path& folder);
/// The folder is a job or holds one.
bool holds_jobs(const std::filesystem::path& folder);
/// The folder's own name, whatever way it was given.
std::string own_name(const std::filesystem::path& folder);

}  // namespace firstdraw::serve
