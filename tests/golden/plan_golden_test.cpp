// The plan of the example clinic against the one kept in plan_clinic.json: a regression check only, these
// numbers are our own and prove nothing. After a change that is meant to move them: FIRSTDRAW_REFRESH=1
// build/release/test_golden Also checked here: the JSON of every example against the schema.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "job/folder.hpp"
#include "places.hpp"
#include "plan/plan.hpp"

namespace firstdraw {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

const fs::path source_dir = places::sources();

json plan_of(const std::string& example) {
  const auto job = job::read_job(source_dir / "examples" / example);
  if (!job) throw std::runtime_error(job.error().front().text());
  return plan::to_json(*job, plan::make_plan(*job));
}

/// Numbers may differ by a rounding that spreads through a solver; nothing else may.
constexpr double relative_tolerance = 1e-6, absolute_tolerance = 1e-9;

void compare(const json& kept, const json& now, const std::string& where,
             std::vector<std::string>& differences) {
  const auto differ = [&] { differences.push_back(where + ": kept " + kept.dump() + ", now " + now.dump()); };
  if (kept.is_number() && now.is_number()) {
    const double a = kept.get<double>(), b = now.get<double>();
    if (std::abs(a - b) > absolute_tolerance + relative_tolerance * std::abs(a)) differ();
  } else if (kept.is_array() && now.is_array() && kept.size() == now.size()) {
    for (std::size_t i = 0; i < kept.size(); ++i)
      compare(kept[i], now[i], where + "/" + std::to_string(i), differences);
  } else if (kept.is_object() && now.is_object() && kept.size() == now.size()) {
    for (const auto& [key, value] : kept.items())
      compare(value, now.contains(key) ? now[key] : json(), where + "/" + key, differences);
  } else if (kept != now) {
    differ();
  }
}

TEST(GoldenPlan, Clinic) {
  const fs::path file = source_dir / "tests/golden/plan_clinic.json";
  const json now = plan_of("clinic");
  if (std::getenv("FIRSTDRAW_REFRESH") != nullptr) {
    std::ofstream(file) << now.dump(1) << '\n';
    GTEST_SKIP() << "refreshed " << file;
  }
  std::ifstream stream(file);
  ASSERT_TRUE(stream) << file;
  std::vector<std::string> differences;
  compare(json::parse(stream), now, "", differences);
  for (std::size_t i = 0; i < std::min<std::size_t>(differences.size(), 20); ++i)
    ADD_FAILURE() << differences[i];
}

class ExamplePlan : public testing::TestWithParam<std::string> {};

TEST_P(ExamplePlan, MatchesTheSchema) {
  const fs::path file = fs::temp_directory_path() / ("firstdraw_plan_" + GetParam() + ".json");
  std::ofstream(file) << plan_of(GetParam()).dump(1) << '\n';
  const std::string command = "/usr/bin/python3 '" + (source_dir / "tests/golden/plan_validate.py").string() +
                              "' '" + (source_dir / "schemas").string() + "' '" + file.string() + "'";
  EXPECT_EQ(std::system(command.c_str()), 0);
  fs::remove(file);
}

TEST_P(ExamplePlan, EveryRunAndCircuitHasItsIdOnce) {
  const json plan = plan_of(GetParam());
  for (const char* list : {"runs", "circuits", "groups"}) {
    std::set<std::string> ids;
    for (const json& item : plan[list])
      EXPECT_TRUE(ids.insert(item["id"].get<std::string>()).second) << item["id"];
    EXPECT_FALSE(ids.empty()) << list;
  }
  for (const json& circuit : plan["circuits"])
    for (const json& id : circuit["runs"])
      for (const json& run : plan["runs"])
        if (run["id"] == id) {
          EXPECT_EQ(run["circuit"], circuit["id"]);
        }
}

INSTANTIATE_TEST_SUITE_P(Examples, ExamplePlan, testing::Values("clinic", "care-home", "hotel"),
                         [](const auto& example) {
                           std::string name = example.param;
                           std::erase(name, '-');
                           return name;
                         });

}  // namespace
}  // namespace firstdraw
