// Every case of the corpus, the found ones among them, with the ordinary compiler.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "fuzz_targets.hpp"
#include "places.hpp"

namespace firstdraw::fuzz {
namespace {

namespace fs = std::filesystem;

struct Target {
  const char* name;
  int (*one)(const std::uint8_t*, std::size_t);
};
class Corpus : public testing::TestWithParam<Target> {};

TEST_P(Corpus, NeitherCrashesNorHangsNorBreaksAPromise) {
  const Target target = GetParam();
  int cases = 0;
  for (const auto& entry : fs::directory_iterator(places::sources() + "/tests/fuzz/corpus/" + target.name)) {
    std::ifstream file(entry.path(), std::ios::binary);
    const std::string bytes(std::istreambuf_iterator<char>(file), {});
    EXPECT_EQ(target.one(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()), 0)
        << entry.path();
    ++cases;
  }
  EXPECT_GT(cases, 2) << target.name;
}

INSTANTIATE_TEST_SUITE_P(Fuzz, Corpus,
                         testing::Values(Target{"api_body", one_api_body}, Target{"archive", one_archive},
                                         Target{"csv_log", one_csv_log}, Target{"day_blob", one_day_blob},
                                         Target{"job_folder", one_job_folder},
                                         Target{"readings_csv", one_readings_csv},
                                         Target{"record_body", one_record_body},
                                         Target{"register_map", one_register_map}),
                         [](const auto& each) { return std::string(each.param.name); });

}  // namespace
}  // namespace firstdraw::fuzz
