// What the tests of the pack share: jobs to write, and the programs that read PDFs and workbooks back.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "forecast/forecast.hpp"
#include "job/folder.hpp"
#include "paper/pack.hpp"
#include "places.hpp"
#include "plan/plan.hpp"

namespace firstdraw::golden {

namespace fs = std::filesystem;

inline std::string output_of(const std::string& command) {
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (!pipe) return "cannot start: " + command;
  std::string text;
  std::array<char, 4096> buffer{};
  for (std::size_t got = 0; (got = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
    text.append(buffer.data(), got);
  const int status = pclose(pipe);
  EXPECT_EQ(status, 0) << command << "\n" << text;
  return text;
}

inline std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

inline job::Job example(const std::string& name) {
  auto job = job::read_job(fs::path(places::sources()) / "examples" / name);
  if (!job) {
    ADD_FAILURE() << job.error().front().text();
    return {};
  }
  return std::move(*job);
}

inline plan::Plan planned(const job::Job& job) {
  plan::Options options;
  options.samples = 100;
  return plan::make_plan(job, options);
}

/// Two days: enough for every sheet.
inline forecast::Forecast simulated(const job::Job& job, const plan::Plan& plan, int threads = 1) {
  forecast::ForecastOptions options;
  options.days = 2;
  options.threads = threads;
  return forecast::forecast(job, plan, options);
}

// Names as long as anybody could paste, with and without places to break.
inline void lengthen_names(job::Job& job) {
  const std::string prose =
      " of the eastern wing behind the old boiler house, seen from the courtyard & the lift <north>";
  const std::string word(90, 'W');
  job.site.name += prose + prose + word;
  job.site.address += prose;
  job.site.project_number += word;
  job.site.prepared_by += prose;
  for (auto& level : job.levels) level.name += prose;
  for (auto& space : job.spaces) space.name += prose + word;
  for (auto& group : job.groups) group.name += word;
  for (auto& panel : job.panels) panel.name += prose, panel.location += word;
  for (auto& outlet : job.outlets) outlet.room += prose;
  for (auto& cable : job.cables) cable.name += prose;
  for (auto& run : job.runs) run.note += prose;
}

/// A folder of the test's own, empty at its start and removed at its end.
class PackFolder {
 public:
  explicit PackFolder(const std::string& name)
      : path_(fs::path(testing::TempDir()) / ("firstdraw-" + std::to_string(getpid()) + "-" + name)) {
    fs::remove_all(path_);
  }
  ~PackFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  PackFolder(const PackFolder&) = delete;
  PackFolder& operator=(const PackFolder&) = delete;
  const fs::path& path() const { return path_; }
  std::string file(const std::string& name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

}  // namespace firstdraw::golden
