// `firstdraw record` and `firstdraw verify` as a user meets them, on the SQLite file of a job folder and,
// where there is a server, on PostgreSQL.
#include <gmock/gmock.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli_program.hpp"
#include "places.hpp"

namespace firstdraw::golden {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

/// A job folder of its own, called "riverside".
class CliRecords : public testing::Test {
 protected:
  void SetUp() override {
    fs::copy(places::sources() + "/examples/clinic", job_, fs::copy_options::recursive);
    write_file(folder_.path("photo.jpg"), "not really a picture");
  }
  Ran record(std::vector<std::string> more, bool json = true) const {
    more.insert(more.begin(), {"record", job_});
    if (json) more.emplace_back("--json");
    return firstdraw(more);
  }
  Json recorded(std::vector<std::string> more) const {
    more.insert(more.end(), {"--who", "Ada Example", "--at", "2026-11-29T14:05:00-06:00"});
    const Ran ran = record(more);
    EXPECT_EQ(ran.code, 0) << ran.out << ran.err;
    return Json::parse(ran.out);
  }
  Folder folder_;
  std::string job_ = folder_.path("riverside");
};

TEST_F(CliRecords, ARecordKeepsItsSchemaAndItsTextItsHash) {
  const Json note =
      recorded({"--note", "gauge replaced", "--place", "R1", "--instrument", "clamp, SN 7, 2027-03-01"});
  EXPECT_EQ(note.at("number"), 1);
  EXPECT_EQ(note.at("book"), "riverside");
  EXPECT_EQ(note.at("instruments").at(0).at("serial"), "SN 7");
  EXPECT_EQ(validate_text(note.dump(), "record"), "");
  EXPECT_EQ(validate_text(note.dump(), "record-bodies"), "");
  write_file(folder_.path("text"), note.at("canonical_text").get<std::string>());
  const std::string command = "echo '" + note.at("hash").get<std::string>() + "  " + folder_.path("text") +
                              "' | sha256sum --check --status";
  EXPECT_EQ(std::system(command.c_str()), 0);
  Json spoilt = note;
  spoilt.erase("who");
  EXPECT_NE(validate_text(spoilt.dump(), "record"), "") << "a schema that takes anything says nothing";
}

TEST_F(CliRecords, ARevisionComesBackAsItWas) {
  fs::create_directory(job_ + "/.hidden");
  write_file(job_ + "/.hidden/file", "x");
  const Json revision = recorded({"--revision", "as-designed"});
  EXPECT_EQ(validate_text(revision.dump(), "record-bodies"), "");
  write_file(job_ + "/runs.csv", "spoilt since");
  const std::string to = folder_.path("restored");
  EXPECT_EQ(record({"--restore", "1", "-o", to}).code, 0);
  const std::string differ = "diff -r " + places::sources() + "/examples/clinic " + to;
  EXPECT_EQ(std::system(differ.c_str()), 0);
  const Ran again = record({"--restore", "1", "-o", to}, false);
  EXPECT_EQ(again.code, 4);
  EXPECT_THAT(again.err, HasSubstr("is there already"));
  EXPECT_EQ(record({"--restore", "1"}).code, 2);
  EXPECT_EQ(record({"--restore", "2", "-o", folder_.path("x")}).code, 2);
}

TEST_F(CliRecords, PhotosActionsAndSignOffs) {
  const Ran nothing = record({"--sign-off", "installer", "--statement", "Done.", "--who", "Ada"}, false);
  EXPECT_EQ(nothing.code, 2);
  EXPECT_THAT(nothing.err, HasSubstr("nothing to sign for"));
  const Json photo = recorded({"--photo", folder_.path("photo.jpg"), "--words", "splice", "--place", "R2"});
  EXPECT_EQ(photo.at("attachments").at(0).at("media_type"), "image/jpeg");
  const Json action = recorded({"--action", "flushed"});
  const Json signed_off = recorded({"--sign-off", "installer", "--statement", "Installed and tested."});
  for (const Json& each : {photo, action, signed_off})
    EXPECT_EQ(validate_text(each.dump(), "record-bodies"), "");
  EXPECT_EQ(signed_off.at("body").at("head"), action.at("hash"));
  EXPECT_EQ(signed_off.at("body").at("records"), 2);
}

TEST_F(CliRecords, AnAcceptanceNamesAFindingOfThePlan) {
  const Json plan = Json::parse(firstdraw({"plan", job_, "--json", "--samples", "1"}).out);
  ASSERT_FALSE(plan.at("findings").empty());
  const Json& finding = plan.at("findings").at(0);
  const std::string id = finding.at("id"), place = finding.at("place");
  const Json accepted = recorded({"--accept", id, "--place", place, "--why", "owner agrees"});
  EXPECT_EQ(accepted.at("body").at("finding"), id);
  EXPECT_EQ(validate_text(accepted.dump(), "record-bodies"), "");
  const Ran unknown = record({"--accept", id + "x", "--place", place, "--why", "y", "--who", "A"}, false);
  EXPECT_EQ(unknown.code, 2);
  EXPECT_THAT(unknown.err, HasSubstr("did you mean " + id));
}

TEST_F(CliRecords, ReadingsAreKeptWithTheirVerdicts) {
  write_file(folder_.path("tests.csv"),
             "what,circuit,value,stage,test_voltage\n"
             "insulation-resistance,C01,850 MΩ,insulated,2500 V\n");
  const Json test = recorded({"--readings", folder_.path("tests.csv"), "--instrument", "insulation tester"});
  EXPECT_EQ(test.at("body").at("verdicts").size(), 1U);
  EXPECT_EQ(test.at("attachments").at(0).at("name"), "tests.csv");
  EXPECT_EQ(validate_text(test.dump(), "record-bodies"), "");
  EXPECT_THAT(test.at("about").get<std::string>(), HasSubstr("1 reading: 1 "));
}

TEST_F(CliRecords, TheListMarksWhatWasCorrected) {
  recorded({"--note", "wrong"});
  recorded({"--note", "right", "--correct", "1"});
  const Ran twice = record({"--note", "x", "--correct", "1", "--who", "A"}, false);
  EXPECT_EQ(twice.code, 2);
  EXPECT_THAT(twice.err, HasSubstr("is corrected by record 2 already"));
  EXPECT_THAT(record({"--list"}, false).out, AllOf(HasSubstr("(corrected by 2)"), HasSubstr("(corrects 1)")));
  EXPECT_EQ(Json::parse(record({"--list", "--kind", "photo"}).out).at("records").size(), 0U);
  EXPECT_THAT(record({"--show", "2"}, false).out,
              AllOf(HasSubstr("Takes the place of"), HasSubstr("\"who\":\"Ada")));
  EXPECT_EQ(record({"--show", "3"}).code, 2);
}

TEST_F(CliRecords, EverySlipIsNamedAtOnceAndNothingIsRecorded) {
  const Ran slips =
      record({"--note", "x", "--why", "y", "--at", "yesterday", "--instrument", "a,b,soon"}, false);
  EXPECT_EQ(slips.code, 2);
  EXPECT_THAT(slips.err,
              AllOf(HasSubstr("--why"), HasSubstr("--who"), HasSubstr("--at"), HasSubstr("--instrument")));
  EXPECT_EQ(record({"--who", "A"}, false).code, 2);
  EXPECT_EQ(record({"--note", "x", "--action", "y", "--who", "A"}, false).code, 2);
  EXPECT_FALSE(fs::exists(job_ + "/records.db"));
  const Ran none = record({"--list"}, false);
  EXPECT_EQ(none.code, 3);
  EXPECT_THAT(none.err, HasSubstr("There is no file"));
}

TEST_F(CliRecords, VerifyFindsTheHeadAndTheForgery) {
  const std::string hash = recorded({"--note", "one"}).at("hash");
  const std::string head = recorded({"--note", "two"}).at("hash");
  const auto verify = [&](const std::string& given, bool json) {
    std::vector<std::string> words{"verify", job_};
    if (!given.empty()) words.insert(words.end(), {"--head", given});
    if (json) words.emplace_back("--json");
    return firstdraw(words);
  };
  const Ran whole = verify("", true);
  EXPECT_EQ(whole.code, 0);
  EXPECT_EQ(validate_text(whole.out, "verify"), "");
  EXPECT_EQ(Json::parse(whole.out).at("head_hash"), head);
  EXPECT_EQ(Json::parse(verify(hash, true).out).at("head_found_at"), 1);
  const std::string paper = hash.substr(0, 4) + " " + hash.substr(4, 4) + " " + hash.substr(8, 4);
  EXPECT_THAT(verify(paper, false).out, HasSubstr("record 1; 1 more since"));
  const Ran lost = verify("0123456789ab", false);
  EXPECT_EQ(lost.code, 1);
  EXPECT_THAT(lost.out, HasSubstr("Caution"));
  EXPECT_EQ(verify("0123", false).code, 2);
  const std::string forge = "python3 -c \"import sqlite3; d = sqlite3.connect('" + job_ +
                            "/records.db'); d.execute('DROP TRIGGER records_no_update'); "
                            "d.execute('UPDATE records SET who = 9 WHERE number = 1'); d.commit()\"";
  ASSERT_EQ(std::system(forge.c_str()), 0);
  const Ran forged = verify("", false);
  EXPECT_EQ(forged.code, 1);
  EXPECT_THAT(forged.out, AllOf(HasSubstr("not whole"), HasSubstr("record 1: altered")));
}

TEST_F(CliRecords, TheSameOnACompanysServer) {
  const char* server = std::getenv("FIRSTDRAW_TEST_POSTGRES");
  if (server == nullptr) GTEST_SKIP() << "no PostgreSQL: run under scripts/with-postgres";
  const std::string book = "golden-" + std::to_string(getpid());
  const Setting company{80, {{"FIRSTDRAW_STORE", server}}};
  const Ran noted = firstdraw({"record", job_, "--book", book, "--note", "x", "--who", "Ada"}, company);
  EXPECT_EQ(noted.code, 0) << noted.err;
  EXPECT_THAT(noted.out, HasSubstr("Kept in"));
  EXPECT_EQ(firstdraw({"verify", job_, "--book", book}, company).code, 0);
  const std::string uri = server;
  const std::string password = uri.substr(uri.find(':', 12) + 1, uri.find('@') - uri.find(':', 12) - 1);
  EXPECT_THAT(noted.out + noted.err, Not(HasSubstr(password)));
  EXPECT_FALSE(fs::exists(job_ + "/records.db"));
}

}  // namespace
}  // namespace firstdraw::golden
