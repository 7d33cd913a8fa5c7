// `firstdraw week` as a program: its JSON against the schema, what it does with bad input, and Ctrl-C.
// Nothing here depends on the numbers of the example.
#include <gmock/gmock.h>

#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "cli_program.hpp"
#include "places.hpp"

namespace firstdraw::golden {
namespace {

using testing::AllOf;
using testing::AnyOf;
using testing::Eq;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

const std::string clinic = places::sources() + "/examples/clinic";

/// The clinic in a folder of its own, with its job.toml changed.
class ClinicCopy {
 public:
  ClinicCopy() {
    std::filesystem::copy(clinic, path(), std::filesystem::copy_options::recursive);
    toml_ = read_file(path() + "/job.toml");
  }

  ClinicCopy& change(const std::string& from, const std::string& to) {
    const std::size_t at = toml_.find(from);
    if (at == std::string::npos) throw std::runtime_error("the clinic's job.toml has no " + from);
    toml_.replace(at, from.size(), to);
    write_file(path() + "/job.toml", toml_);
    return *this;
  }
  ClinicCopy& add(const std::string& file, const std::string& text) {
    write_file(path() + "/" + file, text);
    return *this;
  }

  std::string path() const { return folder_.path("clinic"); }
  Ran week(std::vector<std::string> more = {}) const {
    std::vector<std::string> words{"week", path(), "--quick", "--members", "2"};
    words.insert(words.end(), more.begin(), more.end());
    return firstdraw(words);
  }

 private:
  Folder folder_;
  std::string toml_;
};

const std::string zone_line = "zone = \"America/New_York\"";
const std::string file_line = "# file = \"tariff.csv\"";

TEST(CliWeek, JsonKeepsItsSchema) {
  const Ran ran = firstdraw({"week", clinic, "--members", "2", "--weeks", "2", "--json"});
  EXPECT_THAT(ran.code, AnyOf(Eq(0), Eq(1)));
  EXPECT_THAT(ran.err, IsEmpty());
  Json answer = Json::parse(ran.out);
  EXPECT_EQ(validate_text(answer.dump(), "week"), "");
  ASSERT_FALSE(answer.at("seasons").empty());
  ASSERT_FALSE(answer.at("hygiene").empty());
  ASSERT_FALSE(answer.at("alarms").empty());
  EXPECT_EQ(answer.at("members"), 2);
  const double week = answer.at("cost_per_year"), on = answer.at("cost_per_year_always_on");
  EXPECT_NEAR(answer.at("saving_frac").get<double>(), 1 - week / on, 1e-6);
  EXPECT_LE(answer.at("bound_per_year").get<double>(), answer.at("model_cost_per_year").get<double>());
  answer.at("seasons")[0].at("groups")[0].erase("entries");
  EXPECT_NE(validate_text(answer.dump(), "week"), "") << "a schema that takes anything says nothing";
}

TEST(CliWeek, ThreadsChangeNothing) {
  const std::vector<std::string> asked{"week", clinic, "--quick", "--members", "2", "--json", "--threads"};
  std::vector<std::string> one = asked, three = asked;
  one.emplace_back("1");
  three.emplace_back("3");
  EXPECT_EQ(firstdraw(one).out, firstdraw(three).out);
}

TEST(CliWeek, CautionsStandBelow) {
  const std::string out = ClinicCopy().week().out;
  for (const char* caution : {"Hygiene:", "Scalding:", "Caution:"}) EXPECT_THAT(out, HasSubstr(caution));
}

TEST(CliWeek, TomlGoesBackIntoTheJob) {
  ClinicCopy job;
  const Ran ran = job.week({"--toml"});
  EXPECT_THAT(ran.code, AnyOf(Eq(0), Eq(1)));
  EXPECT_THAT(ran.out, HasSubstr("job.toml"));
  EXPECT_THAT(ran.err, IsEmpty());
  job.change("[tariff]", ran.out + "\n[tariff]");
  EXPECT_THAT(firstdraw({"check", job.path()}).code, AnyOf(Eq(0), Eq(1)));
}

TEST(CliWeek, AMissingZoneSaysWhatToWrite) {
  const Ran ran = ClinicCopy().change(zone_line, "").week();
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("job.toml"), HasSubstr("tariff.zone"), HasSubstr("is missing")));
}

TEST(CliWeek, AnUnknownZoneNamesTheNearest) {
  const Ran ran = ClinicCopy().change(zone_line, "zone = \"America/New_Yrok\"").week();
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("tariff.zone"), HasSubstr("America/New_York")));
}

TEST(CliWeek, ABrokenTariffTableNamesItsLine) {
  ClinicCopy job;
  job.change(file_line, "file = \"tariff.csv\"")
      .add("tariff.csv",
           "charge,name,days,from,to,months,up_to,price,demand_price,ratchet\n"
           "energy,day,all,00:00,24:00,all,,dear,,\n");
  const Ran ran = job.week();
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("tariff.csv:2:"), HasSubstr("price")));
  const Ran check = firstdraw({"check", job.path()});
  EXPECT_EQ(check.code, 3) << "shown before anything is computed";
  EXPECT_THAT(check.err, HasSubstr("tariff.csv:2:"));
}

