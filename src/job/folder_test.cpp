#include "job/folder.hpp"

#include <gtest/gtest.h>

#include <filesystem>

namespace firstdraw::job {
namespace {

namespace fs = std::filesystem;

const fs::path examples = fs::path(FIRSTDRAW_SOURCE_DIR) / "examples";

std::string texts(const std::vector<Diagnostic>& problems) {
  std::string out;
  for (const auto& problem : problems) out += problem.text() + "\n";
  return out;
}

class Example : public testing::TestWithParam<const char*> {};

TEST_P(Example, ReadsWithoutAProblem) {
  const auto job = read_job(examples / GetParam());
  ASSERT_TRUE(job) << texts(job.error());
}

TEST_P(Example, ComesBackEqualWhenWrittenAndReadAgain) {
  const auto job = read_job(examples / GetParam());
  ASSERT_TRUE(job) << texts(job.error());
  const fs::path folder = fs::path(testing::TempDir()) / ("firstdraw_again_" + std::string(GetParam()));
  fs::remove_all(folder);
  const auto written = write_job(*job, folder);
  ASSERT_TRUE(written) << texts(written.error());
  const auto again = read_job(folder);
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_TRUE(*again == *job);
}

INSTANTIATE_TEST_SUITE_P(Examples, Example, testing::Values("clinic", "hotel", "care-home"), [](const auto& example) {
  std::string name = example.param;
  std::erase(name, '-');
  return name;
});

}  // namespace
}  // namespace firstdraw::job
