// Tampering behind the store's back, as somebody with the database's password could, shows.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/session.hpp"
#include "store/sha256.hpp"
#include "store/test_place.hpp"

namespace firstdraw::store {
namespace {

using ::testing::ElementsAre;

class VerifyOn : public OnBothDatabases {
 protected:
  void SetUp() override {
    OnBothDatabases::SetUp();
    if (IsSkipped()) return;
    store_ = std::make_unique<Store>(place().open());
    for (int i = 0; i < 4; ++i) {
      Draft draft = note("entry");
      draft.attachments = {
          store_->put_file("photo.jpg", "image/jpeg", "picture " + std::to_string(i)).value()};
      head_ = store_->append("job", draft)->hash;
    }
  }
  std::vector<std::string> breaks() const {
    std::vector<std::string> lines;
    const Verification found = store_->verify("job").value();
    for (const auto& each : found.breaks) lines.push_back(std::to_string(each.number) + ": " + each.what);
    return lines;
  }
  std::unique_ptr<Store> store_;
  std::string head_;
};
INSTANTIATE_TEST_SUITE_P(Databases, VerifyOn, both_databases, database_name);

TEST_P(VerifyOn, ABookThatNobodyTouchedIsWhole) {
  const Verification found = store_->verify("job", head_).value();
  EXPECT_TRUE(found.whole());
  EXPECT_EQ(found.records, 4);
  EXPECT_EQ(found.head_hash, head_);
  EXPECT_EQ(found.head_found_at, 4);
  const Verification none = store_->verify("nobody's").value();
  EXPECT_TRUE(none.whole());
  EXPECT_EQ(none.records, 0);
  EXPECT_EQ(none.head_hash, no_hash);
}

TEST_P(VerifyOn, AnAlteredRecordShows) {
  for (const char* change :
       {"body = '{\"text\":\"Entry\"}'", "who = 'Somebody Else'", "at = '2026-11-29T14:05:00-05:00'",
        "stored_at = '2026-01-01T00:00:00.000000Z'", "kind = 'photo'", "kind = 'nonsense'", "corrects = 1",
        "entry = 'x'", "instruments = '[{\"calibration_due\":\"\",\"name\":\"x\",\"serial\":\"\"}]'",
        "attachments = '[]'", "body = '{ \"text\":\"entry\"}'"}) {
    SetUp();
    *place().forger() << "UPDATE records SET " << change << " WHERE number = 3";
    EXPECT_THAT(breaks(), ElementsAre("3: altered")) << change;
  }
}

TEST_P(VerifyOn, AnAlteredRecordWithItsHashMadeToFitBreaksTheChain) {
  Record forged = store_->records("job")->at(1);
  forged.body = R"({"text":"Entry"})";
  *place().forger() << "UPDATE records SET body = '" << forged.body << "', hash = '" << hash_of(forged)
                    << "' WHERE number = 2";
  EXPECT_THAT(breaks(), ElementsAre("3: not chained to the one before"));
}

TEST_P(VerifyOn, ARemovedRecordShows) {
  *place().forger() << "DELETE FROM records WHERE number = 2";
  EXPECT_THAT(breaks(), ElementsAre("2: missing"));
}

TEST_P(VerifyOn, ARemovedRecordWithTheNumbersMovedUpShows) {
  const auto forger = place().forger();
  *forger << "DELETE FROM records WHERE number = 2";
  *forger << "UPDATE records SET number = 2 WHERE number = 3";
  *forger << "UPDATE records SET number = 3 WHERE number = 4";
  EXPECT_THAT(breaks(), ElementsAre("2: not chained to the one before", "2: altered", "3: altered"));
}

TEST_P(VerifyOn, ACutEndShowsOnlyToWhoeverKeptTheHead) {
  *place().forger() << "DELETE FROM records WHERE number = 4";
  const Verification found = store_->verify("job", head_).value();
  EXPECT_TRUE(found.whole());
  EXPECT_EQ(found.records, 3);
  EXPECT_EQ(found.head_found_at, 0);
}

TEST_P(VerifyOn, TwoRecordsExchangedShow) {
  const auto forger = place().forger();
  for (const char* change : {"9 WHERE number = 2", "2 WHERE number = 3", "3 WHERE number = 9"})
    *forger << "UPDATE records SET number = " << change;
  EXPECT_THAT(breaks(), ElementsAre("2: not chained to the one before", "2: altered",
                                    "3: not chained to the one before", "3: altered",
                                    "4: not chained to the one before"));
}

TEST_P(VerifyOn, FilesSwappedOrRemovedShow) {
  const std::string first = sha256_hex("picture 0"), second = sha256_hex("picture 1");
  *place().forger() << "UPDATE files SET content = (SELECT content FROM files WHERE sha256 = '" << second
                    << "') WHERE sha256 = '" << first << "'";
  *place().forger() << "DELETE FROM files WHERE sha256 = '" << sha256_hex("picture 2") << "'";
  EXPECT_THAT(breaks(), ElementsAre("1: file altered: photo.jpg", "3: file missing: photo.jpg"));
  EXPECT_EQ(store_->file(first).error().kind, FailureKind::damaged);
}

}  // namespace
}  // namespace firstdraw::store
