// All that the routes share: jobs, events, tasks, records, devices.
#pragma once

#include <filesystem>
#include <string>

#include "serve/access.hpp"
#include "serve/books.hpp"
#include "serve/events.hpp"
#include "serve/jobs.hpp"
#include "serve/tasks.hpp"
#include "serve/uploads.hpp"

namespace firstdraw::serve {

struct HouseOptions {
  std::filesystem::path place;  // a job folder, or one of jobs
  std::filesystem::path state;  // where devices, links and uploads are kept; made if missing
  std::string store{};          // --store; empty: JOB/records.db
  std::string version{};
  bool lan = false;
  int threads = 1;  // that plan and simulate
};

struct House {
  explicit House(HouseOptions options);
  House(const House&) = delete;
  House& operator=(const House&) = delete;
  ~House();

  const HouseOptions options;
  Events events;
  Books books;
  Uploads uploads;
  Access access;
  Jobs jobs;
  Tasks tasks;
  // How the network reaches us; empty without --lan.
  std::string lan_address{}, fingerprint{};

  /// Looks whether other programs changed a job that is open, or recorded something.
  void look_around();
  /// The job that a path names.
  Maybe<JobHandle> job(const std::string& id) { return jobs.find(id); }
};

}  // namespace firstdraw::serve