TEST(CliWeek, ABrokenTariffRecordNamesItsField) {
  ClinicCopy job;
  job.change(file_line, "file = \"tariff.json\"")
      .add("tariff.json", "{\"name\": \"invented\",\n \"energyratestructure\": [[{\"rate\": \"dear\"}]]}\n");
  const Ran ran = job.week();
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("tariff.json"), HasSubstr("energyratestructure")));
  const Ran cut = job.add("tariff.json", "{\"name\": \"invented\",\n").week();
  EXPECT_EQ(cut.code, 3);
  EXPECT_THAT(cut.err, HasSubstr("tariff.json"));
}

TEST(CliWeek, AnUnknownFixtureOfComfortNamesTheNearest) {
  const Ran ran = ClinicCopy()
                      .change("[[comfort]]\nfixture = \"lavatory\"", "[[comfort]]\nfixture = \"lavatroy\"")
                      .week();
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("job.toml:"), HasSubstr("did you mean \"lavatory\"?")));
}

TEST(CliWeek, WhatCannotBeKeptGivesNoSettings) {
  ClinicCopy job;
  job.change("highest = \"145 °F\"", "highest = \"100 °F\"");
  const Ran text = job.week();
  EXPECT_EQ(text.code, 1);
  EXPECT_THAT(text.out, AllOf(HasSubstr("No week keeps what is asked"), Not(HasSubstr("Set-point"))));
  const Ran ran = job.week({"--json"});
  EXPECT_EQ(ran.code, 1);
  const Json answer = Json::parse(ran.out);
  EXPECT_EQ(validate_text(answer.dump(), "week"), "");
  EXPECT_FALSE(answer.at("unmet").empty());
  EXPECT_TRUE(answer.at("cost_per_year").is_null());
  const Ran toml = job.week({"--toml"});
  EXPECT_EQ(toml.code, 1);
  EXPECT_THAT(toml.out, IsEmpty());
  EXPECT_THAT(toml.err, Not(IsEmpty()));
}

TEST(CliWeek, AGroupWithoutASensorHasNoCutOut) {
  ClinicCopy job;
  job.change("control = \"pipe-sensor\"", "control = \"entered-ambient\"");
  const Ran ran = firstdraw({"week", job.path(), "--members", "2", "--weeks", "2", "--json"});
  EXPECT_THAT(ran.code, AnyOf(Eq(0), Eq(1))) << ran.out;
  const Json answer = Json::parse(ran.out);
  EXPECT_EQ(validate_text(answer.dump(), "week"), "");
  for (const Json& group : answer.at("alarms")) {
    EXPECT_TRUE(group.at("cutout_c").is_null());
    for (const Json& alarm : group.at("alarms")) EXPECT_EQ(alarm.at("kind"), "low-current");
  }
}

TEST(CliWeek, APackWithoutAZoneSaysHowToGetTheWeek) {
  ClinicCopy job;
  job.change(zone_line, "");
  const Folder folder;
  const std::vector<std::string> asked{"pack",      job.path(), "-o",           folder.path("pack"),
                                       "--samples", "20",       "--no-forecast"};
  EXPECT_THAT(firstdraw(asked).out, HasSubstr("[tariff] section"));
  std::vector<std::string> with = asked;
  with.emplace_back("--week");
  const Ran ran = firstdraw(with);
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, HasSubstr("tariff.zone"));
}

TEST(CliWeek, EverySlipOfTheCommandLineComesAtOnce) {
  const Ran ran = ClinicCopy().week({"--step", "7 min", "--toml", "--season", "all yaer", "--json"});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(Json::parse(ran.out).at("errors").size(), 2U);
  EXPECT_EQ(ClinicCopy().week({"--season", "winter"}).code, 2) << "only with --toml";
}

TEST(CliWeek, WrongRecordedDrawsNameTheirLine) {
  const Folder folder;
  write_file(folder.path("log.csv"), "time (h),tap,flow (gpm),duration (s)\n7,O-01,1,60\n8,O-99,1,60\n");
  const Ran ran = ClinicCopy().week({"--draws", folder.path("log.csv")});
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, HasSubstr("log.csv:3:3: draw · tap"));
}

TEST(CliWeek, CtrlCKeepsTheJsonWhole) {
  const Folder folder;
  const std::string command = "timeout --preserve-status -s INT 2 " + places::build() + "/firstdraw week '" +
                              clinic + "' --members 5000 --json >'" + folder.path("out") + "'";
  EXPECT_EQ(WEXITSTATUS(std::system(command.c_str())), 130);
  const Json answer = Json::parse(read_file(folder.path("out")));
  EXPECT_EQ(validate_text(answer.dump(), "week"), "");
  EXPECT_TRUE(answer.at("stopped").get<bool>());
  EXPECT_TRUE(answer.at("seasons").empty()) << "half a proof is none";
}

}  // namespace
}  // namespace firstdraw::golden
