// A small job folder that tests can spoil file by file.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "job/folder.hpp"
#include "places.hpp"

namespace firstdraw::job {

inline std::string texts(const std::vector<Diagnostic>& problems) {
  std::string out;
  for (const auto& problem : problems) out += problem.text() + "\n";
  return out;
}

/// A copy of a good job folder in a place of its own, removed at the end.
class TestFolder {
 public:
  explicit TestFolder(const std::string& original = "tests/golden/job_small") {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    std::string name = "firstdraw_" + std::to_string(getpid()) + "_";  // of this process: others may test too
    if (test) name += std::string(test->test_suite_name()) + "_" + test->name();
    for (char& c : name) c = c == '/' ? '_' : c;
    path = std::filesystem::path(testing::TempDir()) / name;
    std::filesystem::remove_all(path);
    std::filesystem::copy(std::filesystem::path(places::sources()) / original, path,
                          std::filesystem::copy_options::recursive);
  }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;
  ~TestFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }

  std::string text(const std::string& file) const {
    std::ifstream stream(path / file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }
  void put(const std::string& file, const std::string& text) const {
    std::ofstream(path / file, std::ios::binary) << text;
  }
  /// Replaces the first `old` by `now`; the test fails when it is not there.
  void change(const std::string& file, const std::string& old, const std::string& now) const {
    std::string all = text(file);
    const auto at = all.find(old);
    ASSERT_NE(at, std::string::npos) << old << " is not in " << file;
    put(file, all.replace(at, old.size(), now));
  }
  /// Every problem, one a line; empty when the folder reads.
  std::string problems() const {
    const auto job = read_job(path);
    return job ? std::string() : texts(job.error());
  }

  std::filesystem::path path;
};

}  // namespace firstdraw::job
