// `firstdraw record` leaves nothing behind when there is nothing to keep.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "cli/test_run.hpp"
#include "places.hpp"
#include "store/store.hpp"

namespace firstdraw::cli {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// A job folder of its own, called "riverside".
class RecordThatFails : public testing::Test {
 protected:
  RecordThatFails() { fs::copy(places::sources() + "/examples/clinic", job(), fs::copy_options::recursive); }
  std::string job() const { return path("riverside"); }
  std::string path(const std::string& name) const { return folder_.path(name); }
  static void write(const std::string& path, const std::string& text) { std::ofstream(path) << text; }

  /// What is said; and nothing was made.
  Ran refused(std::vector<std::string> words) const {
    words.insert(words.begin(), {"record", job(), "--who", "Ada Example"});
    const Ran one = ran(words);
    EXPECT_NE(one.code, 0);
    EXPECT_FALSE(fs::exists(job() + "/records.db")) << one.err;
    return one;
  }
  TestFolder folder_{"firstdraw_record"};
};

TEST_F(RecordThatFails, ReadingsThatCannotBeRead) {
  EXPECT_EQ(refused({"--readings", path("none.csv")}).code, 3);
  write(path("tests.csv"), "what,circuit,value\ninsulation-resistance,C99,lots\n");
  EXPECT_THAT(refused({"--readings", path("tests.csv")}).err, HasSubstr("tests.csv"));
  write(path("tests.csv"), "what,circuit,value\n");
  EXPECT_THAT(refused({"--readings", path("tests.csv")}).err, HasSubstr("no reading"));
}

TEST_F(RecordThatFails, AJobThatCannotBeRead) {
  write(path("tests.csv"), "what,circuit,value\ninsulation-resistance,C01,850 MΩ\n");
  write(job() + "/runs.csv", "spoilt");
  EXPECT_EQ(refused({"--readings", path("tests.csv")}).code, 3);
  EXPECT_EQ(refused({"--accept", "hold-cold", "--why", "owner agrees"}).code, 3);
}

TEST_F(RecordThatFails, AFindingThatThePlanHasNot) {
  EXPECT_EQ(refused({"--accept", "no-such-finding", "--why", "owner agrees"}).code, 2);
}

TEST_F(RecordThatFails, FilesThatCannotBeKept) {
  EXPECT_EQ(refused({"--photo", path("none.jpg"), "--words", "splice"}).code, 3);
  EXPECT_THAT(refused({"--photo", job(), "--words", "splice"}).err, HasSubstr("is not a file"));
  write(path("large.jpg"), "");
  fs::resize_file(path("large.jpg"), (256UL << 20U) + 1);
  EXPECT_THAT(refused({"--photo", path("large.jpg"), "--words", "splice"}).err,
              HasSubstr("256 are the most"));
}

TEST_F(RecordThatFails, WhatTheStoreWouldRefuse) {
  EXPECT_EQ(refused({"--note", "x", "--instrument", std::string(600, 'n')}).code, 2);
  EXPECT_EQ(refused({"--note", "x", "--book", "a\nb"}).code, 2);
}

TEST_F(RecordThatFails, WhatNeedsABookThatIsNotThere) {
  EXPECT_THAT(refused({"--sign-off", "installer", "--statement", "Done."}).err,
              HasSubstr("nothing to sign for"));
  EXPECT_THAT(refused({"--note", "x", "--correct", "1"}).err, HasSubstr("There is no file"));
}

/// The other way round: what is kept makes the store, and a sign-off then finds the head.
TEST_F(RecordThatFails, OrElseItIsKept) {
  const Ran kept = ran({"record", job(), "--who", "Ada Example", "--note", "x"});
  ASSERT_EQ(kept.code, 0) << kept.err;
  const Ran signed_off =
      ran({"record", job(), "--who", "Ada Example", "--sign-off", "installer", "--statement", "Done."});
  ASSERT_EQ(signed_off.code, 0) << signed_off.err;
  const auto records = store::Store::open(job() + "/records.db", false)->records("riverside").value();
  ASSERT_EQ(records.size(), 2U);
  EXPECT_THAT(records[1].body, HasSubstr(records[0].hash));
}

}  // namespace
}  // namespace firstdraw::cli
