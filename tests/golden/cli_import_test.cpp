// `firstdraw watch import` as a user meets it: the two invented logs of the clinic, what was planted in them
// (examples/clinic-logs/README.md), a guess that is held back, a format file, the same file twice.
#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli_program.hpp"

namespace firstdraw::golden {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using Json = nlohmann::json;

class CliImport : public testing::Test {
 protected:
  Ran import(const std::string& log, std::vector<std::string> more) const {
    more.insert(more.begin(),
                {"watch", "import", "examples/clinic", "--log", log, "--store", store_, "--json"});
    return firstdraw(more);
  }
  Json imported(const std::string& log, const std::vector<std::string>& more, int code = 0) const {
    const Ran ran = import(log, more);
    EXPECT_EQ(ran.code, code) << ran.out << ran.err;
    Json answer = Json::parse(ran.out);
    EXPECT_EQ(validate_text(answer.dump(), "log-import"), "");
    return answer;
  }
  static std::vector<std::string> kinds(const Json& answer) {
    std::vector<std::string> found;
    for (const Json& oddity : answer.at("oddities")) found.push_back(oddity.at("kind"));
    std::ranges::sort(found);
    return found;
  }
  Folder folder_;
  std::string store_ = folder_.path("records.db");
  std::string european_ = "examples/clinic-logs/european.csv",
              american_ = "examples/clinic-logs/american.csv";
};

TEST_F(CliImport, WhatWasPlantedIsFoundAndNothingElse) {
  const Json european = imported(european_, {"--dry-run"});
  EXPECT_THAT(european.at("doubts"), IsEmpty());
  EXPECT_THAT(kinds(european), ElementsAre("duplicate", "gap", "stuck"));
  const Json american = imported(american_, {"--dry-run"});
  EXPECT_THAT(american.at("doubts"), IsEmpty());
  EXPECT_THAT(kinds(american), ElementsAre("clock-jump", "out-of-range"));
  EXPECT_FALSE(std::filesystem::exists(store_));
}

TEST_F(CliImport, TheSameFileTwiceChangesNothing) {
  const Json first = imported(european_, {"--who", "A. Writer"});
  EXPECT_TRUE(first.at("stored"));
  EXPECT_EQ(first.at("record"), 1);
  EXPECT_EQ(first.at("series").at(0).at("stored").at("added"), first.at("series").at(0).at("readings"));
  const Json second = imported(european_, {"--who", "A. Writer"});
  EXPECT_FALSE(second.at("stored"));
  EXPECT_EQ(second.at("record"), 1);
  EXPECT_NE(second.at("known_since"), "");
  const Ran verified = firstdraw({"verify", "examples/clinic", "--store", store_});
  EXPECT_EQ(verified.code, 0) << verified.out << verified.err;
}

TEST_F(CliImport, AGuessWithDoubtsIsHeldBackUntilSomebodySays) {
  const std::string log = folder_.path("march.csv"), format = folder_.path("logger.toml");
  write_file(log,
             "Time,Main pipe (°C)\n03/04/2026 10:00,51.2\n03/04/2026 10:05,51.3\n03/04/2026 10:10,51.1\n");
  const Json held = imported(log, {"--who", "A. Writer"}, 1);
  EXPECT_TRUE(held.at("held_back"));
  EXPECT_THAT(held.at("doubts").at(0).get<std::string>(), HasSubstr("day and month cannot be told apart"));
  EXPECT_FALSE(std::filesystem::exists(store_));
  imported(log, {"--dry-run", "--save-format", format});
  std::string toml = read_file(format);
  const std::string guessed = "month-day-year";
  ASSERT_NE(toml.find(guessed), std::string::npos);
  toml.replace(toml.find(guessed), guessed.size(), "day-month-year");
  write_file(format, toml);
  const Json stored = imported(log, {"--who", "A. Writer", "--format", format});
  EXPECT_TRUE(stored.at("stored"));
  EXPECT_EQ(stored.at("series").at(0).at("first"), "2026-04-03T14:00:00Z");
}

TEST_F(CliImport, WhatIsNoLogGivesOneError) {
  const Ran ran = import("examples/clinic/runs.csv", {"--dry-run"});
  EXPECT_EQ(ran.code, 3);
  EXPECT_EQ(Json::parse(ran.out).at("errors").size(), 1U);
  EXPECT_EQ(import("no-such.csv", {"--dry-run"}).code, 3);
}

}  // namespace
}  // namespace firstdraw::golden
