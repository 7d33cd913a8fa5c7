#include "serve/jobs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "job/folder.hpp"
#include "serve/new_job.hpp"
#include "serve/try_schedule.hpp"
#include "units/quantity.hpp"

namespace firstdraw::serve {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t plans_kept = 4;

std::unexpected<Refusal> no_such_job(const std::string& id, const std::vector<std::string>& ids) {
  const auto near = units::nearest(id, ids);
  return refuse(Why::not_found, fmt::format("there is no job \"{}\" here", id),
                near ? fmt::format("did you mean {}?", *near) : "");
}

}  // namespace

bool is_job_folder(const fs::path& folder) {
  std::error_code ignored;
  return fs::is_regular_file(folder / "job.toml", ignored);
}

bool holds_jobs(const fs::path& folder) {
  if (is_job_folder(folder)) return true;
  std::error_code error;
  for (fs::directory_iterator each(folder, error), end; !error && each != end; each.increment(error))
    if (is_job_folder(each->path())) return true;
  return false;
}

std::string own_name(const fs::path& folder) {
  std::error_code error;
  const fs::path real = fs::weakly_canonical(folder, error);
  const fs::path path = error || real.empty() ? folder.lexically_normal() : real;
  return path.has_filename() ? path.filename().string() : path.parent_path().filename().string();
}

Maybe<Looked> OpenJob::look(const desk::Shared& snapshot, const Asked& asked) {
  if (!snapshot->job || !snapshot->plan) return refuse(snapshot->problems);
  const units::System units = asked.units.value_or(snapshot->job->units);
  if (units == snapshot->job->units && asked.samples <= 0)
    return Looked{snapshot->revision, nullptr, snapshot, false};
  const std::lock_guard lock(planning_);
  const auto found = std::ranges::find_if(kept_, [&](const Kept& kept) {
    return kept.revision == snapshot->revision && kept.units == units && kept.samples == asked.samples;
  });
  if (found != kept_.end()) return Looked{snapshot->revision, found->planned, snapshot, asked.samples > 0};
  auto planned = std::make_shared<Planned>();
  planned->job = *snapshot->job;
  planned->job.units = units;
  plan::Options options = snapshot->plan->options;
  options.samples = asked.samples;
  planned->plan = plan::make_plan(planned->job, options, known_);
  if (kept_.size() >= plans_kept) kept_.erase(kept_.begin());
  kept_.push_back({snapshot->revision, units, asked.samples, planned});
  return Looked{snapshot->revision, planned, snapshot, asked.samples > 0};
}

std::shared_ptr<const QuickWeek> OpenJob::quick_week(const Looked& looked) {
  const std::lock_guard lock(trying_);
  if (quick_week_ && quick_revision_ == looked.revision) return quick_week_;
  quick_week_ = std::make_shared<const QuickWeek>(serve::quick_week(looked.job(), looked.plan()));
  quick_revision_ = looked.revision;
  return quick_week_;
}

Jobs::Jobs(fs::path place, int threads, Changed changed)
    : place_(std::move(place)),
      only_one_(is_job_folder(place_)),
      threads_(threads),
      changed_(std::move(changed)) {}

std::vector<std::string> Jobs::ids() const {
  if (only_one_) return {own_name(place_)};
  std::vector<std::string> ids;
  std::error_code error;
  for (fs::directory_iterator each(place_, error), end; !error && each != end; each.increment(error)) {
    const std::string name = each->path().filename().string();
    if (!name.starts_with('.') && is_job_folder(each->path())) ids.push_back(name);
  }
  std::ranges::sort(ids);
  return ids;
}

std::optional<fs::path> Jobs::folder_of(const std::string& id) const {
  // Only names that were found on the disk: what a request says is never part of a path.
  const std::vector<std::string> known = ids();
  const auto found = std::ranges::find(known, id);
  if (found == known.end()) return std::nullopt;
  return only_one_ ? place_ : place_ / *found;
}

Maybe<JobHandle> Jobs::find(const std::string& id) {
  const auto folder = folder_of(id);
  if (!folder) return no_such_job(id, ids());
  const std::lock_guard lock(mutex_);
  const auto found = open_.find(id);
  if (found != open_.end()) return found->second;
  plan::Options options;
  options.samples = 0;
  options.threads = threads_;
  auto desk = desk::Desk::open(*folder, options);
  if (!desk) return refuse(std::move(desk.error()));
  auto job = std::make_shared<OpenJob>(id, *std::move(desk));
  job->desk().on_change([this, raw = job.get()](const desk::Shared& now, const desk::Step& step) {
    changed_(*raw, now, step);
  });
  open_.emplace(id, job);
  return job;
}

Maybe<JobHandle> Jobs::create(const NewJob& asked) {
  if (only_one_)
    return refuse(Why::not_allowed, "one job alone is served here",
                  "start firstdraw serve with the folder that holds your jobs");
  const auto made = make_job_folder(place_, asked);
  if (!made) return std::unexpected(made.error());
  return find(asked.id);
}

std::vector<JobHandle> Jobs::opened() {
  const std::lock_guard lock(mutex_);
  std::vector<JobHandle> jobs;
  for (const auto& [id, job] : open_) jobs.push_back(job);
  return jobs;
}

}  // namespace firstdraw::serve
