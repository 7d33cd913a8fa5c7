// `firstdraw simulate` as a program: its JSON against the schema, its files, its errors, and Ctrl-C. Nothing
// here depends on the numbers of the example.
#include <gmock/gmock.h>

#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli_program.hpp"
#include "places.hpp"

namespace firstdraw::golden {
namespace {

using testing::AnyOf;
using testing::Eq;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;
using Json = nlohmann::json;

const std::string clinic = "examples/clinic";

std::vector<std::string> asked(const std::vector<std::string>& more) {
  std::vector<std::string> words{"simulate", clinic, "--days", "0.5"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST(CliSimulate, JsonKeepsItsSchema) {
  const Folder folder;
  const Ran ran = firstdraw(asked({"--ensemble", "2", "--fault", "wet-insulation:R-04=3", "--json"}));
  EXPECT_THAT(ran.code, AnyOf(Eq(0), Eq(1)));
  EXPECT_THAT(ran.err, IsEmpty());
  const std::string good = folder.path("good.json"), spoilt = folder.path("spoilt.json");
  write_file(good, ran.out);
  EXPECT_EQ(validate_file(good, "forecast"), "");
  Json answer = Json::parse(ran.out);
  ASSERT_FALSE(answer.at("taps").empty());
  EXPECT_EQ(answer.at("members"), 2);
  answer.at("taps")[0].erase("hot_in_10_s_frac");
  write_file(spoilt, answer.dump());
  EXPECT_NE(validate_file(spoilt, "forecast"), "") << "a schema that takes anything says nothing";
}

TEST(CliReplay, JsonKeepsItsSchema) {
  const Folder folder;
  const std::string pipe = "examples/measured-pipe";
  const Ran ran = firstdraw({"replay", pipe, "--log", pipe + "/log-151202.csv", "--map", "inlet water=supply",
                             "--map", "outlet water=at:PIPE", "--json"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  const std::string good = folder.path("good.json"), spoilt = folder.path("spoilt.json");
  write_file(good, ran.out);
  EXPECT_EQ(validate_file(good, "replay"), "");
  Json answer = Json::parse(ran.out);
  ASSERT_FALSE(answer.empty());
  answer.erase(answer.begin());
  write_file(spoilt, answer.dump());
  EXPECT_NE(validate_file(spoilt, "replay"), "") << "a schema that takes anything says nothing";
}

TEST(CliReplay, AMissingLogIsNamedWithItsPath) {
  const Ran ran = firstdraw({"replay", "examples/measured-pipe", "--log", "nowhere/log.csv"});
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, HasSubstr("nowhere/log.csv: there is no such log"));
}

TEST(CliSimulate, ThreadsChangeNothing) {
  const std::string once = firstdraw(asked({"--ensemble", "3", "--json"})).out;
  EXPECT_EQ(once, firstdraw(asked({"--ensemble", "3", "--threads", "3", "--json"})).out);
}

TEST(CliSimulate, WritesItsTables) {
  const Folder folder;
  const Ran ran = firstdraw(asked({"--csv", folder.path("tables")}));
  EXPECT_THAT(ran.code, AnyOf(Eq(0), Eq(1)));
  EXPECT_THAT(read_file(folder.path("tables/outlets.csv")),
              StartsWith("tap,outlet,fixture,room,hot from (°F)"));
  EXPECT_THAT(read_file(folder.path("tables/runs.csv")), HasSubstr("R-04,"));
  EXPECT_THAT(read_file(folder.path("tables/groups.csv")), HasSubstr("main,"));
  EXPECT_THAT(read_file(folder.path("tables/draws.csv")), HasSubstr("O-0"));
  EXPECT_THAT(read_file(folder.path("tables/series.csv")), StartsWith("time (h),run R-01 (°F)"));
  for (const auto& entry : std::filesystem::directory_iterator(folder.path("tables")))
    EXPECT_EQ(entry.path().extension(), ".csv") << "nothing half written is left";
}

TEST(CliSimulate, TablesThatCannotBeWrittenSaySo) {
  const Folder folder;
  write_file(folder.path("taken"), "a file, not a folder");
  const Ran ran = firstdraw(asked({"--csv", folder.path("taken")}));
  EXPECT_EQ(ran.code, 4);
  EXPECT_THAT(ran.err, Not(IsEmpty()));
}

TEST(CliSimulate, EverySlipOfTheCommandLineComesAtOnce) {
  const Ran ran = firstdraw(asked({"--fault", "wet-insulatoin:R-04", "--tapping", "XXXL", "--json"}));
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(Json::parse(ran.out).at("errors").size(), 2U);
}

TEST(CliSimulate, RecordedDrawsAreLivedThrough) {
  const Folder folder;
  write_file(folder.path("log.csv"), "time (h),tap,flow (gpm),duration (s)\n7,O-01,1,60\n31,O-02#2,1,30\n");
  const Ran ran = firstdraw({"simulate", clinic, "--draws", folder.path("log.csv"), "--json"});
  const Json answer = Json::parse(ran.out);
  EXPECT_EQ(answer.at("days"), 2) << "to the end of the last day";
  EXPECT_EQ(answer.at("options").at("recorded_draws"), 2);
  EXPECT_NEAR(answer.at("building").at("litres_per_day").get<double>(), 1.5 * 3.785411784 / 2, 1e-6);
}

TEST(CliSimulate, WrongRecordedDrawsNameTheirLine) {
  const Folder folder;
  write_file(folder.path("log.csv"), "time (h),tap,flow (gpm),duration (s)\n7,O-01,1,60\n8,O-99,1,60\n");
  const Ran ran = firstdraw({"simulate", clinic, "--draws", folder.path("log.csv")});
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, HasSubstr("log.csv:3:3: draw · tap"));
}

TEST(CliSimulate, CautionsStandBelow) {
  const std::string out = firstdraw(asked({})).out;
  for (const char* caution : {"Hygiene:", "Scalding:", "Caution:"}) EXPECT_THAT(out, HasSubstr(caution));
}

TEST(CliSimulate, CtrlCKeepsWhatIsDone) {
  const Folder folder;
  const std::string program =
      places::build() + "/firstdraw simulate examples/clinic --days 366 --ensemble 1000";
  // Two seconds after the program has begun to listen for the signal (bit 2 of what it catches): it plans
  // before.
  const std::string command =
      "cd " + places::sources() + " && { " + program + " --json --csv '" + folder.path("tables") + "' >'" +
      folder.path("out") + "' & pid=$!; while kill -0 $pid && " +
      "[ $((0x$(sed -n 's/^SigCgt:.//p' /proc/$pid/status) & 2)) = 0 ]; do sleep 0.1; done; " +
      "sleep 2; kill -INT $pid; wait $pid; }";
  const int status = std::system(command.c_str());
  EXPECT_EQ(WEXITSTATUS(status), 130);
  write_file(folder.path("answer.json"), read_file(folder.path("out")));
  EXPECT_EQ(validate_file(folder.path("answer.json"), "forecast"), "") << "complete JSON of a partial answer";
  EXPECT_TRUE(Json::parse(read_file(folder.path("out"))).at("stopped").get<bool>());
  EXPECT_TRUE(std::filesystem::exists(folder.path("tables/series.csv")));
}

TEST(CliSimulate, ATerminalSeesHowFarItIs) {
  const Ran ran = firstdraw_on_a_terminal({"simulate", clinic, "--days", "300", "--color", "never"},
                                          {.columns = 80, .variables = {{"TERM", "xterm"}}});
  EXPECT_THAT(ran.out, HasSubstr("simulating"));
  EXPECT_THAT(firstdraw(asked({})).err, IsEmpty()) << "no bar in a file";
}

}  // namespace
}  // namespace firstdraw::golden
