// Commands that read a job: exit codes, JSON that parses with the keys others build on, widths, colour and
// the terminal. Nothing here depends on the numbers of the examples.
#include <gmock/gmock.h>

#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli_program.hpp"
#include "places.hpp"

namespace firstdraw::golden {
namespace {

using testing::AnyOf;
using testing::Eq;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

const std::string clinic = "examples/clinic";

/// Columns of text in which every character is one column wide.
std::size_t columns(const std::string& line) {
  std::size_t count = 0;
  for (const char byte : line) count += (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U ? 1 : 0;
  return count;
}

std::size_t widest(const std::string& text) {
  std::istringstream lines(text);
  std::size_t most = 0;
  for (std::string line; std::getline(lines, line);) most = std::max(most, columns(line));
  return most;
}

TEST(CliJobs, CheckAndPlanAgreeOnTheExitCode) {
  for (const std::string command : {"check", "plan"}) {
    const Ran ran = firstdraw({command, clinic, "--json"});
    const Json json = Json::parse(ran.out);
    bool stopped = false;
    const Json& findings = json.at("findings");
    for (const Json& finding : findings)
      stopped |= finding.at("severity") == "stop" && finding.at("accepted").is_null();
    EXPECT_EQ(ran.code, stopped ? 1 : 0) << command;
    EXPECT_THAT(ran.err, IsEmpty());
  }
}

TEST(CliJobs, PlanHasTheKeysThatOthersBuildOn) {
  const Json plan = Json::parse(firstdraw({"plan", clinic, "--json", "--samples", "50"}).out);
  ASSERT_FALSE(plan.at("runs").empty());
  ASSERT_FALSE(plan.at("circuits").empty());
  for (const Json& run : plan.at("runs")) EXPECT_TRUE(run.at("id").is_string());
  for (const Json& circuit : plan.at("circuits")) EXPECT_TRUE(circuit.at("id").is_string());
}

TEST(CliJobs, TheSameSeedGivesTheSamePlan) {
  const std::vector<std::string> asked{"plan", clinic, "--json", "--samples", "64", "--seed", "7"};
  const std::string once = firstdraw(asked).out;
  EXPECT_EQ(once, firstdraw(asked).out);
}

TEST(CliJobs, FormatJsonIsTheSameAsJson) {
  EXPECT_EQ(firstdraw({"check", clinic, "--format", "json"}).out, firstdraw({"check", clinic, "--json"}).out);
}

TEST(CliJobs, NothingIsWiderThanTheTerminal) {
  for (const int width : {60, 80, 120}) {
    for (const std::string job : {"examples/clinic", "examples/hotel"}) {
      for (const std::string sections :
           {"key,groups,circuits,panels,runs,choices,materials,settings,findings,assumptions"}) {
        const Ran ran = firstdraw({"plan", job, "--samples", "20", "--show", sections},
                                  {.columns = width, .variables = {}});
        EXPECT_LE(widest(ran.out), static_cast<std::size_t>(width)) << job;
        EXPECT_GT(widest(ran.out), 40U) << "nothing was shown";
      }
    }
  }
}

TEST(CliJobs, UnitsFollowTheSwitch) {
  EXPECT_THAT(firstdraw({"plan", clinic, "--samples", "20", "--units", "metric"}).out,
              AllOf(HasSubstr("°C"), Not(HasSubstr("°F"))));
  EXPECT_THAT(firstdraw({"plan", clinic, "--samples", "20", "--units", "us", "--show", "runs"}).out,
              HasSubstr("°F"));
}

TEST(CliJobs, CautionsStandWhereSomeoneMightBuild) {
  EXPECT_THAT(firstdraw({"plan", clinic, "--samples", "20"}).out, HasSubstr("Caution:"));
}

TEST(CliJobs, NoColourInAFileUnlessForced) {
  EXPECT_THAT(firstdraw({"check", clinic}).out, Not(HasSubstr("\x1b")));
  EXPECT_THAT(firstdraw({"check", clinic, "--color", "always"}).out, HasSubstr("\x1b["));
}

TEST(CliJobs, ColourOnATerminalUnlessRefused) {
  const std::vector<std::string> asked{"check", clinic};
  EXPECT_THAT(firstdraw_on_a_terminal(asked, {.columns = 80, .variables = {{"TERM", "xterm"}}}).out,
              HasSubstr("\x1b["));
  const Setting refused{.columns = 80, .variables = {{"TERM", "xterm"}, {"NO_COLOR", "1"}}};
  EXPECT_THAT(firstdraw_on_a_terminal(asked, refused).out, Not(HasSubstr("\x1b")));
}

TEST(CliJobs, ATerminalsWidthIsUsed) {
  const Ran ran = firstdraw_on_a_terminal({"check", clinic, "--assumptions", "--color", "never"},
                                          {.columns = 50, .variables = {{"TERM", "xterm"}}});
  std::string text;
  for (const char byte : ran.out) text += byte == '\r' ? std::string() : std::string(1, byte);
  EXPECT_THAT(text, Not(testing::IsEmpty()));
  EXPECT_LE(widest(text), 50U);
}

TEST(CliJobs, ReadingErrorsAllComeAtOnceWithTheirPlace) {
  const Ran ran = firstdraw({"check", "tests/golden/job_broken", "--json"});
  EXPECT_EQ(ran.code, 3);
  const Json errors = Json::parse(ran.out).at("errors");
  ASSERT_GT(errors.size(), 1U);
  for (const Json& error : errors) {
    EXPECT_TRUE(error.contains("file"));
    EXPECT_TRUE(error.contains("message"));
  }
  EXPECT_EQ(firstdraw({"check", "tests/golden/job_broken"}).code, 3);
}

TEST(CliJobs, NewMakesAJobThatChecks) {
  const Folder folder;
  const std::string job = folder.path("riverside");
  EXPECT_EQ(firstdraw({"new", job}).code, 0);
  EXPECT_THAT(firstdraw({"check", job}).code, AnyOf(Eq(0), Eq(1)));
  const Ran again = firstdraw({"new", job, "--json"});
  EXPECT_EQ(again.code, 4) << "a folder that holds something is left alone";
  EXPECT_TRUE(Json::parse(again.out).contains("errors"));
}

TEST(CliJobs, AJobMayHaveTheNameOfACommand) {
  EXPECT_EQ(firstdraw({"check", "plan"}).code, 3) << "plan is taken for a folder, which is not there";
}

TEST(CliJobs, PackListsWhatItWrote) {
  const Folder folder;
  const Ran ran =
      firstdraw({"pack", clinic, "-o", folder.path("pack"), "--samples", "20", "--no-week", "--json"});
  EXPECT_THAT(ran.code, AnyOf(Eq(0), Eq(1)));
  const Json files = Json::parse(ran.out).at("files");
  ASSERT_FALSE(files.empty());
  for (const Json& file : files)
    EXPECT_TRUE(std::filesystem::exists(file.at("path").get<std::string>())) << file;
}

TEST(CliJobs, APackThatCannotBeWrittenSaysSo) {
  const Folder folder;
  write_file(folder.path("taken"), "a file, not a folder");
  const Ran ran = firstdraw({"pack", clinic, "-o", folder.path("taken"), "--samples", "20", "--no-week"});
  EXPECT_EQ(ran.code, 4);
  EXPECT_THAT(ran.err, Not(IsEmpty()));
}

TEST(CliJobs, AFullDiskIsNotSuccess) {
  const int status = std::system((places::build() + "/firstdraw help >/dev/full 2>/dev/null").c_str());
  EXPECT_EQ(WEXITSTATUS(status), 4);
}

/// What bash offers after `words`, the last of which is being typed.
std::string offered(const std::string& words) {
  const Folder folder;
  write_file(folder.path("script"),
             firstdraw({"completion", "bash"}).out + "\nCOMP_WORDS=(" + words +
                 ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_firstdraw\necho \"${COMPREPLY[@]}\"\n");
  const std::string line = "bash '" + folder.path("script") + "' >'" + folder.path("offered") + "' 2>&1";
  if (std::system(line.c_str()) == -1) return "cannot start a shell";
  return read_file(folder.path("offered"));
}

TEST(CliJobs, BashCompletesCommandsOptionsAndChoices) {
  EXPECT_EQ(offered("firstdraw che"), "check\n");
  EXPECT_EQ(offered("firstdraw plan --sam"), "--samples\n");
  EXPECT_EQ(offered("firstdraw plan --units ''"), "us metric\n");
  EXPECT_EQ(offered("firstdraw completion ''"), "bash zsh fish\n");
  EXPECT_EQ(offered("firstdraw help lo"), "loss\n");
}

TEST(CliJobs, QuickAnswersKeepTheirSchemas) {
  const Folder folder;
  const std::string loss = folder.path("loss.json"), cable = folder.path("cable.json");
  write_file(loss, firstdraw({"loss", "--pipe", "copper L 1", "--insulation", "glass fibre 1 in", "--water",
                              "115F", "--air", "70F", "--length", "10 ft", "--vertical", "2 m", "--json"})
                       .out);
  write_file(cable, firstdraw({"cable", "tests/golden/cli/cable.toml", "--pipe-temp", "46C", "--voltage",
                               "208V", "--length", "10 m", "--json"})
                        .out);
  EXPECT_EQ(validate_file(loss, "loss"), "");
  EXPECT_EQ(validate_file(cable, "cable-answer"), "");
  EXPECT_NE(validate_file(loss, "cable-answer"), "") << "a schema that takes anything says nothing";
}

TEST(CliJobs, ExplainKnowsEveryFindingOfAPlan) {
  const Json plan = Json::parse(firstdraw({"plan", "examples/hotel", "--json", "--samples", "20"}).out);
  const Json kinds = Json::parse(firstdraw({"explain", "--json"}).out).at("finding_kinds");
  EXPECT_GE(kinds.size(), 30U);
  for (const Json& finding : plan.at("findings")) {
    const auto is_it = [&finding](const Json& kind) { return kind.at("id") == finding.at("id"); };
    EXPECT_TRUE(std::any_of(kinds.begin(), kinds.end(), is_it)) << finding;
  }
}

}  // namespace
}  // namespace firstdraw::golden
