// The whole list of complaints about one badly broken folder, line by line. To accept a deliberate change of
// words: FIRSTDRAW_REFRESH=1 test_golden, then read the difference.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

#include "job/folder.hpp"
#include "places.hpp"

namespace firstdraw::job {
namespace {

const std::string golden = places::sources() + "/tests/golden/";

std::string file_text(const std::string& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

TEST(JobErrors, OfABadlyBrokenFolder) {
  const auto job = read_job(golden + "job_broken");
  ASSERT_FALSE(job);
  std::string said;
  for (const auto& problem : job.error()) said += problem.text() + "\n";
  if (std::getenv("FIRSTDRAW_REFRESH")) std::ofstream(golden + "job_broken.txt", std::ios::binary) << said;
  EXPECT_EQ(said, file_text(golden + "job_broken.txt"));
}

}  // namespace
}  // namespace firstdraw::job
